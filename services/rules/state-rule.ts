// Rule (f): silence, a lost connection and an implausible or stuck signal are states of their own: never a hold, and
// nothing is cleared by them.
import type { EntryOf, TickEntry } from '../../shared/entries.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import type { DeviceState, Floor, SpindleState } from './floor.ts';
import { ODD_READINGS, SILENCE_INTERVALS, SILENCE_MIN_MS, SILENCE_UNDECLARED_MS, SOUND_READINGS } from './limits.ts';
import type { Outcomes } from './raising.ts';
import { stuckAfter, type Reading } from './reading.ts';

interface StateWhy {
  readonly state: SubjectState;
  readonly why: string;
}

export function silentAfterMs(sensor: DeviceState | undefined): number {
  return sensor?.intervalMs === undefined
    ? SILENCE_UNDECLARED_MS
    : Math.max(SILENCE_INTERVALS * sensor.intervalMs, SILENCE_MIN_MS);
}

export function tickRule(floor: Floor, entry: TickEntry, outcomes: Outcomes): void {
  for (const spindle of floor.spindles.values()) {
    const { live, state, spindleId } = spindle;
    if (live.lastReadingAt === undefined || state === 'silent' || state === 'offline') continue;
    const quietMs = entry.at - live.lastReadingAt;
    const allowedMs = silentAfterMs(live.sensor === undefined ? undefined : floor.devices.get(live.sensor));
    if (quietMs <= allowedMs) continue;
    change(outcomes, entry.position, spindleId, {
      state: 'silent',
      why: `no reading for more than ${Math.round(allowedMs / 1000)} s`,
    });
  }
}

/** A device told that it is gone, or its will did: what it served has no data any more. */
export function deviceStateRule(floor: Floor, entry: EntryOf<'state'>, outcomes: Outcomes): void {
  const { online, reason } = entry.data;
  for (const spindle of floor.spindles.values()) {
    if (spindle.live.sensor !== entry.device || online || spindle.state === 'offline') continue;
    const why = reason === 'stopped' ? 'its sensor was switched off' : 'its sensor lost the connection';
    change(outcomes, entry.position, spindle.spindleId, { state: 'offline', why });
  }
  const bench = floor.benches.get(entry.device);
  const benchState: SubjectState = online ? 'reporting' : 'offline';
  if (bench === undefined || bench.state === benchState) return;
  const subject = { kind: 'bench', id: entry.device } as const;
  const why = online ? 'connected' : 'not connected';
  outcomes.add({ cause: entry.position, kind: 'state-changed', subject, state: benchState, why });
}

export function readingStateRule(entry: EntryOf<'summary'>, reading: Reading, outcomes: Outcomes): void {
  if (reading.late) return;
  const next = stateAfter(entry, reading);
  if (next !== undefined) change(outcomes, entry.position, reading.spindle.spindleId, next);
}

function stateAfter(entry: EntryOf<'summary'>, { spindle, odd, same }: Reading): StateWhy | undefined {
  const { live, state } = spindle;
  const reported = entry.data.fault !== undefined && entry.data.fault !== 'speed-unsteady';
  if (odd !== undefined && (reported || live.oddInRow + 1 >= ODD_READINGS)) {
    return state === 'implausible' ? undefined : { state: 'implausible', why: odd };
  }
  if (same && live.sameInRow + 1 >= stuckAfter(live)) {
    return state === 'stuck'
      ? undefined
      : { state: 'stuck', why: `the same numbers ${stuckAfter(live)} times in a row` };
  }
  if (state === 'implausible' && (odd !== undefined || live.soundInRow + 1 < SOUND_READINGS)) return undefined;
  if (state === 'stuck' && same) return undefined;
  return state === 'reporting' ? undefined : { state: 'reporting', why: '' };
}

function change(outcomes: Outcomes, cause: number, id: string, { state, why }: StateWhy): void {
  outcomes.add({ cause, kind: 'state-changed', subject: { kind: 'spindle', id }, state, why });
}

/** Counts in a row, for the fold. Changes the live state in place. */
export function foldCounts(
  { spindle: { live } }: { readonly spindle: SpindleState },
  odd: boolean,
  same: boolean,
): void {
  live.oddInRow = odd ? live.oddInRow + 1 : 0;
  live.soundInRow = odd ? 0 : live.soundInRow + 1;
  live.sameInRow = same ? live.sameInRow + 1 : 0;
}
