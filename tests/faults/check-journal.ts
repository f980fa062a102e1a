// What a journal holds after a trial, against what the devices saw acknowledged and what an undisturbed run would hold.
import { isOpen, type Hold } from '../../shared/holds.ts';
import { openKeeper } from '../../services/holds/index.ts';
import { openJournal, openReader, type JournalSettings } from '../../services/journal/index.ts';
import { exportLines, rehearse } from '../../services/recording/index.ts';
import { TRIAL_PLANT } from './trial-plant.ts';

export interface JournalFound {
  /** How often each message stands in the journal, by its key. */
  readonly counts: ReadonlyMap<string, number>;
  readonly lines: readonly string[];
  readonly holds: readonly Hold[];
  readonly rejected: number;
}

export async function readJournal(settings: JournalSettings): Promise<JournalFound> {
  const counts = new Map<string, number>();
  const reader = await openReader(settings);
  const lines: string[] = [];
  for await (const line of exportLines(reader, TRIAL_PLANT)) {
    lines.push(JSON.stringify(line));
    const device = line.topic.split('/in/')[1]?.split('/')[0];
    if (device === undefined || line.envelope === undefined) continue;
    const key = `${device} ${String(line.envelope['id'])}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const rejected = await reader.countRejected('open');
  await reader.close();
  const journal = await openJournal(settings);
  const keeper = await openKeeper({ journal, plant: TRIAL_PLANT, zone: 'UTC', invented: false });
  const holds = keeper.allHolds();
  await journal.close();
  return { counts, lines, holds, rejected };
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
