// What is beside the 1× and the 2×: how far a load's is off what is usual at its speeds, and what that says of a bearing or a sensor.
import type { Guesses, Level } from './guesses.ts';
import { REST_DENSITY_LEAST, REST_KNOWN_LOADS, REST_VARIANCE_LEAST } from './limits.ts';
import type { ToldLoad, ToldSpeed } from './told-load.ts';

/** In ln: how far it is off, and the variance of that. */
export interface RestOff {
  readonly off: number;
  readonly error: number;
}

/** At one speed. What is left of two large figures is as unsure as these: beside a large 1× a small rest says nothing. */
export function restOffAt({ restMean }: Level, { restLn, restMargin }: ToldSpeed): RestOff {
  const share = restMargin / (2 * Math.exp(2 * Math.max(restMean, restLn)));
  return { off: restLn - restMean, error: share * share };
}

/** In the mean of the load's speeds; undefined where nothing is usual yet. */
export function restOff(levels: readonly Level[], { speeds }: ToldLoad): RestOff | undefined {
  let [sum, errors, count] = [0, 0, 0];
  levels.forEach((level, nth) => {
    const speed = speeds[nth];
    if (level.restLoads < REST_KNOWN_LOADS || speed === undefined) return;
    const { off, error } = restOffAt(level, speed);
    sum += off;
    errors += error;
    count += 1;
  });
  return count === 0 ? undefined : { off: sum / count, error: errors / count };
}

/** A normal density of how far it is off, shifted, against one that is not; with a floor, so that no load decides alone. */
export function restRatios(
  { restVariance }: Guesses,
  rest: RestOff | undefined,
): (shift: number, more: number) => number {
  if (rest === undefined) return () => 1;
  const { off, error } = rest;
  const density = (shift: number, more: number): number => {
    const variance = restVariance + REST_VARIANCE_LEAST + more + error;
    return Math.exp(-((off - shift) ** 2) / (2 * variance)) / Math.sqrt(variance) + REST_DENSITY_LEAST;
  };
  const none = density(0, 0);
  return (shift, more) => density(shift, more) / none;
}
