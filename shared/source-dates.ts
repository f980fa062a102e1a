// Whether what a limit, a table or a rate is taken from can be dated so: a sheet of a day to come is a slip of the pen.
import type { VibrationLimit } from './acts.ts';
import type { RatesDeclared } from './headroom.ts';
import type { FieldFault } from './problem.ts';
import { instantOf, MILLISECONDS_A_DAY, rfc3339Of, type Instant } from './time.ts';
import type { ZoneTable } from './zones.ts';

/** A day begins up to 14 hours earlier than in UTC where the plant may lie; a whole day is let pass. */
const AHEAD_MAX_MS = MILLISECONDS_A_DAY;

interface Dated {
  readonly pointer: string;
  readonly sourceDate: string | undefined;
}

/** Pointers are into what has `limits` and `zones`. */
export function datedAheadFaults(
  { limits, zones }: { readonly limits: readonly VibrationLimit[]; readonly zones?: ZoneTable | undefined },
  now: Instant,
): FieldFault[] {
  const dates = limits.map(({ sourceDate }, place) => ({ pointer: `/limits/${place}/sourceDate`, sourceDate }));
  return aheadOf(now, [...dates, { pointer: '/zones/sourceDate', sourceDate: zones?.sourceDate }]);
}

/** Of rates: pointers are into them. */
export function ratesAheadFaults(
  { spindleHour, cutterChange, cutters }: Pick<RatesDeclared, 'spindleHour' | 'cutterChange' | 'cutters'>,
  now: Instant,
): FieldFault[] {
  return aheadOf(now, [
    { pointer: '/spindleHour/sourceDate', sourceDate: spindleHour?.sourceDate },
    { pointer: '/cutterChange/sourceDate', sourceDate: cutterChange?.sourceDate },
    ...cutters.map(({ sourceDate }, place) => ({ pointer: `/cutters/${place}/sourceDate`, sourceDate })),
  ]);
}

function aheadOf(now: Instant, dates: readonly Dated[]): FieldFault[] {
  return dates.flatMap(({ pointer, sourceDate }) => {
    if (sourceDate === undefined || instantOf(sourceDate) <= now + AHEAD_MAX_MS) return [];
    return [{ pointer, want: `a day that has been, ${rfc3339Of(now).slice(0, 10)} at the latest`, got: sourceDate }];
  });
}
