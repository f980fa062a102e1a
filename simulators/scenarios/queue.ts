// What is to happen next, earliest first: a binary heap (J. W. J. Williams 1964); equal instants keep their order of entry.

interface Waiting<T> {
  readonly at: number;
  readonly order: number;
  readonly what: T;
}

export class Queue<T> {
  readonly #heap: Waiting<T>[] = [];
  #order = 0;

  get nextAt(): number {
    return this.#heap[0]?.at ?? Infinity;
  }

  add(at: number, what: T): void {
    const heap = this.#heap;
    let place = heap.length;
    const waiting = { at, order: (this.#order += 1), what };
    heap.push(waiting);
    while (place > 0) {
      const above = (place - 1) >> 1;
      const parent = heap[above];
      if (parent === undefined || !isBefore(waiting, parent)) break;
      heap[place] = parent;
      place = above;
    }
    heap[place] = waiting;
  }

  /** Throws where nothing waits. */
  take(): T {
    const heap = this.#heap;
    const [first] = heap;
    const last = heap.pop();
    if (first === undefined || last === undefined) throw new RangeError('nothing waits');
    if (heap.length > 0) this.#sink(last);
    return first.what;
  }

  #sink(last: Waiting<T>): void {
    const heap = this.#heap;
    let place = 0;
    for (;;) {
      let below = 2 * place + 1;
      const left = heap[below];
      const right = heap[below + 1];
      if (left === undefined) break;
      if (right !== undefined && isBefore(right, left)) below += 1;
      const child = heap[below];
      if (child === undefined || !isBefore(child, last)) break;
      heap[place] = child;
      place = below;
    }
    heap[place] = last;
  }
}

function isBefore(one: Waiting<unknown>, other: Waiting<unknown>): boolean {
  return one.at < other.at || (one.at === other.at && one.order < other.order);
}
