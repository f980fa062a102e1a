// One channel's own queue: which holds are ready, waiting for their next try, or under way on it.
import type { Instant } from '../../shared/time.ts';
import type { Way } from './way.ts';

export class Line {
  readonly channel: string;
  readonly way: Way;
  /** Hold ids in the order in which they became ready. */
  readonly ready = new Set<string>();
  readonly waiting = new Map<string, Instant>();
  /** One notice of a hold at a time, so that they arrive in order. */
  readonly busy = new Set<string>();
  testing = false;

  constructor(channel: string, way: Way) {
    this.channel = channel;
    this.way = way;
  }

  has(holdId: string): boolean {
    return this.ready.has(holdId) || this.waiting.has(holdId) || this.busy.has(holdId);
  }

  size(): number {
    return this.ready.size + this.waiting.size + this.busy.size;
  }

  /** Takes the first that is ready; undefined when none is. */
  next(): string | undefined {
    for (const holdId of this.ready) {
      this.ready.delete(holdId);
      return holdId;
    }
    return undefined;
  }

  makeReady(holdId: string): void {
    this.waiting.delete(holdId);
    this.ready.add(holdId);
  }

  makeWait(holdId: string, until: Instant): void {
    this.ready.delete(holdId);
    this.waiting.set(holdId, until);
  }

  drop(holdId: string): void {
    this.ready.delete(holdId);
    this.waiting.delete(holdId);
  }
}
