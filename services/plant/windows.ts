// Raw windows on their way through the plant: what is to be analysed of a commit, and what the analysis gave.
import type { Draft, EntryOf, Position, WaveKept } from '../../shared/entries.ts';
import { deviceTimeOf } from '../../shared/device-time.ts';
import { ANALYSED_TYPE, MADE_OF_WAVE } from '../../shared/recording.ts';
import type { Instant } from '../../shared/time.ts';
import type { WaveDone, WaveJob, WaveSamples } from '../../shared/wave-job.ts';
import type { Keeper } from '../holds/index.ts';
import type { Arrival, Journal, Stored, WaveKnown } from '../journal/index.ts';
import { readingOfWave } from './wave-reading.ts';

type Contexts = Pick<Keeper, 'waveContext'>;

/** Of what was kept of a commit. Who gets a job may take the memory of its counts: the commit needs it no more. */
export function waveJobsOf(keeper: Contexts, arrivals: readonly Arrival[], stored: readonly Stored[]): WaveJob[] {
  return arrivals.flatMap(({ draft, counts }, index) => {
    const one = stored[index];
    if (draft.kind !== 'wave' || counts === undefined || one?.kind !== 'kept') return [];
    const { at, time, device, data } = draft;
    const { spindleId = '' } = data;
    const came = { position: one.position, at, measuredAt: deviceTimeOf(at, time), device, spindleId, wave: data };
    return { ...keeper.waveContext(came), counts };
  });
}

/** The memory behind the counts of some jobs, to be handed on with them. */
export function memoryOf(jobs: readonly WaveJob[]): ArrayBuffer[] {
  return jobs.flatMap(({ counts: { buffer } }) => (buffer instanceof ArrayBuffer ? buffer : []));
}

/** Windows that wait, with their counts as they came: only what was analysed is ever packed. */
export async function jobsWaiting(
  journal: Pick<Journal, 'wavesWaiting'>,
  keeper: Contexts,
  page: { readonly after: Position; readonly limit: number },
): Promise<readonly WaveJob[]> {
  const rows = await journal.wavesWaiting(page);
  return rows.flatMap((row) =>
    row.body === undefined ? [] : [{ ...keeper.waveContext(row), counts: Uint8Array.from(row.body) }],
  );
}

/** Journals from before windows had a table of their own have the samples in the entry itself. */
export async function samplesOf(
  journal: Pick<Journal, 'waveAt' | 'read'>,
  waveId: Position,
): Promise<WaveSamples | undefined> {
  const row = await journal.waveAt(waveId);
  if (row !== undefined) {
    const { wave, packing, body } = row;
    return body === undefined ? undefined : { wave: withoutSamples(wave), packing, bytes: body };
  }
  for await (const { entries } of journal.read(waveId, waveId)) {
    const entry = entries.find(({ position }) => position === waveId);
    if (entry?.kind !== 'wave' || entry.data.samples === undefined) continue;
    const bytes = Uint8Array.from(Buffer.from(entry.data.samples, 'base64'));
    return { wave: withoutSamples(entry.data), packing: 'plain', bytes };
  }
  return undefined;
}

function withoutSamples({ samples: _samples, sampleCount: _count, ...wave }: WaveKept): WaveSamples['wave'] {
  return wave;
}

/**
 * What comes on record of an analysis, in this order and in one commit: the reading, where one is to be made, and what was
 * made of the window. `next`: the position that the first of them gets.
 */
export function analysedArrivals(
  row: WaveKnown,
  { outcome, packed }: WaveDone,
  { at, next, noReading }: { readonly at: Instant; readonly next: Position; readonly noReading: string | undefined },
): Arrival[] {
  const { position, device, spindleId } = row;
  const id = `${MADE_OF_WAVE}${position}`;
  const reading =
    outcome.kind !== 'analysed'
      ? undefined
      : noReading === undefined
        ? readingOfWave(spindleId, outcome.analysis)
        : ({ kind: 'none', why: noReading } as const);
  const arrivals: Arrival[] = [];
  if (reading?.kind === 'reading') {
    const draft: Omit<EntryOf<'summary'>, 'position'> = {
      kind: 'summary',
      at,
      device,
      id,
      time: row.measuredAt,
      data: reading.data,
    };
    arrivals.push({ draft, repeat: { by: 'id', source: ANALYSED_SOURCE, id: `summary-${id}`, content: NO_CONTENT } });
  }
  arrivals.push({
    ...analysedArrival({
      kind: 'analysed',
      at,
      wave: position,
      device,
      spindleId,
      channel: row.wave.channel,
      measuredAt: row.measuredAt,
      ...(reading?.kind === 'reading' ? { summary: next } : {}),
      ...(reading?.kind === 'none' ? { noReading: reading.why } : {}),
      outcome,
    }),
    ...(packed === undefined ? {} : { packed }),
  });
  return arrivals;
}

/** Of one window there is one, however often it is said. */
export function analysedArrival(draft: Extract<Draft, { kind: 'analysed' }>): Arrival {
  const id = `${MADE_OF_WAVE}${draft.wave}`;
  return { draft, repeat: { by: 'id', source: ANALYSED_SOURCE, id, content: NO_CONTENT } };
}

/** No device's: under it the service remembers of which windows something is on record. */
const ANALYSED_SOURCE = `/${ANALYSED_TYPE}`;
const NO_CONTENT = new Uint8Array();
