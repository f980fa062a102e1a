// The last ids of sources that count nothing: enough to know what a network sends twice, not for ever.
import type { Position } from '../../shared/entries.ts';
import { RECENT_IDS_PER_SOURCE_MAX, RECENT_IDS_TOTAL_MAX } from './limits.ts';

/** Two halves: when the newer is full the older is forgotten. */
interface Halves {
  newer: Map<string, Position>;
  older: Map<string, Position>;
}

export class RecentIds {
  readonly #sources = new Map<string, Halves>();

  /** Notes an id; the position of its first when it came before. */
  note(source: string, id: string, position: Position): Position | undefined {
    let halves = this.#sources.get(source);
    if (halves === undefined) {
      halves = { newer: new Map(), older: new Map() };
      this.#sources.set(source, halves);
    }
    const before = halves.newer.get(id) ?? halves.older.get(id);
    if (before !== undefined) return before;
    if (halves.newer.size >= this.#halfMax()) {
      halves.older = halves.newer;
      halves.newer = new Map();
    }
    halves.newer.set(id, position);
    return undefined;
  }

  /** Many such sources share what memory there is. */
  #halfMax(): number {
    const share = Math.floor(RECENT_IDS_TOTAL_MAX / this.#sources.size);
    return Math.max(1, Math.floor(Math.min(RECENT_IDS_PER_SOURCE_MAX, share) / 2));
  }
}
