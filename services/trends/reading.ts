// What a journalled summary says to the trends: whose it is, when it was measured, each quantity it has, comparable or why not.
import type { EntryOf } from '../../shared/entries.ts';
import type { NotComparableReason, ReadingFeatures } from '../../shared/outcomes.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, type Instant } from '../../shared/time.ts';
import { SERIES_QUANTITIES, type SeriesQuantity } from '../../shared/series-quantities.ts';

export interface Reading {
  readonly spindleId: string;
  readonly at: Instant;
  /** By place in the list of quantities; undefined where the reading says nothing of it. */
  readonly values: readonly (number | undefined)[];
  readonly notComparable: NotComparableReason | undefined;
}

const AHEAD_MS = 2000;
const BEHIND_MS = 10 * MILLISECONDS_A_MINUTE;
/** Older than this is a clock that was never set. */
const LATE_MAX_MS = 400 * MILLISECONDS_A_DAY;

export function readingOf(entry: EntryOf<'summary'>, features: ReadingFeatures | undefined): Reading | undefined {
  const { spindleId } = entry.data;
  if (spindleId === undefined) return undefined;
  return {
    spindleId,
    at: measuredAt(entry, features?.notComparable === 'late'),
    values: SERIES_QUANTITIES.map((quantity) => valueOf(quantity, entry, features)),
    notComparable: features === undefined || features.comparable ? undefined : features.notComparable,
  };
}

/** The device's time where it is believable: about now, or what the rules themselves took for a late message. */
export function measuredAt({ at, time }: { at: Instant; time?: Instant }, late: boolean): Instant {
  if (time === undefined || time > at + AHEAD_MS) return at;
  return at - time <= (late ? LATE_MAX_MS : BEHIND_MS) ? time : at;
}

function valueOf(
  quantity: SeriesQuantity,
  { data }: EntryOf<'summary'>,
  features: ReadingFeatures | undefined,
): number | undefined {
  switch (quantity) {
    case 'overallMmS':
      return data.overallMmS;
    case 'synchronousMmS':
      return data.synchronousMmS;
    case 'speedRpm':
      return data.speedRpm;
    case 'ratio': {
      const expected = features?.comparable === true ? (features.expectedMmS ?? 0) : 0;
      return expected > 0 && data.synchronousMmS !== undefined ? data.synchronousMmS / expected : undefined;
    }
  }
}
