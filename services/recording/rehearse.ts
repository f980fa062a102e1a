// Recorded messages through the same intake and rules in their own time, offline: what a plant's history would have said.
import type { Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Problem } from '../../shared/problem.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import { openKeeper, type Keeper } from '../holds/index.ts';
import { createIntake, type Delivered } from '../intake/index.ts';
import { openJournal, type Journal } from '../journal/index.ts';
import { Plant } from '../plant/index.ts';
import { readLine, type LineRead } from './read-line.ts';

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
  /** Taken from the first line's topic where absent. */
  readonly plant?: string;
  /** Ticks are put in this often where the recording has none of its own; 0 for never. */
  readonly tickMs: number;
  readonly say: (said: Rehearsed) => void;
  readonly progress?: (lines: number) => void;
}

const BATCH_LINES_MAX = 1000;
const PROGRESS_LINES = 50_000;

export async function rehearse(lines: AsyncIterable<string>, settings: RehearsalSettings): Promise<RehearsalReport> {
  const rehearsal = new Rehearsal(settings);
  for await (const line of lines) {
    if (line.trim() !== '') await rehearsal.take(line);
  }
  return rehearsal.end();
}

class Rehearsal {
  readonly #settings: RehearsalSettings;
  #now: Instant = 0;
  #tickedAt: Instant | undefined;
  #ownTicks: boolean;
  #lines = 0;
  #faults = 0;
  #duplicates = 0;
  #rejected = 0;
  #batch: Delivered[] = [];
  #parts: { plant: Plant; keeper: Keeper; journal: Journal } | undefined;

  constructor(settings: RehearsalSettings) {
    this.#settings = settings;
    this.#ownTicks = settings.tickMs === 0;
  }

  async take(text: string): Promise<void> {
    this.#lines += 1;
    if (this.#lines % PROGRESS_LINES === 0) this.#settings.progress?.(this.#lines);
    const line = readLine(text);
    if (line.kind === 'fault') {
      this.#faults += 1;
      this.#settings.say({ kind: 'line-fault', line: this.#lines, why: line.why });
      return;
    }
    await this.#tickUntil(line);
    if (line.kind === 'delivered') {
      this.#batch.push(line.delivered);
      this.#now = Math.max(this.#now, line.at);
      if (this.#batch.length >= BATCH_LINES_MAX) await this.#flush(line.plant);
      return;
    }
    await this.#flush();
    this.#now = Math.max(this.#now, line.at);
    await this.#put(line);
  }

  async #put(line: Exclude<LineRead, { kind: 'fault' | 'delivered' }>): Promise<void> {
    const { plant } = await this.#opened();
    switch (line.kind) {
      case 'tick':
        this.#ownTicks = true;
        await plant.note({ kind: 'tick', at: line.at });
        return;
      case 'act':
        await plant.act(line.actor, line.act, line.data);
        return;
      case 'retried':
        await plant.note({
          kind: 'retried',
          at: line.at,
          rejected: line.rejected,
          actor: { name: line.by, roles: [] },
        });
    }
  }

  async end(): Promise<RehearsalReport> {
    await this.#flush();
    const { keeper, journal } = await this.#opened();
    const { position } = await journal.head();
    const report = {
      lines: this.#lines,
      faults: this.#faults,
      kept: position - this.#rejected,
      duplicates: this.#duplicates,
      rejected: this.#rejected,
      holds: keeper.allHolds(),
    };
    await journal.close();
    return report;
  }

  /** The clock goes on between lines as it would have in the service, unless the recording brought its own ticks. */
  async #tickUntil(line: Exclude<LineRead, { kind: 'fault' }>): Promise<void> {
    const { tickMs } = this.#settings;
    if (line.kind === 'tick') this.#ownTicks = true;
    if (this.#ownTicks) return;
    this.#tickedAt ??= line.at;
    // A gap of a year is not a million ticks: silence is seen at its beginning and told once.
    const steps = Math.floor((line.at - this.#tickedAt) / tickMs);
    if (steps <= 0) return;
    await this.#flush();
    const { plant } = await this.#opened();
    for (let step = 1; step <= Math.min(steps, TICKS_IN_A_GAP_MAX); step += 1) {
      this.#now = Math.max(this.#now, this.#tickedAt + tickMs * step);
      await plant.note({ kind: 'tick', at: this.#now });
    }
    this.#tickedAt += steps * tickMs;
  }

  async #flush(plantOfLine?: string): Promise<void> {
    if (this.#batch.length === 0) return;
    const batch = this.#batch;
    this.#batch = [];
    const { plant } = await this.#opened(plantOfLine ?? plantOf(batch[0]));
    await plant.admit(batch);
  }

  async #opened(plantOfLine?: string): Promise<{ plant: Plant; keeper: Keeper; journal: Journal }> {
    if (this.#parts !== undefined) return this.#parts;
    const id = this.#settings.plant ?? plantOfLine ?? 'plant-1';
    const stored = await openJournal({ store: 'memory' });
    const journal = this.#listening(stored);
    const keeper = await openKeeper({ journal, plant: id, zone: 'UTC', invented: false });
    const intake = createIntake({ plant: id, boot: 'rehearsal' });
    let acts = 0;
    const clock = { now: (): Instant => this.#now };
    const plant = new Plant({ plant: id, journal, keeper, intake, clock, freshId: () => `act-${(acts += 1)}` });
    this.#parts = { plant, keeper, journal };
    return this.#parts;
  }

  /** The journal as it is, with everything that it stores said aloud. */
  #listening(journal: Journal): Journal {
    return {
      ...bound(journal),
      append: async (arrivals, decide) => {
        const at = new Map<number, Instant>();
        let outcomes: readonly Outcome[] = [];
        const stored = await journal.append(arrivals, (entries) => {
          for (const entry of entries) at.set(entry.position, entry.at);
          return (outcomes = decide(entries));
        });
        for (const [index, { rejected, draft }] of arrivals.entries()) {
          if (stored[index]?.kind === 'duplicate') this.#duplicates += 1;
          if (rejected === undefined) continue;
          this.#rejected += 1;
          this.#settings.say({
            kind: 'rejected',
            at: rfc3339Of(draft.at),
            topic: rejected.topic,
            problem: rejected.problem,
          });
        }
        for (const outcome of outcomes) {
          if (outcome.kind !== 'reading-features')
            this.#settings.say({ at: rfc3339Of(at.get(outcome.cause) ?? this.#now), ...outcome });
        }
        return stored;
      },
    };
  }
}

const TICKS_IN_A_GAP_MAX = 1000;

function bound(journal: Journal): Journal {
  return {
    append: journal.append.bind(journal),
    read: journal.read.bind(journal),
    head: journal.head.bind(journal),
    rejected: journal.rejected.bind(journal),
    rejectedAt: journal.rejectedAt.bind(journal),
    countRejected: journal.countRejected.bind(journal),
    saveSnapshot: journal.saveSnapshot.bind(journal),
    latestSnapshot: journal.latestSnapshot.bind(journal),
    compact: journal.compact.bind(journal),
    close: journal.close.bind(journal),
  };
}

function plantOf(delivered: Delivered | undefined): string | undefined {
  return delivered?.topic.split('/')[2];
}
