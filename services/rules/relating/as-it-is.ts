// How probable a load is with nothing changed, by one guess.
import type { Guesses } from './guesses.ts';
import type { ToldLoad } from './told-load.ts';
import { knownVector, unknownAngle, type Seen } from './vector-law.ts';

/** Its density (vector-law.ts), and its mean square, (g·mm)². */
export function asItIs(
  guesses: Guesses,
  guess: number,
  { residualX, residualY, residualGmm, isAngleKnown, clampingGmm, errorGmm2 }: ToldLoad,
  seen: Seen,
): { readonly density: number; readonly square: number } {
  const [x, y] = [guesses.ownX[guess] ?? 0, guesses.ownY[guess] ?? 0];
  const scatter = (clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2 + errorGmm2;
  if (isAngleKnown && guesses.keyed[guess] === 1) {
    const [wholeX, wholeY] = [residualX + x, residualY + y];
    const square = wholeX * wholeX + wholeY * wholeY + scatter;
    return { density: knownVector(seen, wholeX, wholeY, scatter), square };
  }
  const own = Math.hypot(x, y);
  const square = residualGmm * residualGmm + own * own + scatter;
  return { density: unknownAngle(seen, own, residualGmm, scatter), square };
}
