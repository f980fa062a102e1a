// What is declared of all spindles at once: their limits, tables of zones and maxima, with who says so and who entered it.
import * as z from 'zod';
import { LimitView } from './views.ts';
import { ZoneTable } from './zones.ts';

const At = z.number().meta({ description: 'ms UTC' });

export const DeclaredRow = z.object({
  spindleId: z.string(),
  machine: z.string().optional(),
  cell: z.string().optional(),
  interface: z.string().optional(),
  /** The machine maker's; it governs whatever else is declared. */
  maxSpeedRpm: z.number().optional(),
  limits: z.array(LimitView),
  zones: ZoneTable.and(z.object({ enteredBy: z.string().optional() })).optional(),
  /** Of the last declaration; each limit and the table say who entered them. Absent where nobody declared the spindle. */
  declaredBy: z.string().optional(),
  declaredAt: At.optional(),
  /** The sensor whose readings count, and when the last one was heard. */
  sensor: z.string().optional(),
  lastReadingAt: At.optional(),
});
export type DeclaredRow = z.infer<typeof DeclaredRow>;

export const DeclaredLimits = z.object({ now: At, spindles: z.array(DeclaredRow) });
export type DeclaredLimits = z.infer<typeof DeclaredLimits>;
