// Work on one connection, one after the other in the order it was asked for.

export class Turns {
  #last: Promise<unknown> = Promise.resolve();

  take<T>(work: () => Promise<T> | T): Promise<T> {
    const mine = this.#last.then(work);
    // The next in line does not mind how this one ended; whoever asked for it does.
    this.#last = mine.then(
      () => undefined,
      () => undefined,
    );
    return mine;
  }
}
