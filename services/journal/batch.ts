// A batch sorted out: what is new and where it will stand, what is a repeat, what else goes into the same commit.
import type { Entry, Position } from '../../shared/entries.ts';
import { entryAsKept } from './as-kept.ts';
import type { Arrival, Head, RejectedRow, RepeatKey, Stored } from './index.ts';
import { contentKey, type RepeatMemory, type Seen, type SeenRow } from './repeats.ts';
import { noteWave, type WavesOfBatch } from './waves.ts';

export type RejectedNew = Omit<RejectedRow, 'state'>;

export interface Batch extends Readonly<WavesOfBatch> {
  readonly stored: readonly Stored[];
  readonly entries: readonly Entry[];
  /** How a repeat of each entry is known. */
  readonly origins: readonly (RepeatKey | undefined)[];
  readonly seen: readonly SeenRow[];
  readonly rejected: readonly RejectedNew[];
  readonly retried: readonly Position[];
}

export interface Sorting {
  readonly head: Head;
  readonly memory: RepeatMemory;
  /** What the store knows of the batch's ids, and the keys in the order of the arrivals that have one. */
  readonly known: Map<string, Seen>;
  readonly keys: readonly string[];
}

/** Gives positions to what is new. Changes the memory: if the batch is not stored after all, the memory is spoilt. */
export function sortOut(arrivals: readonly Arrival[], sorting: Sorting): Batch {
  const stored: Stored[] = [];
  const entries: Entry[] = [];
  const origins: (RepeatKey | undefined)[] = [];
  const seen: SeenRow[] = [];
  const rejected: RejectedNew[] = [];
  const retried: Position[] = [];
  const windows: WavesOfBatch = { waves: [], waveChanges: [] };
  let { position, at } = sorting.head;
  let nextKey = 0;
  for (const arrival of arrivals) {
    const { draft, repeat } = arrival;
    const next = position + 1;
    const key = repeat?.by === 'id' ? sorting.keys[nextKey++] : undefined;
    const duplicate = repeat && repeatOf(arrival, repeat, { key, next, sorting, seen });
    if (duplicate !== undefined && arrival.asNew !== true) {
      stored.push(duplicate);
      continue;
    }
    if (!Number.isFinite(draft.at)) throw new TypeError(`an entry arrived at ${draft.at}, which is no time`);
    position = next;
    if (draft.at > at) at = draft.at;
    const entry = entryAsKept(draft, position, at);
    entries.push(entry);
    origins.push(repeat);
    stored.push({ kind: 'kept', position });
    noteWave(windows, entry, arrival);
    if (entry.kind === 'retried') retried.push(entry.rejected);
    if (entry.kind === 'rejected' && arrival.rejected !== undefined) {
      rejected.push({ ...arrival.rejected, position, at, device: entry.device });
    }
  }
  return { stored, entries, origins, seen, rejected, retried, ...windows };
}

interface Looking {
  readonly key: string | undefined;
  readonly next: Position;
  readonly sorting: Sorting;
  readonly seen: SeenRow[];
}

/** The receipt of a repeat; undefined for what is new, which is remembered under its next position. */
function repeatOf({ draft }: Arrival, repeat: RepeatKey, { key, next, sorting, seen }: Looking): Stored | undefined {
  const { memory, known } = sorting;
  switch (repeat.by) {
    case 'sequence': {
      if (!('sequence' in draft) || draft.sequence !== repeat.sequence || draft.bootId !== repeat.bootId) {
        throw new Error(`a message of ${repeat.source} is to be known by a boot and sequence that are not its own`);
      }
      const isNew = memory.noteSequence(repeat.source, repeat.bootId, repeat.sequence);
      return isNew ? undefined : { kind: 'duplicate', sameContent: true };
    }
    case 'recent-id': {
      const before = memory.noteRecent(repeat.source, repeat.id, next);
      return before === undefined ? undefined : { kind: 'duplicate', position: before, sameContent: true };
    }
    case 'id': {
      if (key === undefined) throw new Error(`the id of a message of ${repeat.source} was not looked up`);
      const content = contentKey(repeat.content);
      const before = known.get(key);
      if (before !== undefined) {
        return { kind: 'duplicate', position: before.position, sameContent: before.content === content };
      }
      known.set(key, { position: next, content });
      seen.push({ key, position: next, content });
      return undefined;
    }
  }
}
