// The rolling bearings of a spindle as a person declares them: by geometry or by the maker's multiples of the shaft speed.
import * as z from 'zod';
import { BEARING_GEOMETRY, BEARING_NAME_CHARACTERS_MAX } from './bearing-limits.ts';
import { say } from './language/index.ts';
import { quantity } from './quantity.ts';

export { BEARINGS_PER_SPINDLE_MAX } from './bearing-limits.ts';

const multiple = (what: string): z.ZodNumber =>
  quantity('1', { min: 0.01, max: 100 }, `${what}, as a multiple of the shaft's frequency`);

/** Rolling elements, their diameter, the pitch diameter, the contact angle. */
const Geometry = z
  .object({
    elements: z.int().min(BEARING_GEOMETRY.elements.min).max(BEARING_GEOMETRY.elements.max),
    elementDiameterMm: quantity('mm', BEARING_GEOMETRY.elementDiameterMm, 'diameter of a rolling element'),
    pitchDiameterMm: quantity('mm', BEARING_GEOMETRY.pitchDiameterMm, 'pitch diameter'),
    contactAngleDeg: quantity('deg', BEARING_GEOMETRY.contactAngleDeg, 'contact angle').default(0),
  })
  .refine((it) => it.elementDiameterMm < it.pitchDiameterMm, {
    path: ['elementDiameterMm'],
    error: say`expected less than pitchDiameterMm`,
  });
export type BearingGeometry = z.infer<typeof Geometry>;

/** `rolling` is the element's spin; a defect on it strikes both races and speaks at twice that. */
const Multiples = z.object({
  cage: multiple('cage, fundamental train'),
  outer: multiple('outer race'),
  inner: multiple('inner race'),
  rolling: multiple('spin of the rolling element'),
});
export type BearingMultiples = z.infer<typeof Multiples>;

export const Bearing = z
  .object({
    name: z.string().trim().min(1).max(BEARING_NAME_CHARACTERS_MAX).describe('where it sits, e.g. front'),
    source: z.string().trim().min(1).max(200).describe('who says so: the maker’s sheet, a measurement'),
    geometry: Geometry.optional(),
    multiples: Multiples.optional(),
  })
  .refine((it) => (it.geometry === undefined) !== (it.multiples === undefined), {
    path: ['geometry'],
    error: say`expected either geometry or multiples`,
  });
export type Bearing = z.infer<typeof Bearing>;
