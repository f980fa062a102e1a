// When a message happened: the device's time corrected by its measured offset, whether it is late, what came before what.
import type { DeviceEntry } from '../../shared/entries.ts';
import { lowest } from '../../shared/statistics/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { ClockJump, DeviceState, Stamp } from './floor.ts';
import { CLOCK_JUMP_AGREE_MS, CLOCK_JUMP_MS, CLOCK_JUMP_TIMES, CLOCK_PLAUSIBLE_MS, LATE_MS } from './limits.ts';

/** Whether a device's time can be used at all: 1970 and 2106 are clocks that nobody set. */
export function isPlausibleTime(time: Instant, at: Instant): boolean {
  return Math.abs(at - time) <= CLOCK_PLAUSIBLE_MS;
}

/**
 * The device's time on our clock, never after its arrival; the arrival itself where the time is absent or implausible.
 * Without an earlier message the offset is unknown and the arrival is the best there is.
 */
export function measuredAtOf(
  at: Instant,
  time: Instant | undefined,
  lane: Pick<DeviceState, 'clock'> | undefined,
): Instant {
  if (time === undefined || lane === undefined || !isPlausibleTime(time, at)) return at;
  const offset = lowest(lane.clock);
  return offset === undefined ? at : Math.min(at, time + offset);
}

export function isLate(at: Instant, time: Instant | undefined, lane: DeviceState | undefined): boolean {
  return at - measuredAtOf(at, time, lane) > LATE_MS;
}

/** The jump on trial after one more sample of arrival less device time; undefined where the sample fits the clock as it was. */
export function jumpWith(
  lane: Pick<DeviceState, 'clock' | 'jump'>,
  at: Instant,
  sample: number,
): ClockJump | undefined {
  const least = lowest(lane.clock);
  if (least === undefined || sample - least <= LATE_MS) return undefined;
  const { jump } = lane;
  if (jump === undefined || Math.abs(sample - jump.sample) > CLOCK_JUMP_AGREE_MS)
    return { sample, since: at, times: 1 };
  return { ...jump, times: jump.times + 1 };
}

/** A spool being emptied catches up; a clock that was set back stays behind by the same. */
export function isSetBack({ times, since }: ClockJump, at: Instant): boolean {
  return times >= CLOCK_JUMP_TIMES && at - since >= CLOCK_JUMP_MS;
}

/** By how much a device's clock was set back, told with the message that makes it certain; undefined with all others. */
export function setBackBy(lane: DeviceState | undefined, at: Instant, time: Instant): number | undefined {
  if (lane === undefined || !isPlausibleTime(time, at)) return undefined;
  const sample = at - time;
  const jump = jumpWith(lane, at, sample);
  return jump !== undefined && isSetBack(jump, at) ? sample - (lowest(lane.clock) ?? 0) : undefined;
}

export function stampOf(entry: DeviceEntry, lane: DeviceState | undefined): Stamp {
  const plausible = entry.time !== undefined && isPlausibleTime(entry.time, entry.at);
  const measuredAt = measuredAtOf(entry.at, entry.time, lane);
  return {
    device: entry.device,
    measuredAt,
    waited: mayHaveWaited(lane, measuredAt),
    time: plausible ? entry.time : undefined,
    bootId: entry.bootId,
    sequence: entry.sequence,
  };
}

/** Whether a device was not heard in time since then, or was away at that instant before its last start. */
function mayHaveWaited(lane: DeviceState | undefined, measuredAt: Instant): boolean {
  if (lane?.lastInTimeAt === undefined || measuredAt >= lane.lastInTimeAt) return true;
  return lane.away !== undefined && measuredAt >= lane.away.from && measuredAt <= lane.away.to;
}

/** `doubtful`: only a clock says that what arrived later happened earlier, and clocks are set back. */
export type Order = 'before' | 'after' | 'doubtful';

/**
 * Whether what arrived happened before what is known. Of one device only the sequence within one start proves it. Between
 * devices a difference beyond the allowed lateness does, if the one that comes late was cut off since: a device that was
 * heard in time meanwhile had no reason to keep it. All else is the order of arrival.
 */
export function orderOf(arrived: Stamp, known: Stamp): Order {
  if (arrived.device !== known.device) {
    if (arrived.measuredAt + LATE_MS >= known.measuredAt) return 'after';
    return arrived.waited ? 'before' : 'doubtful';
  }
  if (isNumberedBefore(arrived, known)) return 'before';
  if (isNumberedBefore(known, arrived)) return 'after';
  // Both the raw and the corrected time must say so: the one survives a change of the offset, the other a clock set back.
  if (arrived.time === undefined || known.time === undefined) return 'after';
  return arrived.time < known.time && arrived.measuredAt < known.measuredAt ? 'doubtful' : 'after';
}

/** Whether one device, since one start, gave it a lower number. */
export function isNumberedBefore(one: Stamp, other: Stamp): boolean {
  if (one.device !== other.device || one.bootId === undefined || one.bootId !== other.bootId) return false;
  return one.sequence !== undefined && other.sequence !== undefined && one.sequence < other.sequence;
}

/** Whether what arrived later certainly happened earlier. */
export function happenedBefore(arrived: Stamp, known: Stamp): boolean {
  return orderOf(arrived, known) === 'before';
}
