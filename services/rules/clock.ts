// When a message happened: the device's time corrected by its measured offset, whether it is late, what came before what.
import type { DeviceEntry } from '../../shared/entries.ts';
import { lowest } from '../../shared/statistics/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { DeviceState, Stamp } from './floor.ts';
import { CLOCK_PLAUSIBLE_MS, LATE_MS } from './limits.ts';

/** Whether a device's time can be used at all: 1970 and 2106 are clocks that nobody set. */
export function isPlausibleTime(time: Instant, at: Instant): boolean {
  return Math.abs(at - time) <= CLOCK_PLAUSIBLE_MS;
}

/**
 * The device's time on our clock, never after its arrival; the arrival itself where the time is absent or implausible.
 * Without an earlier message the offset is unknown and the arrival is the best there is.
 */
export function measuredAtOf(at: Instant, time: Instant | undefined, lane: DeviceState | undefined): Instant {
  if (time === undefined || lane === undefined || !isPlausibleTime(time, at)) return at;
  const offset = lowest(lane.clock);
  return offset === undefined ? at : Math.min(at, time + offset);
}

export function isLate(at: Instant, time: Instant | undefined, lane: DeviceState | undefined): boolean {
  return at - measuredAtOf(at, time, lane) > LATE_MS;
}

export function stampOf(entry: DeviceEntry, lane: DeviceState | undefined): Stamp {
  const plausible = entry.time !== undefined && isPlausibleTime(entry.time, entry.at);
  return {
    device: entry.device,
    measuredAt: measuredAtOf(entry.at, entry.time, lane),
    time: plausible ? entry.time : undefined,
    bootId: entry.bootId,
    sequence: entry.sequence,
  };
}

/**
 * Whether what arrived later happened earlier. One device's own order decides where it tells one: its sequence, else its
 * clock. Between devices only a difference beyond the allowed lateness is trusted; else the order of arrival stands.
 */
export function happenedBefore(arrived: Stamp, known: Stamp): boolean {
  if (arrived.device === known.device) {
    if (arrived.bootId !== undefined && arrived.bootId === known.bootId) {
      if (arrived.sequence !== undefined && known.sequence !== undefined) return arrived.sequence < known.sequence;
    }
    // Both the raw and the corrected time must say so: the one survives a change of the offset, the other a clock set back.
    if (arrived.time === undefined || known.time === undefined) return false;
    return arrived.time < known.time && arrived.measuredAt < known.measuredAt;
  }
  return arrived.measuredAt + LATE_MS < known.measuredAt;
}

/** Puts an item where it belongs by what happened, the list being oldest first. */
export function insertedByStamp<T extends { readonly stamp: Stamp }>(list: readonly T[], item: T): readonly T[] {
  let index = list.length;
  while (index > 0) {
    const before = list[index - 1];
    if (before === undefined || !happenedBefore(item.stamp, before.stamp)) break;
    index -= 1;
  }
  return [...list.slice(0, index), item, ...list.slice(index)];
}
