// The rolling bearings of a spindle as a person declares them: by geometry or by the maker's multiples of the shaft speed.
import * as z from 'zod';
import { quantity } from './quantity.ts';

export const BEARINGS_PER_SPINDLE_MAX = 8;

const multiple = (what: string): z.ZodNumber =>
  quantity('1', { min: 0.01, max: 100 }, `${what}, as a multiple of the shaft's frequency`);

/** Rolling elements, their diameter, the pitch diameter, the contact angle. */
const Geometry = z
  .object({
    elements: z.int().min(3).max(200),
    elementDiameterMm: quantity('mm', { min: 0.1, max: 1000 }, 'diameter of a rolling element'),
    pitchDiameterMm: quantity('mm', { min: 1, max: 5000 }, 'pitch diameter'),
    contactAngleDeg: quantity('deg', { min: 0, max: 89 }, 'contact angle').default(0),
  })
  .refine((it) => it.elementDiameterMm < it.pitchDiameterMm, {
    path: ['elementDiameterMm'],
    error: 'expected less than pitchDiameterMm',
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
    name: z.string().trim().min(1).max(60).describe('where it sits, e.g. front'),
    source: z.string().trim().min(1).max(200).describe('who says so: the maker’s sheet, a measurement'),
    geometry: Geometry.optional(),
    multiples: Multiples.optional(),
  })
  .refine((it) => (it.geometry === undefined) !== (it.multiples === undefined), {
    path: ['geometry'],
    error: 'expected either geometry or multiples',
  });
export type Bearing = z.infer<typeof Bearing>;
