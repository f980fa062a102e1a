// What is thought of a spindle after something was done to it.
import { newGuesses, type Guesses } from './guesses.ts';
import { ANEW_LEVEL_VARIANCE, AS_BEFORE_SHARE, TURN_UNKNOWN_VARIANCE } from './limits.ts';

/**
 * After work on a spindle, or a word that it may be so: mostly it is as before; else its guesses begin anew, and its levels are
 * known no better than roughly. The next loads tell.
 */
export function guessedAnew(before: Guesses): Guesses {
  const fresh = newGuesses(before.prior);
  const { length } = before.weight;
  const count = length + fresh.weight.length;
  const joined = (old: Float32Array, anew: (nth: number) => number): Float32Array =>
    Float32Array.from({ length: count }, (_, guess) => (guess < length ? (old[guess] ?? 0) : anew(guess - length)));
  const levels = before.levels.map((level) => {
    let [mean, square] = [0, 0];
    before.weight.forEach((one, guess) => {
      const value = level.mean[guess] ?? 0;
      mean += one * value;
      square += one * value * value;
    });
    const variance = Math.max(square - mean * mean, 0) + ANEW_LEVEL_VARIANCE;
    const { turn } = level;
    return {
      ...level,
      mean: joined(level.mean, () => mean),
      variance: joined(level.variance, () => variance),
      turn: turn && {
        mean: joined(turn.mean, () => 0),
        variance: joined(turn.variance, () => TURN_UNKNOWN_VARIANCE),
      },
    };
  });
  const { roughSum, roughCount, restVariance, speedHeld, random } = before;
  return {
    ...fresh,
    keyed: Uint8Array.from({ length: count }, (_, guess) =>
      guess < length ? (before.keyed[guess] ?? 0) : (fresh.keyed[guess - length] ?? 0),
    ),
    ownX: joined(before.ownX, (nth) => fresh.ownX[nth] ?? 0),
    ownY: joined(before.ownY, (nth) => fresh.ownY[nth] ?? 0),
    clamping: joined(before.clamping, (nth) => fresh.clamping[nth] ?? 0),
    weight: Float64Array.from({ length: count }, (_, guess) =>
      guess < length
        ? AS_BEFORE_SHARE * (before.weight[guess] ?? 0)
        : (1 - AS_BEFORE_SHARE) * (fresh.weight[guess - length] ?? 0),
    ),
    levels,
    roughSum,
    roughCount,
    restVariance,
    speedHeld,
    random,
  };
}
