// Rule (f): silence and a lost connection are states of their own, beside the signal's: never a hold, and nothing clears by them.
import type { EntryOf, TickEntry } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome, SubjectState } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import { instantWords, spanWords } from '../../shared/wording.ts';
import type { DeviceState, Floor, SpindleState } from './floor.ts';
import { LATE_MS, LATE_READINGS, SILENCE_INTERVALS, SILENCE_MIN_MS, SILENCE_UNDECLARED_MS } from './limits.ts';
import type { StateOf } from './signal.ts';

/** How long a sensor may say nothing. */
export function silentAfterMs(sensor: DeviceState | undefined): number {
  if (sensor?.intervalMs === undefined) return SILENCE_UNDECLARED_MS;
  return Math.max(SILENCE_INTERVALS * sensor.intervalMs, SILENCE_MIN_MS);
}

function changed(cause: number, id: string, state: SubjectState, why: string): Outcome {
  return { cause, kind: 'state-changed', subject: { kind: 'spindle', id }, state, why };
}

/** Silence, and readings that bear old times, are seen when the clock goes on, in replay as it was live. */
export function tickRule(floor: Floor, { at, position }: TickEntry): readonly Outcome[] {
  const outcomes: Outcome[] = [];
  for (const spindle of floor.spindles.values()) {
    const { sensor } = spindle.live;
    if (sensor === undefined) continue;
    const found = withoutReadings(spindle, silentAfterMs(floor.devices.get(sensor)), at);
    if (found !== undefined) outcomes.push(changed(position, spindle.spindleId, found.state, found.why));
  }
  return outcomes;
}

/** The state of a spindle of which no reading of now has come for too long; undefined where it stays as it is. */
function withoutReadings({ live, state }: SpindleState, allowedMs: number, at: Instant): StateOf | undefined {
  const { lastReadingAt, lastLateAt, lateInRow } = live;
  const isRecent = (instant: Instant | undefined): boolean => instant !== undefined && at - instant <= allowedMs;
  if (isRecent(lastReadingAt)) return undefined;
  if (isRecent(lastLateAt) && state !== 'mistimed' && lateInRow >= LATE_READINGS) {
    const why = say`its readings tell times more than ${spanWords(LATE_MS)} old: is the clock of its sensor set?`;
    return { state: 'mistimed', why };
  }
  const heardAt = Math.max(lastReadingAt ?? -Infinity, lastLateAt ?? -Infinity);
  if (state === 'silent' || state === 'offline' || isRecent(heardAt) || heardAt === -Infinity) return undefined;
  return { state: 'silent', why: say`no reading heard from its sensor since ${instantWords(heardAt)}` };
}

/** A device said that it goes, or its will did: what it served has no data. Only a reading says that there is data again. */
export function deviceStateRule(floor: Floor, entry: EntryOf<'state'>): readonly Outcome[] {
  const { position, device } = entry;
  const { online, reason } = entry.data;
  const outcomes: Outcome[] = [];
  const why = reason === 'stopped' ? say`its sensor was switched off` : say`its sensor lost the connection`;
  for (const { live, state, spindleId } of floor.spindles.values()) {
    if (online || live.sensor !== device || state === 'offline') continue;
    outcomes.push(changed(position, spindleId, 'offline', why));
  }
  const bench = floor.benches.get(device);
  const state: SubjectState = online ? 'reporting' : 'offline';
  if (bench !== undefined && bench.state !== state) {
    const subject = { kind: 'bench', id: device } as const;
    const words = online ? say`connected` : say`not connected`;
    outcomes.push({ cause: position, kind: 'state-changed', subject, state, why: words });
  }
  return outcomes;
}
