// Arrivals of an invented plant for the journal's tests: a sensor's readings, a bench's results, what nobody could read.
import type { Draft, Entry } from '../../../shared/entries.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import type { Arrival, Journal, JournalReader, Stretch } from '../../../services/journal/index.ts';

export const MORNING = Date.UTC(2026, 10, 24, 7);
export const BOOT = 'boot-4711';

export function summary(device: string, sequence: number, at = MORNING + sequence * 1000): Arrival {
  const draft: Draft = {
    at,
    kind: 'summary',
    device,
    id: `${device}-${sequence}`,
    time: at - 37,
    bootId: BOOT,
    sequence,
    data: { speedRpm: 12_000, overallMmS: 1.234, synchronousMmS: 0.1 + sequence / 1000, cutting: sequence % 2 === 0 },
  };
  return { draft, repeat: { by: 'sequence', source: deviceSource('demo', device), bootId: BOOT, sequence } };
}

/** A reading of a sensor that sends no sequence. */
export function counted(device: string, id: string, at = MORNING): Arrival {
  const draft: Draft = { at, kind: 'summary', device, id, data: { speedRpm: 0, overallMmS: 0.02 } };
  return { draft, repeat: { by: 'recent-id', source: deviceSource('demo', device), id } };
}

export function load(device: string, id: string, assemblyId = 'A-117', at = MORNING): Arrival {
  const data = { spindleId: 'S-3', action: 'load' as const, assemblyId };
  return {
    draft: { at, kind: 'load', device, id, data },
    repeat: {
      by: 'id',
      source: deviceSource('demo', device),
      id,
      content: Buffer.from(JSON.stringify(data)),
    },
  };
}

export function tick(at: number): Arrival {
  return { draft: { at, kind: 'tick' } };
}

export function unreadable(device: string, text: string, at = MORNING): Arrival {
  const bytes = Buffer.from(text);
  const problem = 'urn:counterpoise:problem:not-json';
  return {
    draft: { at, kind: 'rejected', device, channel: 'result', problem, bytes: bytes.length },
    rejected: {
      topic: `counterpoise/v1/demo/in/${device}/result`,
      problem: { type: problem, title: 'Not JSON', errors: [{ pointer: '', want: 'JSON', got: text }] },
      bytes,
    },
  };
}

export function retried(rejected: number, at = MORNING): Arrival {
  return { draft: { at, kind: 'retried', rejected, actor: { name: 'mara', roles: ['engineer'] } } };
}

export function nothing(): readonly Outcome[] {
  return [];
}

/** Features for every reading and a remark for every load, as rules would. */
export function featured(entries: readonly Entry[]): readonly Outcome[] {
  return entries.flatMap((entry): Outcome[] => {
    const cause = entry.position;
    if (entry.kind === 'summary') {
      const features = { speedBin: 12, loadOrdinal: 3, comparable: true, residualGmm: 0.7, expectedMmS: 0.1 + 0.2 };
      return [{ cause, kind: 'reading-features', features }];
    }
    if (entry.kind !== 'load') return [];
    const subject = { kind: 'spindle', id: entry.data.spindleId } as const;
    return [{ cause, kind: 'remarked', subject, remark: 'loaded – geladen' }];
  });
}

export interface Whole {
  readonly entries: readonly Entry[];
  readonly outcomes: readonly Outcome[];
}

export function append(journal: Journal, ...arrivals: readonly Arrival[]): ReturnType<Journal['append']> {
  return journal.append(arrivals, featured);
}

export async function whole(journal: JournalReader, from = 1, to?: number): Promise<Whole> {
  const stretches: Stretch[] = [];
  for await (const stretch of journal.read(from, to)) stretches.push(stretch);
  return {
    entries: stretches.flatMap(({ entries }) => entries),
    outcomes: stretches.flatMap(({ outcomes }) => outcomes),
  };
}
