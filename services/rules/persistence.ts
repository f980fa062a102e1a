// Counts how long a limit is exceeded, so that one knock raises nothing and a value that hovers on a limit raises once.
import type { LimitQuantity } from '../../shared/acts.ts';
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { LimitWatch } from './floor.ts';
import { EVIDENCE_POSITIONS_MAX, ON_LIMIT_SHARE } from './limits.ts';
import type { Tuned } from './settings.ts';

export interface Judged {
  readonly value: number;
  readonly limit: number;
  readonly at: Instant;
  readonly position: Position;
}

export function newWatch(): LimitWatch {
  return { count: 0, firstAt: 0, lastAt: 0, fired: false, positions: [] };
}

/** Whether this reading makes the stay above the limit long enough, for the first time. */
export function persistsWith(watch: LimitWatch, { value, limit, at }: Judged, tuned: Tuned): boolean {
  if (watch.fired || !isOver(value, limit)) return false;
  // Of a stay that begins with this reading the first is itself.
  const begins = watch.count === 0 || isBroken(watch, at, tuned);
  const counted = begins ? 1 : watch.count + 1;
  return counted >= tuned.persistenceReadings && at - (begins ? at : watch.firstAt) >= tuned.persistenceMs;
}

const isOver = (value: number, limit: number): boolean => value > limit * (1 + ON_LIMIT_SHARE);

/** Whether a watch counts nothing and this value gives it nothing to count: by far most readings, which then cost no look-up. */
export function isAtRest({ count: counted, fired }: LimitWatch, value: number, limit: number): boolean {
  return counted === 0 && !fired && !isOver(value, limit);
}

function isBroken(watch: LimitWatch, at: Instant, { pauseMaxMs }: Tuned): boolean {
  return watch.count > 0 && at - watch.lastAt > pauseMaxMs;
}

/** Takes a reading in; `persistsWith` is asked before. Between the share that clears and the limit nothing is counted and nothing cleared. */
export function count(watch: LimitWatch, judged: Judged, tuned: Tuned): void {
  const { value, limit, at, position } = judged;
  if (value < limit * tuned.clearShare) return clear(watch);
  if (!isOver(value, limit)) return;
  if (persistsWith(watch, judged, tuned)) watch.fired = true;
  if (isBroken(watch, at, tuned)) watch.count = 0;
  if (watch.count === 0) {
    watch.firstAt = at;
    watch.positions = [];
  }
  watch.count += 1;
  // A reading that was kept waiting may be older than the one before; the stay does not shrink by it.
  watch.lastAt = Math.max(watch.lastAt, at);
  if (watch.positions.length === EVIDENCE_POSITIONS_MAX) watch.positions.splice(EVIDENCE_POSITIONS_MAX / 2, 1);
  watch.positions.push(position);
}

export function clear(watch: LimitWatch): void {
  watch.count = 0;
  watch.fired = false;
}

/** What is judged against a limit of this quantity. */
export function quantityOf(
  quantity: LimitQuantity,
  reading: { readonly overallMmS: number; readonly synchronousMmS?: number | undefined },
): number | undefined {
  return quantity === 'overall' ? reading.overallMmS : reading.synchronousMmS;
}
