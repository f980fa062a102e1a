// What is remembered so that a repeat changes nothing: sequences and recent ids in memory, all other ids in the store.
import { hash } from 'node:crypto';
import type { Entry, Position } from '../../shared/entries.ts';
import type { Arrival, RepeatKey } from './index.ts';
import { RecentIds } from './recent-ids.ts';
import { Sequences, type SequenceRecord } from './sequences.ts';
import type { Origin } from './streams.ts';

/** 16 bytes of SHA-256 for an id of a source, 8 for its content, both in hexadecimal. */
const ID_DIGITS = 32;
const CONTENT_DIGITS = 16;

export interface Seen {
  readonly position: Position;
  readonly content: string;
}

export interface SeenRow extends Seen {
  readonly key: string;
}

export type IdKey = Extract<RepeatKey, { by: 'id' }>;

export function seenKey(key: IdKey): string {
  // The length in front keeps `a` + `bc` apart from `ab` + `c`.
  return hash('sha256', `${key.source.length}:${key.source}${key.id}`, 'hex').slice(0, ID_DIGITS);
}

export function contentKey(content: Uint8Array): string {
  return hash('sha256', content, 'hex').slice(0, CONTENT_DIGITS);
}

/** The keys to look up before a batch is sorted out, in the order of its arrivals that have one. */
export function seenKeysOf(arrivals: readonly Arrival[]): readonly string[] {
  const keys: string[] = [];
  for (const { repeat } of arrivals) if (repeat?.by === 'id') keys.push(seenKey(repeat));
  return keys;
}

export class RepeatMemory {
  readonly #sequences = new Sequences();
  readonly #recent = new RecentIds();

  noteSequence(source: string, bootId: string, sequence: number): boolean {
    return this.#sequences.note(source, bootId, sequence);
  }

  noteRecent(source: string, id: string, position: Position): Position | undefined {
    return this.#recent.note(source, id, position);
  }

  /** Notes again what a stored block says of its entries. */
  recall(entries: readonly Entry[], origins: readonly (Origin | undefined)[]): void {
    for (const [i, origin] of origins.entries()) {
      const entry = entries[i];
      if (origin === undefined || entry === undefined || !('device' in entry)) continue;
      if (entry.kind === 'rejected' || entry.kind === 'analysed') continue;
      if (origin.by === 'sequence' && entry.bootId !== undefined && entry.sequence !== undefined) {
        this.#sequences.note(origin.source, entry.bootId, entry.sequence);
      } else if (origin.by === 'recent-id') {
        this.#recent.note(origin.source, entry.id, entry.position);
      }
    }
  }

  record(): Buffer {
    return Buffer.from(JSON.stringify(this.#sequences.record()));
  }

  restore(record: Uint8Array): void {
    this.#sequences.restore(JSON.parse(Buffer.from(record).toString('utf8')) as SequenceRecord);
  }
}
