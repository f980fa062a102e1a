// What a journal holds after a trial, against what the devices saw acknowledged and what an undisturbed run would hold.
import { isOpen, type Hold } from '../../shared/holds.ts';
import { ANALYSED_TYPE } from '../../shared/recording.ts';
import { waitFor } from '../environment/wait-for.ts';
import { openKeeper } from '../../services/holds/index.ts';
import {
  openJournal,
  openReader,
  verifyChain,
  type ChainVerdict,
  type JournalSettings,
} from '../../services/journal/index.ts';
import { exportLines, rehearse } from '../../services/recording/index.ts';
import { TRIAL_PLANT, type TrialMessage } from './trial-plant.ts';

export interface JournalFound {
  /** How often each message stands in the journal, by its key. */
  readonly counts: ReadonlyMap<string, number>;
  readonly lines: readonly string[];
  readonly holds: readonly Hold[];
  readonly rejected: number;
  /** Samples of the windows that are there, by key. */
  readonly windows: ReadonlyMap<string, unknown>;
  /** How often something is on record as made of each of them, by what it was. */
  readonly made: ReadonlyMap<string, number>;
  /** What is wrong with the chain over decisions and acts; empty where it is whole and holds something. */
  readonly chainBroken: readonly string[];
}

export async function readJournal(settings: JournalSettings): Promise<JournalFound> {
  const counts = new Map<string, number>();
  const reader = await openReader(settings);
  const lines: string[] = [];
  const windows = new Map<string, unknown>();
  const keys = new Map<number, string>();
  const made = new Map<string, number>();
  for await (const line of exportLines(reader, TRIAL_PLANT)) {
    lines.push(JSON.stringify(line));
    if (line.envelope?.['type'] === ANALYSED_TYPE) {
      const { wave, outcome } = line.envelope['data'] as { wave: number; outcome: { kind: string } };
      const key = `${keys.get(wave) ?? `nothing at ${wave}`} ${outcome.kind}`;
      made.set(key, (made.get(key) ?? 0) + 1);
    }
    const device = line.topic.split('/in/')[1]?.split('/')[0];
    if (device === undefined || line.envelope === undefined) continue;
    const key = `${device} ${String(line.envelope['id'])}`;
    if (line.topic.endsWith('/wave')) {
      windows.set(key, (line.envelope['data'] as { samples?: unknown }).samples);
      keys.set(line.position ?? 0, key);
    }
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const rejected = await reader.countRejected('open');
  const chainBroken = chainFaults(await verifyChain(reader));
  await reader.close();
  const journal = await openJournal(settings);
  const keeper = await openKeeper({ journal, plant: TRIAL_PLANT, zone: 'UTC', invented: false });
  const holds = keeper.allHolds();
  await journal.close();
  return { counts, lines, holds, rejected, windows, made, chainBroken };
}

export function chainFaults(verdict: ChainVerdict): string[] {
  if (verdict.kind === 'broken') return [`positions ${verdict.first} to ${verdict.last}: ${verdict.why}`];
  return verdict.items > 0 ? [] : ['nothing is chained: the trial proves nothing of the chain'];
}

/** Until something was made of every window that is kept. */
export async function untilAnalysed(settings: JournalSettings): Promise<void> {
  const reader = await openReader(settings);
  try {
    await waitFor('all windows to be analysed', async () => (await reader.waveRoom()).waiting === 0);
  } finally {
    await reader.close();
  }
}

/**
 * What is wrong with the windows that were acknowledged; empty where each is there, whole, and was analysed once, or
 * skipped once where more came than could be analysed in time.
 */
export function windowFaults({ windows, made }: JournalFound, acknowledged: readonly TrialMessage[]): string[] {
  const sent = acknowledged.filter(({ samples }) => samples !== undefined);
  const times = (key: string, kind: string): number => made.get(`${key} ${kind}`) ?? 0;
  const faults = sent.flatMap(({ key, samples }) => {
    const [analysed, skipped] = [times(key, 'analysed'), times(key, 'skipped')];
    return [
      ...(windows.get(key) === samples ? [] : [`${key}: its samples are not what was sent`]),
      ...(analysed + skipped === 1 ? [] : [`${key}: analysed ${analysed} times, skipped ${skipped} times`]),
    ];
  });
  const isProof = sent.some(({ key }) => times(key, 'analysed') === 1);
  return isProof ? faults : [...faults, 'no window was analysed: the trial proves nothing of them'];
}

/** The same lines through the same intake and rules, without any disturbance. */
export async function rehearsedHolds(lines: readonly string[]): Promise<readonly Hold[]> {
  const report = await rehearse(each(lines), { plant: TRIAL_PLANT, tickMs: 0, say: () => undefined });
  return report.holds;
}

async function* each(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

/** What a hold is about, without the positions and times that differ from one run to the next. */
export function holdsInWords(holds: readonly Hold[]): string[] {
  return holds
    .map(({ subject, reason, state, evidence }) => {
      const clauses = evidence.clauses.map(
        (clause) => `${clause.what} ${clause.measured.toFixed(6)} / ${clause.limit.toFixed(6)}`,
      );
      return [subject.kind, subject.id, reason, state, ...clauses].join(' · ');
    })
    .toSorted();
}

export const openOnes = (holds: readonly Hold[]): readonly Hold[] => holds.filter(isOpen);
