// The device's lane: what came, gaps in its sequence, how far its clock is off. Changed in place for every message.
import type { DeviceEntry, EntryOf, RejectedEntry } from '../../shared/entries.ts';
import { MADE_OF_WAVE } from '../../shared/recording.ts';
import { emptyEnvelope, withSample } from '../../shared/statistics/index.ts';
import { isLate, isPlausibleTime, isSetBack, jumpWith } from './clock.ts';
import type { DeviceState, Floor } from './floor.ts';
import { CLOCK_WINDOW_MS } from './limits.ts';

export function laneOf(floor: Floor, device: string): DeviceState {
  const known = floor.devices.get(device);
  if (known !== undefined) return known;
  const lane: DeviceState = {
    device,
    kind: undefined,
    connected: false,
    serves: [],
    intervalMs: undefined,
    calibratedUntil: undefined,
    lastAt: undefined,
    lastInTimeAt: undefined,
    away: undefined,
    messages: 0,
    rejected: 0,
    late: 0,
    sequenceGaps: 0,
    bootId: undefined,
    lastSequence: undefined,
    clock: emptyEnvelope(),
    clockOdd: false,
    jump: undefined,
    unplaced: false,
    firstChannel: undefined,
    ownSummaryAt: undefined,
  };
  floor.devices.set(device, lane);
  return lane;
}

/** Counts the message and measures the clock; births and states are folded by their own functions. */
export function foldLane(lane: DeviceState, entry: DeviceEntry): void {
  lane.messages += 1;
  lane.lastAt = entry.at;
  if (entry.kind === 'birth') lane.away = { from: lane.lastInTimeAt ?? 0, to: entry.at };
  if (entry.kind === 'wave') lane.firstChannel ??= entry.data.channel;
  else if (entry.kind === 'summary' && !isMadeHere(entry)) lane.ownSummaryAt = entry.at;
  if (entry.sequence !== undefined) foldSequence(lane, entry.bootId, entry.sequence);
  if (entry.time !== undefined) {
    if (!isLate(entry.at, entry.time, lane)) lane.lastInTimeAt = entry.at;
    else if (entry.kind === 'summary') lane.late += 1;
    foldClock(lane, entry.at, entry.time);
  }
}

/** Made of a raw window by the service itself: these have no boot, and an id that says so. */
const isMadeHere = ({ bootId, id }: EntryOf<'summary'>): boolean => bootId === undefined && id.startsWith(MADE_OF_WAVE);

function foldSequence(lane: DeviceState, bootId: string | undefined, sequence: number): void {
  const last = lane.lastSequence;
  if (lane.bootId !== bootId || last === undefined) {
    lane.bootId = bootId;
    lane.lastSequence = sequence;
    return;
  }
  if (sequence > last) {
    lane.sequenceGaps += sequence - last - 1;
    lane.lastSequence = sequence;
  } else if (lane.sequenceGaps > 0) {
    // What was missing came after all.
    lane.sequenceGaps -= 1;
  }
}

/** What of a lane tells how far its device's clock is off. */
export type ClockLane = Pick<DeviceState, 'clock' | 'clockOdd' | 'jump'>;

export const newClockLane = (): ClockLane => ({ clock: emptyEnvelope(), clockOdd: false, jump: undefined });

export function foldClock(lane: ClockLane, at: number, time: number): void {
  lane.clockOdd = !isPlausibleTime(time, at);
  if (lane.clockOdd) return;
  const sample = at - time;
  const jump = jumpWith(lane, at, sample);
  lane.jump = jump;
  if (jump !== undefined && isSetBack(jump, at)) {
    lane.clock = emptyEnvelope();
    lane.jump = undefined;
  }
  lane.clock = withSample(lane.clock, at, sample, CLOCK_WINDOW_MS);
}

/** A start of the device: its clock is measured anew, for this message was not kept waiting. */
export function foldBirth(floor: Floor, entry: EntryOf<'birth'>): void {
  const lane = laneOf(floor, entry.device);
  const { kind, serves, intervalS, calibratedUntil } = entry.data;
  lane.kind = kind;
  lane.serves = serves ?? lane.serves;
  lane.intervalMs = intervalS === undefined ? undefined : intervalS * 1000;
  lane.calibratedUntil = calibratedUntil;
  lane.connected = true;
  lane.unplaced = false;
  lane.clock = emptyEnvelope();
  lane.jump = undefined;
  if (entry.time !== undefined) foldClock(lane, entry.at, entry.time);
}

export function foldDeviceState(floor: Floor, entry: EntryOf<'state'>): void {
  laneOf(floor, entry.device).connected = entry.data.online;
}

export function foldRejected(floor: Floor, entry: RejectedEntry): void {
  const lane = laneOf(floor, entry.device);
  lane.rejected += 1;
  lane.lastAt = entry.at;
}
