// Recorded messages through the same intake and rules in their own time, offline: what a plant's history would have said.
import type { Entry, Position } from '../../shared/entries.ts';
import type { Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Problem } from '../../shared/problem.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
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
  /** What stands in the journal, rejected messages among it. */
  readonly position: Position;
  readonly kept: number;
  /** Of these, what devices and people said: none where the recording is none. */
  readonly used: number;
  readonly duplicates: number;
  readonly rejected: number;
  readonly holds: readonly Hold[];
}

/** A line at a time, or several. */
export type Lines = AsyncIterable<string | readonly string[]>;

export interface RehearsalSettings {
  /** The first line's where absent. */
  readonly plant?: string;
  /** Ticks are put in this often where the lines are none of an export, which brings its own; 0 for never. */
  readonly tickMs: number;
  readonly say: (said: Rehearsed) => void;
  /** Waited for now and then: whoever is told may be slower. */
  readonly keepUp?: () => Promise<void>;
  readonly progress?: (lines: number) => void;
  /** Where the entries go; a journal in memory that forgets them where absent. It is not closed. */
  readonly journal?: Journal;
}

const PROGRESS_LINES = 50_000;
/** Entries that neither a device nor a person said in a way that could be used. */
const OF_NOBODY: ReadonlySet<Entry['kind']> = new Set(['tick', 'rejected', 'analysed']);
const PLANT_UNLESS_SAID = 'plant-1';

export async function rehearse(lines: Lines, settings: RehearsalSettings): Promise<RehearsalReport> {
  const stage = new Stage(settings);
  let told = 0;
  for await (const piece of lines) {
    await stage.take(typeof piece === 'string' ? [piece] : piece);
    await settings.keepUp?.();
    const steps = Math.floor(stage.lines / PROGRESS_LINES);
    if (steps > told) settings.progress?.((told = steps) * PROGRESS_LINES);
  }
  return stage.end();
}

interface Playing {
  readonly player: LinePlayer;
  readonly journal: Journal;
  readonly keeper: Keeper;
}

/** Opened by the first line, which names the plant. */
class Stage {
  readonly #settings: RehearsalSettings;
  readonly #counts = { used: 0, faults: 0, duplicates: 0, rejected: 0 };
  #playing: Playing | undefined;

  constructor(settings: RehearsalSettings) {
    this.#settings = settings;
  }

  get lines(): number {
    return this.#playing?.player.lines ?? 0;
  }

  async take(lines: readonly string[]): Promise<void> {
    this.#playing ??= await this.#open(this.#settings.plant ?? plantOf(lines) ?? PLANT_UNLESS_SAID);
    await this.#playing.player.take(lines);
  }

  async end(): Promise<RehearsalReport> {
    if (this.#playing === undefined) return { lines: 0, position: 0, kept: 0, ...this.#counts, holds: [] };
    const { player, journal, keeper } = this.#playing;
    await player.flush();
    const { position } = await journal.head();
    if (this.#settings.journal === undefined) await journal.close();
    const { rejected } = this.#counts;
    return { lines: player.lines, position, kept: position - rejected, ...this.#counts, holds: keeper.allHolds() };
  }

  async #open(id: string): Promise<Playing> {
    const journal = this.#settings.journal ?? (await openJournal({ store: 'memory', forgetful: true }));
    const keeper = await openKeeper({ journal, plant: id, zone: 'UTC', invented: false });
    const intake = createIntake({ plant: id, boot: 'rehearsal' });
    let acts = 0;
    const plant = new Plant({
      plant: id,
      journal: this.#speaking(journal),
      keeper,
      intake,
      // Every entry brings its own time; the clock is asked only for the time of receipts, which nobody reads here.
      clock: { now: () => 0 },
      freshId: () => `act-${(acts += 1)}`,
    });
    const player = new LinePlayer(plant, {
      tickMs: this.#settings.tickMs,
      exact: true,
      fault: (line, why) => {
        this.#counts.faults += 1;
        this.#settings.say({ kind: 'line-fault', line, why });
      },
    });
    return { player, journal, keeper };
  }

  /** The journal as it is, with everything that it stores said aloud. */
  #speaking(journal: Journal): Pick<Journal, 'append' | 'head' | 'read' | 'rejectedAt' | 'waveKnownAt'> {
    return {
      head: () => journal.head(),
      read: (from, to) => journal.read(from, to),
      rejectedAt: (position) => journal.rejectedAt(position),
      waveKnownAt: (position) => journal.waveKnownAt(position),
      append: async (arrivals, decide) => {
        let decided: readonly Outcome[] = [];
        let entries: readonly Entry[] = [];
        const stored = await journal.append(arrivals, (kept) => (decided = decide((entries = kept))));
        for (const { kind } of entries) if (!OF_NOBODY.has(kind)) this.#counts.used += 1;
        this.#sayRejected(arrivals, stored);
        const first = entries[0]?.position ?? 0;
        for (const outcome of decided) {
          if (outcome.kind === 'reading-features') continue;
          this.#settings.say({ at: rfc3339Of(entries[outcome.cause - first]?.at ?? 0), ...outcome });
        }
        return stored;
      },
    };
  }

  #sayRejected(arrivals: readonly Arrival[], stored: readonly Stored[]): void {
    for (const [index, { rejected, draft }] of arrivals.entries()) {
      if (stored[index]?.kind === 'duplicate') this.#counts.duplicates += 1;
      if (rejected === undefined) continue;
      this.#counts.rejected += 1;
      const { topic, problem } = rejected;
      this.#settings.say({ kind: 'rejected', at: rfc3339Of(draft.at), topic, problem });
    }
  }
}

function plantOf(lines: readonly string[]): string | undefined {
  const [first] = lines;
  if (first === undefined) return undefined;
  const read = readLine(first);
  if (read.kind === 'fault') return undefined;
  return read.kind === 'delivered' ? parseTopic(read.delivered.topic)?.plant : read.plant;
}
