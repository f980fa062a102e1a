// The one store: inputs in one order with what the rules made of them, durable before anything is acknowledged.
import type { Draft, Entry, Position } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Instant } from '../../shared/time.ts';
import type { ReadingColumns } from './reading-columns.ts';
import type { Link } from './chain.ts';
import type { WaveReads } from './waves.ts';

/**
 * How a repeat is known: by (source, id) for ever, or by (source, bootid, sequence) for what comes often.
 * Sequences: what was missing may come late and is kept, as long as the gap is among the last `GAPS_PER_BOOT_MAX` of that
 * boot and the boot among the last `BOOTS_PER_SOURCE_MAX`; that holds over restarts. Recent ids: the last few thousand of
 * a source that sends no sequence, fewer where there are very many such sources; after a restart as far as the last
 * `RECENT_TAIL_ENTRIES` entries go.
 */
export type RepeatKey =
  | { readonly by: 'id'; readonly source: string; readonly id: string; readonly content: Uint8Array }
  | { readonly by: 'sequence'; readonly source: string; readonly bootId: string; readonly sequence: number }
  | { readonly by: 'recent-id'; readonly source: string; readonly id: string };

export interface RejectedBytes {
  readonly topic: string;
  readonly problem: Problem;
  readonly bytes: Uint8Array;
}

/** One thing that arrived, ready to be written down. */
export interface Arrival {
  readonly draft: Draft;
  /** Absent where nothing can repeat: ticks, people's acts with fresh ids, bare payloads. */
  readonly repeat?: RepeatKey;
  /** It was new to the journal that it was exported from: `repeat` is noted, and nobody asks whether it is one. */
  readonly asNew?: boolean;
  /** With a `rejected` draft: the bytes as they came. */
  readonly rejected?: RejectedBytes;
  /** With a `wave` draft: its counts, little-endian, in an encoding that its data name. */
  readonly counts?: Uint8Array;
  /** With an `analysed` draft: the counts of its window packed, to be kept instead of what is there. */
  readonly packed?: Uint8Array;
}

export type Stored =
  | { readonly kind: 'kept'; readonly position: Position }
  /**
   * `position` of the first where it is known, which by sequence it is not; `sameContent` false when the id was used
   * before for something else.
   */
  | { readonly kind: 'duplicate'; readonly position?: Position; readonly sameContent: boolean };

/** Some neighbouring entries in order, and the outcomes that hang on them. Where one stretch ends says nothing. */
export interface Stretch {
  readonly entries: readonly Entry[];
  readonly outcomes: readonly Outcome[];
}

export interface RejectedRow extends RejectedBytes {
  readonly position: Position;
  readonly at: Instant;
  readonly device: string;
  readonly state: 'open' | 'retried';
}

export interface Head {
  readonly position: Position;
  readonly at: Instant;
}

export interface Snapshot {
  readonly position: Position;
  readonly version: string;
  readonly body: Uint8Array;
}

/** What can be asked beside an appender, from another thread or process too. */
export interface JournalReader extends WaveReads {
  /** Stretches from a position on, oldest first, up to what is stored when it gets there; holds no lock between two. */
  read(from: Position, to?: Position): AsyncIterable<Stretch>;
  /**
   * The readings of it as columns: the stretches that hold these positions. The first and last may reach beyond them, and where
   * stretches were merged meanwhile one may begin with what was given before.
   */
  columns(from: Position, to: Position): AsyncIterable<ReadingColumns>;
  /** The first position that arrived at an instant or later; one past the head where none did. */
  positionFrom(at: Instant): Promise<Position>;
  /** Position 0 and time 0 while nothing is stored. */
  head(): Promise<Head>;
  /** Newest first. */
  rejected(options: {
    readonly state?: RejectedRow['state'];
    readonly before?: Position;
    readonly limit: number;
  }): Promise<readonly RejectedRow[]>;
  rejectedAt(position: Position): Promise<RejectedRow | undefined>;
  countRejected(state: RejectedRow['state']): Promise<number>;
  /** The newest of that version; of a position up to and with `through` where that is said. */
  latestSnapshot(version: string, through?: Position): Promise<Snapshot | undefined>;
  /** Where the chain stood after each commit that it holds something of, oldest first; the first is where it begins. */
  links(after: Position, limit: number): Promise<readonly Link[]>;
  /** The chain's end. */
  lastLink(): Promise<Link>;
  close(): Promise<void>;
}

export interface Journal extends JournalReader {
  /**
   * Stores what is new of a batch in its order, with what `decide` makes of it, in one durable commit.
   * Resolves only after the commit. A full disk is waited out with the same batch; any other failure rejects and
   * the journal is closed for writing: the process must restart. A kept `retried` entry marks its rejected row.
   * An entry's `at` is raised to the head's where it is earlier: time never goes back along the journal.
   * `decide` is called once with all that is new, as `asKept` gives it, and not at all when nothing is.
   */
  append(
    arrivals: readonly Arrival[],
    decide: (entries: readonly Entry[]) => readonly Outcome[],
  ): Promise<readonly Stored[]>;
  /** Of these windows the samples are kept no longer; all that was made of them stays. */
  dropWaves(positions: readonly Position[]): Promise<void>;
  /** Keeps the newest few of each version. */
  saveSnapshot(snapshot: Snapshot): Promise<void>;
  /** Merges small neighbouring stretches into large compressed ones; returns how many it merged. Nothing is lost by it. */
  compact(): Promise<number>;
}

export type { WaitingForRoom } from './appender.ts';
export { asKept } from './as-kept.ts';
export type { KeptWave, WaveKnown, WaveRoom, WaveStored, WavesOfSpindle } from './waves.ts';
export { COMPARABLE_CODE, NO_FEATURES, reasonCode, type ReadingColumns } from './reading-columns.ts';
export type { Link } from './chain.ts';
export { packed, unpacked } from './packing.ts';
export { linkOfText, linkText } from './link-text.ts';
export { verifyChain, type ChainVerdict } from './verify-chain.ts';
export { openJournal, openReader, type JournalSettings } from './open.ts';
export { JournalClosed, JournalInUse } from './refusals.ts';
