// Whether what a limit or a table is taken from can be dated so: a sheet of a day to come is a slip of the pen.
import type { VibrationLimit } from './acts.ts';
import type { FieldFault } from './problem.ts';
import { instantOf, MILLISECONDS_A_DAY, rfc3339Of, type Instant } from './time.ts';
import type { ZoneTable } from './zones.ts';

/** A day begins up to 14 hours earlier than in UTC where the plant may lie; a whole day is let pass. */
const AHEAD_MAX_MS = MILLISECONDS_A_DAY;

/** Pointers are into what has `limits` and `zones`. */
export function datedAheadFaults(
  { limits, zones }: { readonly limits: readonly VibrationLimit[]; readonly zones?: ZoneTable | undefined },
  now: Instant,
): FieldFault[] {
  const dates = limits.map(({ sourceDate }, place) => ({ pointer: `/limits/${place}/sourceDate`, sourceDate }));
  return [...dates, { pointer: '/zones/sourceDate', sourceDate: zones?.sourceDate }].flatMap(
    ({ pointer, sourceDate }) => {
      if (sourceDate === undefined || instantOf(sourceDate) <= now + AHEAD_MAX_MS) return [];
      return [{ pointer, want: `a day that has been, ${rfc3339Of(now).slice(0, 10)} at the latest`, got: sourceDate }];
    },
  );
}
