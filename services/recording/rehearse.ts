// Recorded messages through the same intake and rules in their own time, offline: what a plant's history would have said.
import type { Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Problem } from '../../shared/problem.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import { openKeeper, type Keeper } from '../holds/index.ts';
import { createIntake } from '../intake/index.ts';
import { openJournal, type Arrival, type Journal, type Stored } from '../journal/index.ts';
import { LinePlayer, Plant, readLine } from '../plant/index.ts';

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
  /** The first line's where absent. */
  readonly plant?: string;
  readonly tickMs: number;
  readonly say: (said: Rehearsed) => void;
  readonly progress?: (lines: number) => void;
}

const PROGRESS_LINES = 50_000;

export async function rehearse(lines: AsyncIterable<string>, settings: RehearsalSettings): Promise<RehearsalReport> {
  const counts = { faults: 0, duplicates: 0, rejected: 0 };
  let stage: Stage | undefined;
  for await (const line of lines) {
    if (line.trim() === '') continue;
    stage ??= await openStage(settings.plant ?? plantOfLine(line) ?? 'plant-1', settings, counts);
    await stage.player.take(line);
    if (stage.player.lines % PROGRESS_LINES === 0) settings.progress?.(stage.player.lines);
  }
  if (stage === undefined) return { lines: 0, ...counts, kept: 0, holds: [] };
  const { player, journal, keeper } = stage;
  await player.flush();
  const { position } = await journal.head();
  await journal.close();
  return { lines: player.lines, ...counts, kept: position - counts.rejected, holds: keeper.allHolds() };
}

type Counts = { faults: number; duplicates: number; rejected: number };
interface Stage {
  readonly player: LinePlayer;
  readonly journal: Journal;
  readonly keeper: Keeper;
}

async function openStage(plant: string, settings: RehearsalSettings, counts: Counts): Promise<Stage> {
  const journal = speaking(await openJournal({ store: 'memory' }), counts, settings.say);
  const keeper = await openKeeper({ journal, plant, zone: 'UTC', invented: false });
  const intake = createIntake({ plant, boot: 'rehearsal' });
  let acts = 0;
  // Every entry brings its own time; the clock is asked only for the time of receipts, which nobody reads here.
  const parts = { journal, keeper, intake, clock: { now: () => 0 }, freshId: () => `act-${(acts += 1)}` };
  const player = new LinePlayer(new Plant({ plant, ...parts }), {
    tickMs: settings.tickMs,
    fault: (line, why) => {
      counts.faults += 1;
      settings.say({ kind: 'line-fault', line, why });
    },
  });
  return { player, journal, keeper };
}

function plantOfLine(line: string): string | undefined {
  const read = readLine(line);
  return 'plant' in read ? read.plant : undefined;
}

/** The journal as it is, with everything that it stores said aloud. */
function speaking(journal: Journal, counts: Counts, say: RehearsalSettings['say']): Journal {
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
  counts: Counts,
  say: RehearsalSettings['say'],
): void {
  for (const [index, { rejected, draft }] of arrivals.entries()) {
    if (stored[index]?.kind === 'duplicate') counts.duplicates += 1;
    if (rejected === undefined) continue;
    counts.rejected += 1;
    say({ kind: 'rejected', at: rfc3339Of(draft.at), topic: rejected.topic, problem: rejected.problem });
  }
}
