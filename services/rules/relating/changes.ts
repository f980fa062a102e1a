// What is tried as having changed: each size at each angle, the angles of one size together.
import { ASSEMBLY_SIZES, CHANGE_ANGLES, MISREAD_DEVIATIONS, SENSOR_SIZES, SPINDLE_SIZES } from './limits.ts';

export const ASSEMBLY_CHANGES = ASSEMBLY_SIZES.length * CHANGE_ANGLES;
export const SPINDLE_CHANGES = SPINDLE_SIZES.length * CHANGE_ANGLES;
/** Its place among the changes of a sensor, after the sizes: that it tells something else altogether. */
export const OTHER_SENSOR = SENSOR_SIZES.length;
export const SENSOR_CHANGES = OTHER_SENSOR + 1;
export const ANGLE_COSINES = Float64Array.from({ length: CHANGE_ANGLES }, (_, nth) =>
  Math.cos((2 * Math.PI * nth) / CHANGE_ANGLES),
);
export const ANGLE_SINES = Float64Array.from({ length: CHANGE_ANGLES }, (_, nth) =>
  Math.sin((2 * Math.PI * nth) / CHANGE_ANGLES),
);
/**
 * Vectors that a bench may not have read, along the residual and across it, in standard deviations of its readings: each amount at each
 * angle, as likely as the other. Odds against none.
 */
export const MISREADINGS = MISREAD_DEVIATIONS.flatMap(({ deviations, odds }) =>
  Array.from({ length: CHANGE_ANGLES }, (_, nth) => ({
    along: deviations * (ANGLE_COSINES[nth] ?? 1),
    across: deviations * (ANGLE_SINES[nth] ?? 0),
    odds: odds / CHANGE_ANGLES,
  })),
);
/** Where no angle is known what lies as far to the one side says the same as to the other: the place of its mirror image. */
export const MIRRORED = MISREADINGS.map((_, place) => {
  const nth = place % CHANGE_ANGLES;
  return place - nth + ((CHANGE_ANGLES - nth) % CHANGE_ANGLES);
});
