// A journal decided anew, entry by entry, beside what was recorded: the same rules must say the same, other rules show what they change.
import type { Entry, Position } from '../../shared/entries.ts';
import type { Hold } from '../../shared/holds.ts';
import type { Span } from '../../shared/hold-pairing.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import { decidedOrRemarked, floorThrough } from '../holds/index.ts';
import type { JournalReader, Stretch } from '../journal/index.ts';
import { evolve, subjectKey, type Floor } from '../rules/index.ts';
import { compareHolds, type HoldComparison } from './compare-holds.ts';
import { HoldBook } from './hold-book.ts';
import { sameOutcome } from './same-outcome.ts';

/** What would have been declared otherwise. Neither changes the position or the time of an entry. */
export interface OtherRules {
  /** Of the time that is replayed: an entry as it would have stood there; itself where nothing of it is otherwise. */
  revise(entry: Entry): Entry;
  /** Where the time begins: entries that count as if they had been declared just before, at the floor's position. */
  begin(floor: Floor): readonly Entry[];
}

export interface ReplaySettings {
  readonly journal: Pick<JournalReader, 'read' | 'latestSnapshot' | 'head'>;
  readonly plant: string;
  /** First and last entry that are decided anew; 1 and the journal's last where absent. What was before is as recorded. */
  readonly from?: Position | undefined;
  readonly to?: Position | undefined;
  readonly other?: OtherRules | undefined;
  /** From 0 to 1. */
  readonly progress?: ((share: number) => void) | undefined;
}

export interface Replayed {
  readonly from: Position;
  readonly to: Position;
  /** Arrival of the first and the last entry, ms UTC. */
  readonly span: Span;
  /** Of the snapshot that spared the entries before; undefined where they were all read. */
  readonly snapshotPosition: Position | undefined;
  readonly entries: number;
  readonly readings: number;
  /** Everything that the rules said, features of readings included: how much, how often otherwise than recorded, and where first. */
  readonly outcomes: { readonly count: number; readonly differing: number; readonly first: Position | undefined };
  readonly holds: HoldComparison;
  /** Holds beyond HOLDS_COMPARED_MAX, in neither list. */
  readonly beyond: number;
}

export async function replay(settings: ReplaySettings): Promise<Replayed> {
  const { journal, plant, other, progress } = settings;
  const head = await journal.head();
  const from = Math.max(1, settings.from ?? 1);
  const to = Math.min(settings.to ?? head.position, head.position);
  const share = (position: Position): void => progress?.(position / Math.max(1, to));
  const through = from - 1;
  const { floor, snapshotPosition } = await floorThrough({ journal, plant, through, progress: share });
  const run = new Run(floor, other);
  if (from <= to) {
    for await (const stretch of journal.read(from, to)) {
      run.take(stretch);
      share(run.position);
    }
  }
  return { from, to, snapshotPosition, ...run.told() };
}

/** Of an act whose hold is not there: the rules raise none by this name. */
const NO_HOLD = 'H-0-0';

class Run {
  #floor: Floor;
  readonly #other: OtherRules | undefined;
  readonly #recorded: HoldBook;
  readonly #now: HoldBook;
  readonly #readingsBefore: number;
  #entries = 0;
  #count = 0;
  #differing = 0;
  #first: Position | undefined;
  #startedAt: Instant | undefined;

  constructor(floor: Floor, other: OtherRules | undefined) {
    this.#recorded = new HoldBook(floor);
    this.#now = new HoldBook(floor);
    this.#other = other;
    this.#readingsBefore = floor.readings;
    this.#floor = floor;
    for (const entry of other?.begin(floor) ?? []) this.#floor = evolve(this.#floor, entry, []);
  }

  get position(): Position {
    return this.#floor.position;
  }

  take({ entries, outcomes }: Stretch): void {
    let next = 0;
    for (const entry of entries) {
      const first = next;
      while (outcomes[next]?.cause === entry.position) next += 1;
      this.#takeEntry(entry, outcomes, first, next);
    }
    this.#entries += entries.length;
    this.#startedAt ??= entries[0]?.at;
  }

  #takeEntry(entry: Entry, recorded: readonly Outcome[], first: number, end: number): void {
    const revised = this.#other === undefined ? entry : this.#revised(entry, this.#other);
    const decided = decidedOrRemarked(this.#floor, revised);
    this.#floor = evolve(this.#floor, revised, decided);
    const common = Math.min(decided.length, end - first);
    let otherwise = Math.max(decided.length, end - first) - common;
    for (let index = 0; index < common; index += 1) {
      if (!sameOutcome(decided[index], recorded[first + index])) otherwise += 1;
    }
    this.#count += decided.length;
    if (otherwise > 0) {
      this.#differing += otherwise;
      this.#first ??= entry.position;
    }
    for (const outcome of decided) if (outcome.kind !== 'reading-features') this.#now.take(outcome);
    for (let index = first; index < end; index += 1) {
      const outcome = recorded[index];
      if (outcome !== undefined && outcome.kind !== 'reading-features') this.#recorded.take(outcome);
    }
  }

  /**
   * What people did about a hold they would have done about the one that stands in its place. Where none does, nothing is done: its
   * number may be that of a hold for something else, which the same entry raises now.
   */
  #revised(entry: Entry, other: OtherRules): Entry {
    if (entry.kind !== 'hold-act') return other.revise(entry);
    const recorded = this.#recorded.get(entry.data.holdId);
    if (recorded === undefined) return entry;
    const sameId = this.#floor.holds.get(recorded.holdId);
    if (isAbout(sameId, recorded)) return entry;
    const open = this.#floor.openHolds.get(subjectKey(recorded.subject)) ?? [];
    const holdId = open.find((id) => isAbout(this.#floor.holds.get(id), recorded));
    if (holdId !== undefined) return { ...entry, data: { ...entry.data, holdId } };
    return sameId === undefined ? entry : { ...entry, data: { ...entry.data, holdId: NO_HOLD } };
  }

  told(): Omit<Replayed, 'from' | 'to' | 'snapshotPosition'> {
    const { at, readings } = this.#floor;
    const span = { from: this.#startedAt ?? at, to: at };
    return {
      span,
      entries: this.#entries,
      readings: readings - this.#readingsBefore,
      outcomes: { count: this.#count, differing: this.#differing, first: this.#first },
      holds: compareHolds(this.#recorded.all(), this.#now.all(), span),
      beyond: Math.max(this.#recorded.beyond, this.#now.beyond),
    };
  }
}

function isAbout(hold: Hold | undefined, other: Hold): boolean {
  return hold?.reason === other.reason && subjectKey(hold.subject) === subjectKey(other.subject);
}
