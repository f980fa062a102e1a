// A table of vibration zones that a person chose for a spindle: boundaries with who says so. Never a limit of the maker.
import * as z from 'zod';
import { say } from './language/index.ts';
import { VelocityMmS } from './quantity.ts';
import { Rfc3339 } from './time-schema.ts';

export const ZONES = ['A', 'B', 'C', 'D'] as const;
export type Zone = (typeof ZONES)[number];

/** Boundaries of overall velocity, RMS. */
export const ZoneTable = z
  .object({
    abMmS: VelocityMmS,
    bcMmS: VelocityMmS,
    cdMmS: VelocityMmS,
    source: z.string().trim().min(1).max(200),
    sourceDate: Rfc3339.optional(),
    /** A general table of machines taken as a starting point: said wherever it is used. */
    generic: z.boolean(),
  })
  .refine((it) => it.abMmS < it.bcMmS && it.bcMmS < it.cdMmS, {
    path: ['bcMmS'],
    error: say`expected abMmS less than bcMmS less than cdMmS`,
  });
export type ZoneTable = z.infer<typeof ZoneTable>;
