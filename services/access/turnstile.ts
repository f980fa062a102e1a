// Lets a few costly works run at once and a few wait; whoever comes beyond that is told to come back.

export interface Turnstile {
  /** Undefined when the queue is full: the work was not started. */
  pass<T>(work: () => Promise<T>): Promise<T | undefined>;
}

export function createTurnstile({ atOnceMax, waitingMax }: { atOnceMax: number; waitingMax: number }): Turnstile {
  let running = 0;
  const waiting: (() => void)[] = [];
  return {
    async pass<T>(work: () => Promise<T>): Promise<T | undefined> {
      if (running >= atOnceMax) {
        if (waiting.length >= waitingMax) return undefined;
        // The one that finishes hands its place over: `running` does not change in between.
        await new Promise<void>((resolve) => waiting.push(resolve));
      } else running += 1;
      try {
        return await work();
      } finally {
        const next = waiting.shift();
        if (next === undefined) running -= 1;
        else next();
      }
    },
  };
}
