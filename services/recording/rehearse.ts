// Recorded messages through the same intake and rules in their own time, offline: what a plant's history would have said.
import type { Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Problem } from '../../shared/problem.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import { openKeeper } from '../holds/index.ts';
import { createIntake } from '../intake/index.ts';
import { openJournal, type Arrival, type Journal, type Stored } from '../journal/index.ts';
import { LinePlayer, Plant } from '../plant/index.ts';

/** What a rehearsal prints, a JSON line each. */
export type Rehearsed =
  | { readonly kind: 'line-fault'; readonly line: number; readonly why: string }
  | { readonly kind: 'rejected'; readonly at: string; readonly topic: string; readonly problem: Problem }
  | ({ readonly at: string } & Exclude<Outcome, { kind: 'reading-features' }>);

export interface RehearsalReport {
  readonly lines: number;
  readonly faults: number;
  readonly kept: number;
  readonly duplicates: number;
  readonly rejected: number;
  readonly holds: readonly Hold[];
}

export interface RehearsalSettings {
  readonly plant: string;
  readonly tickMs: number;
  readonly say: (said: Rehearsed) => void;
  readonly progress?: (lines: number) => void;
}

const PROGRESS_LINES = 50_000;

export async function rehearse(lines: AsyncIterable<string>, settings: RehearsalSettings): Promise<RehearsalReport> {
  const counts = { faults: 0, duplicates: 0, rejected: 0 };
  const stored = await openJournal({ store: 'memory' });
  const journal = speaking(stored, counts, settings.say);
  const keeper = await openKeeper({ journal, plant: settings.plant, zone: 'UTC', invented: false });
  const intake = createIntake({ plant: settings.plant, boot: 'rehearsal' });
  let acts = 0;
  // Every entry brings its own time; the clock is asked only for the time of receipts, which nobody reads here.
  const parts = { journal, keeper, intake, clock: { now: () => 0 }, freshId: () => `act-${(acts += 1)}` };
  const player = new LinePlayer(new Plant({ plant: settings.plant, ...parts }), {
    tickMs: settings.tickMs,
    fault: (line, why) => {
      counts.faults += 1;
      settings.say({ kind: 'line-fault', line, why });
    },
  });
  for await (const line of lines) {
    if (line.trim() === '') continue;
    await player.take(line);
    if (player.lines % PROGRESS_LINES === 0) settings.progress?.(player.lines);
  }
  await player.flush();
  const { position } = await journal.head();
  await journal.close();
  return { lines: player.lines, ...counts, kept: position - counts.rejected, holds: keeper.allHolds() };
}

/** The journal as it is, with everything that it stores said aloud. */
function speaking(
  journal: Journal,
  counts: { duplicates: number; rejected: number },
  say: RehearsalSettings['say'],
): Journal {
  const append: Journal['append'] = async (arrivals, decide) => {
    const at = new Map<number, Instant>();
    let outcomes: readonly Outcome[] = [];
    const stored = await journal.append(arrivals, (entries) => {
      outcomes = decide(entries);
      const causes = new Set(outcomes.map((outcome) => outcome.cause));
      for (const entry of entries) if (causes.has(entry.position)) at.set(entry.position, entry.at);
      return outcomes;
    });
    sayRejected(arrivals, stored, counts, say);
    for (const outcome of outcomes) {
      if (outcome.kind !== 'reading-features') say({ at: rfc3339Of(at.get(outcome.cause) ?? 0), ...outcome });
    }
    return stored;
  };
  return new Proxy(journal, {
    get: (target, name) => {
      if (name === 'append') return append;
      const member: unknown = Reflect.get(target, name);
      return typeof member === 'function' ? (member.bind(target) as unknown) : member;
    },
  });
}

function sayRejected(
  arrivals: readonly Arrival[],
  stored: readonly Stored[],
  counts: { duplicates: number; rejected: number },
  say: RehearsalSettings['say'],
): void {
  for (const [index, { rejected, draft }] of arrivals.entries()) {
    if (stored[index]?.kind === 'duplicate') counts.duplicates += 1;
    if (rejected === undefined) continue;
    counts.rejected += 1;
    say({ kind: 'rejected', at: rfc3339Of(draft.at), topic: rejected.topic, problem: rejected.problem });
  }
}
