// A sensor that tells something else altogether, as one that sits on another spindle: its speed, its 1× and what is beside it.
import { OTHER_SENSOR } from './changes.ts';
import type { Guesses } from './guesses.ts';
import {
  OTHER_CONTRADICTS_SHARE,
  REST_SENSOR_VARIANCE,
  SENSOR_OTHER_REST_VARIANCE,
  SENSOR_OTHER_VARIANCE,
  SENSOR_SIZES,
  SPEED_CONTRADICTS_PRIOR_LOADS,
  SPEED_CONTRADICTS_USUAL,
} from './limits.ts';
import type { restRatios } from './rest.ts';
import type { ToldLoad } from './told-load.ts';

/** Density of a load that lies so far above what is expected, in ln, with the variance of its error; less the factor 1/√(2π). */
export function otherDensity(above: number, error: number): number {
  const variance = SENSOR_OTHER_VARIANCE + error;
  return Math.exp(-(above * above) / (2 * variance)) / Math.sqrt(variance);
}

/** By change of a sensor, what is beside its 1×: that changes with it, or is anything as well and the speed another one. */
export function sensorBeside(
  { speedHeld: { loads, contradicted } }: Guesses,
  { speedHeld }: ToldLoad,
  restRatio: ReturnType<typeof restRatios>,
): (nth: number) => number {
  const usual =
    (contradicted + SPEED_CONTRADICTS_USUAL * SPEED_CONTRADICTS_PRIOR_LOADS) / (loads + SPEED_CONTRADICTS_PRIOR_LOADS);
  const bySpeed = { agrees: (1 - OTHER_CONTRADICTS_SHARE) / (1 - usual), contradicts: OTHER_CONTRADICTS_SHARE / usual };
  const speedRatio = speedHeld === undefined ? 1 : bySpeed[speedHeld];
  return (nth) =>
    nth < OTHER_SENSOR
      ? restRatio(SENSOR_SIZES[nth] ?? 0, REST_SENSOR_VARIANCE)
      : restRatio(0, SENSOR_OTHER_REST_VARIANCE) * speedRatio;
}
