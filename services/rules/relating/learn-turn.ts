// What the phases of a load teach: by how much each speed turns the angle, without a key that of the spindle's own unbalance.
import type { Guesses, Level } from './guesses.ts';
import { LEARN_Z_MAX, LEVEL_WANDER_VARIANCE, TURN_UNKNOWN_VARIANCE } from './limits.ts';
import type { ToldLoad } from './told-load.ts';
import { concentrationOf, isDirected } from './vector-law.ts';

/** Arrays of its own for each level that a phase is told of. */
export function beginTurns({ keyed }: Guesses, { speeds, isAngleKnown }: ToldLoad, levels: readonly Level[]): void {
  if (!isAngleKnown) return;
  levels.forEach((level, nth) => {
    if (speeds[nth]?.phaseRad === undefined) return;
    const { mean, variance } = level.turn ?? {};
    const unknown = new Float32Array(keyed.length).fill(TURN_UNKNOWN_VARIANCE);
    level.turn = {
      mean: mean === undefined ? new Float32Array(keyed.length) : mean.slice(),
      variance: variance === undefined ? unknown : variance.slice(),
    };
  });
}

/** The nearest way round, rad. */
const around = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

/**
 * One guess's Kalman filters of the turns, before its levels learn: `ln` is the whole unbalance that it saw. Where nothing is known of a
 * turn an innovation is as large as it is, later it is clipped.
 */
export function learnTurns(
  guesses: Guesses,
  guess: number,
  load: ToldLoad,
  levels: readonly Level[],
  ln: number,
): void {
  if (!isDirected(guesses, guess, load)) return;
  const { angle, variance: wholeVariance } = directionOf(guesses, guess, load, ln);
  for (let nth = 0; nth < levels.length; nth += 1) {
    const [speed, turn] = [load.speeds[nth], levels[nth]?.turn];
    if (speed?.phaseRad === undefined || turn === undefined) continue;
    const [mean, variance] = [turn.mean[guess] ?? 0, turn.variance[guess] ?? 0];
    const isNew = variance >= TURN_UNKNOWN_VARIANCE;
    const innovationVariance = variance + wholeVariance + speed.error;
    const clip = isNew ? Math.PI : LEARN_Z_MAX * Math.sqrt(innovationVariance);
    const innovation = Math.min(Math.max(around(speed.phaseRad - mean - angle), -clip), clip);
    const gain = isNew ? 1 : variance / innovationVariance;
    turn.mean[guess] = around(mean + gain * innovation);
    turn.variance[guess] = Math.min(
      isNew ? wholeVariance + speed.error : (1 - gain) * variance + LEVEL_WANDER_VARIANCE,
      TURN_UNKNOWN_VARIANCE,
    );
  }
}

/** Where the whole unbalance points by a guess, rad, and the variance of that: without a key about the spindle's own, as far as that is the larger. */
function directionOf(
  guesses: Guesses,
  guess: number,
  { residualX, residualY, residualGmm, clampingGmm, errorGmm2 }: ToldLoad,
  ln: number,
): { readonly angle: number; readonly variance: number } {
  const [ownX, ownY] = [guesses.ownX[guess] ?? 0, guesses.ownY[guess] ?? 0];
  const scatter = (clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2 + errorGmm2;
  if (guesses.keyed[guess] !== 1) {
    const variance = (residualGmm * residualGmm + scatter) / (2 * ownX * ownX);
    return { angle: 0, variance: Math.min(variance, TURN_UNKNOWN_VARIANCE) };
  }
  const [x, y] = [residualX + ownX, residualY + ownY];
  const variance = 1 / concentrationOf(ln, x * x + y * y, scatter);
  return { angle: Math.atan2(y, x), variance: Math.min(variance, TURN_UNKNOWN_VARIANCE) };
}
