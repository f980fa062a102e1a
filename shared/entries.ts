// Everything that is ever written down: inputs in one order, and what the rules made of each. A closed union.
import type { ActData, ActKind, Actor } from './acts.ts';
import type { MessageData, Wave } from './messages/index.ts';
import type { Instant } from './time.ts';
import type { InChannel } from './topics.ts';
import type { WaveOutcome } from './wave-job.ts';

/** Position of an input in the journal: 1, 2, 3 … without gaps. Outcomes hang on the position of their cause. */
export type Position = number;

interface Arrived {
  readonly position: Position;
  /** When it arrived here, ms UTC; never decreases along the journal. The rules know no other clock. */
  readonly at: Instant;
}

/**
 * A raw window without its samples, which the journal keeps in a table of their own, as long as there is room for them.
 * Only entries of a journal that was written before hold `samples`; those say no `sampleCount`.
 */
export type WaveKept = Omit<Wave, 'samples'> & { readonly sampleCount?: number; readonly samples?: string };

export type EntryData = Omit<MessageData, 'wave'> & { readonly wave: WaveKept };

/** A device's message as the rules see it. Numbers of frequent kinds are already rounded to what the journal keeps. */
export type DeviceEntry = {
  readonly [C in InChannel]: Arrived & {
    readonly kind: C;
    readonly device: string;
    readonly id: string;
    /** The device's own time of the measurement; absent when it sent none. */
    readonly time?: Instant;
    readonly bootId?: string;
    readonly sequence?: number;
    readonly data: EntryData[C];
  };
}[InChannel];

export type EntryOf<C extends InChannel> = Extract<DeviceEntry, { kind: C }>;

export type ActEntry = {
  readonly [K in ActKind]: Arrived & {
    readonly kind: K;
    readonly id: string;
    readonly actor: Actor;
    readonly data: ActData[K];
  };
}[ActKind];

/** The clock of the rules goes on when nobody speaks, so that silence is seen in replay too. */
export interface TickEntry extends Arrived {
  readonly kind: 'tick';
}

/** Bytes that no schema would take stand in the rejected list; this says that they came. */
export interface RejectedEntry extends Arrived {
  readonly kind: 'rejected';
  readonly device: string;
  readonly channel: string;
  /** The problem's type, e.g. urn:counterpoise:problem:not-json. */
  readonly problem: string;
  readonly bytes: number;
}

/**
 * A person had a rejected message read again: the entry just before this one is the message as it was read now, unless the
 * device had sent it again meanwhile.
 */
export interface RetriedEntry extends Arrived {
  readonly kind: 'retried';
  readonly rejected: Position;
  readonly actor: Actor;
}

/** What the service made of a raw window, once. The rules take it as it is: they never analyse. */
export interface AnalysedEntry extends Arrived {
  readonly kind: 'analysed';
  /** Which window: the position of its `wave` entry. */
  readonly wave: Position;
  /** The sensor that it came from. */
  readonly device: string;
  readonly spindleId: string;
  /** As its window names it; and when that was measured. */
  readonly channel: string;
  readonly measuredAt: Instant;
  /** The reading that was made of it, just before this entry; absent where none was. */
  readonly summary?: Position;
  /** Why none was, where it was analysed. */
  readonly noReading?: string;
  readonly outcome: WaveOutcome;
}

export type Entry = DeviceEntry | ActEntry | TickEntry | RejectedEntry | RetriedEntry | AnalysedEntry;
export type EntryKind = Entry['kind'];

/** An entry before the journal gave it its position; `at` may still be raised so that time never goes back. */
export type Draft = Entry extends infer E ? (E extends Entry ? Omit<E, 'position'> : never) : never;
