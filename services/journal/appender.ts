// The one way in, whatever the store: sorts a batch out, has the rules decide once, commits, waits while the disk is full.
import { setTimeout as pause } from 'node:timers/promises';
import type { Entry, Position } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { sortOut, type Batch } from './batch.ts';
import { encodeEntries } from './block.ts';
import { linkOf, type Link } from './chain.ts';
import type { Arrival, Head, Stored } from './index.ts';
import { FULL_WAIT_FIRST_MS, FULL_WAIT_MAX_MS, MEMORY_SAVED_EVERY_ENTRIES } from './limits.ts';
import { encodeOutcomes } from './outcomes.ts';
import { JournalClosed } from './refusals.ts';
import { seenKeysOf, type RepeatMemory, type Seen } from './repeats.ts';
import { Turns } from './turns.ts';

/** One stretch as a store keeps it: entries and outcomes are blocks. */
export interface StretchRow {
  readonly first: Position;
  readonly count: number;
  readonly atFirst: number;
  readonly atLast: number;
  readonly entries: Uint8Array;
  readonly outcomes: Uint8Array | undefined;
}

/** Everything that goes into one commit. */
export interface Commit extends Pick<Batch, 'seen' | 'rejected' | 'retried' | 'waves' | 'waveChanges'> {
  readonly row: StretchRow;
  /** What is remembered of sequences up to and with this stretch, every so often. */
  readonly memory: Uint8Array | undefined;
  /** Where the chain stands afterwards; undefined where nothing of it is chained. */
  readonly link: Link | undefined;
}

/** What a store must be able to do to be appended to. */
export interface Shelf {
  /** What it knows of these ids. */
  findSeen(keys: readonly string[]): Promise<Map<string, Seen>> | Map<string, Seen>;
  /** One durable commit, all or nothing. */
  write(commit: Commit): Promise<void> | void;
  /** Whether a write failed only because there is no room left. */
  isFull(error: unknown): boolean;
}

export interface WaitingForRoom {
  readonly tries: number;
  readonly nextTryMs: number;
}

/** Told when a full disk makes a batch wait, for nothing is acknowledged until there is room; with nothing once there is. */
export type OnFull = (waiting: WaitingForRoom | undefined) => void;

export interface AppenderStart {
  readonly head: Head;
  readonly memory: RepeatMemory;
  /** Entries since the memory was last written down. */
  readonly unsaved: number;
  /** The chain's end. */
  readonly link: Link;
  readonly onFull: OnFull | undefined;
}

export class Appender {
  readonly #shelf: Shelf;
  readonly #turns = new Turns();
  readonly #memory: RepeatMemory;
  readonly #onFull: OnFull | undefined;
  readonly #stop = new AbortController();
  #head: Head;
  #chained: Uint8Array;
  #unsaved: number;
  #closed: JournalClosed | undefined;

  constructor(shelf: Shelf, start: AppenderStart) {
    this.#shelf = shelf;
    this.#head = start.head;
    this.#chained = start.link.hash;
    this.#memory = start.memory;
    this.#unsaved = start.unsaved;
    this.#onFull = start.onFull;
  }

  get head(): Head {
    return this.#head;
  }

  /** One after the other with appends, so that a store's transactions never mix. */
  inTurn<T>(work: () => Promise<T> | T): Promise<T> {
    return this.#turns.take(work);
  }

  append(
    arrivals: readonly Arrival[],
    decide: (entries: readonly Entry[]) => readonly Outcome[],
  ): Promise<readonly Stored[]> {
    return this.#turns.take(() => this.#append(arrivals, decide));
  }

  /** Refuses appends from now on, ends a wait for room, and lets running work end. */
  async close(): Promise<void> {
    this.#closed ??= new JournalClosed('the journal was closed');
    this.#stop.abort();
    await this.#turns.take(() => undefined);
  }

  async #append(
    arrivals: readonly Arrival[],
    decide: (entries: readonly Entry[]) => readonly Outcome[],
  ): Promise<readonly Stored[]> {
    if (this.#closed !== undefined) throw this.#closed;
    if (arrivals.length === 0) return [];
    try {
      const keys = seenKeysOf(arrivals);
      const known = keys.length === 0 ? new Map<string, Seen>() : await this.#shelf.findSeen(keys);
      const batch = sortOut(arrivals, { head: this.#head, memory: this.#memory, known, keys });
      const { entries } = batch;
      if (entries.length > 0) await this.#store(batch, decide(entries));
      return batch.stored;
    } catch (error) {
      // The memory and the rules may be ahead of what is stored: only reading the journal again puts that right.
      this.#closed ??= new JournalClosed(
        'an append failed, so the journal takes nothing more until it is opened again',
        {
          cause: error,
        },
      );
      throw error;
    }
  }

  async #store(batch: Batch, outcomes: readonly Outcome[]): Promise<void> {
    const { entries } = batch;
    const first = this.#head.position + 1;
    const atLast = entries.at(-1)?.at ?? this.#head.at;
    const last = this.#head.position + entries.length;
    for (const { cause } of outcomes) {
      if (cause < first || cause > last)
        throw new RangeError(`an outcome names ${cause} as its cause, which is not in its batch`);
    }
    const row: StretchRow = {
      first,
      count: entries.length,
      atFirst: entries[0]?.at ?? atLast,
      atLast,
      entries: encodeEntries(batch, 'fast'),
      outcomes: encodeOutcomes(outcomes, first),
    };
    const unsaved = this.#unsaved + entries.length;
    const memory = unsaved >= MEMORY_SAVED_EVERY_ENTRIES ? this.#memory.record() : undefined;
    const { seen, rejected, retried, waves, waveChanges } = batch;
    const link = linkOf(this.#chained, entries, outcomes);
    await this.#write({ row, memory, link, seen, rejected, retried, waves, waveChanges });
    this.#head = { position: last, at: atLast };
    this.#chained = link?.hash ?? this.#chained;
    this.#unsaved = memory === undefined ? unsaved : 0;
  }

  async #write(commit: Commit): Promise<void> {
    let nextTryMs = FULL_WAIT_FIRST_MS;
    for (let tries = 1; ; tries += 1) {
      try {
        await this.#shelf.write(commit);
        if (tries > 1) this.#onFull?.(undefined);
        return;
      } catch (error) {
        if (!this.#shelf.isFull(error)) throw error;
        if (this.#closed !== undefined) throw this.#closed;
        this.#onFull?.({ tries, nextTryMs });
        await pause(nextTryMs, undefined, { signal: this.#stop.signal }).catch(() => undefined);
        nextTryMs = Math.min(nextTryMs * 2, FULL_WAIT_MAX_MS);
      }
    }
  }
}
