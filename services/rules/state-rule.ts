// Rule (f): silence and a lost connection are states of their own, beside the signal's: never a hold, and nothing clears by them.
import type { EntryOf, TickEntry } from '../../shared/entries.ts';
import type { Outcome, SubjectState } from '../../shared/outcomes.ts';
import type { DeviceState, Floor } from './floor.ts';
import { SILENCE_INTERVALS, SILENCE_MIN_MS, SILENCE_UNDECLARED_MS } from './limits.ts';

/** How long a sensor may say nothing. */
export function silentAfterMs(sensor: DeviceState | undefined): number {
  if (sensor?.intervalMs === undefined) return SILENCE_UNDECLARED_MS;
  return Math.max(SILENCE_INTERVALS * sensor.intervalMs, SILENCE_MIN_MS);
}

function changed(cause: number, id: string, state: SubjectState, why: string): Outcome {
  return { cause, kind: 'state-changed', subject: { kind: 'spindle', id }, state, why };
}

/** Silence is seen when the clock goes on, in replay as it was live. */
export function tickRule(floor: Floor, { at, position }: TickEntry): readonly Outcome[] {
  const outcomes: Outcome[] = [];
  for (const { live, state, spindleId } of floor.spindles.values()) {
    if (live.lastReadingAt === undefined || live.sensor === undefined) continue;
    if (state === 'silent' || state === 'offline') continue;
    const allowedMs = silentAfterMs(floor.devices.get(live.sensor));
    if (at - live.lastReadingAt <= allowedMs) continue;
    outcomes.push(changed(position, spindleId, 'silent', `no reading for more than ${Math.round(allowedMs / 1000)} s`));
  }
  return outcomes;
}

/** A device said that it goes, or its will did: what it served has no data. Only a reading says that there is data again. */
export function deviceStateRule(floor: Floor, entry: EntryOf<'state'>): readonly Outcome[] {
  const { position, device } = entry;
  const { online, reason } = entry.data;
  const outcomes: Outcome[] = [];
  const why = reason === 'stopped' ? 'its sensor was switched off' : 'its sensor lost the connection';
  for (const { live, state, spindleId } of floor.spindles.values()) {
    if (online || live.sensor !== device || state === 'offline') continue;
    outcomes.push(changed(position, spindleId, 'offline', why));
  }
  const bench = floor.benches.get(device);
  const state: SubjectState = online ? 'reporting' : 'offline';
  if (bench !== undefined && bench.state !== state) {
    const subject = { kind: 'bench', id: device } as const;
    const words = online ? 'connected' : 'not connected';
    outcomes.push({ cause: position, kind: 'state-changed', subject, state, why: words });
  }
  return outcomes;
}
