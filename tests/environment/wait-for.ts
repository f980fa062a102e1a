// Waiting for a condition of the outside world (a port that answers, a line that was printed) instead of sleeping.
import { setTimeout as pause } from 'node:timers/promises';

const POLL_MS = 20;
const WITHIN_MS = 20_000;

/** Asks again until the answer is there; fails with `what` when it has not come within `withinMs`. */
export async function waitFor<T>(
  what: string | (() => string),
  ask: () => T | undefined | false | Promise<T | undefined | false>,
  withinMs = WITHIN_MS,
): Promise<T> {
  const deadline = performance.now() + withinMs;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined && answer !== false) return answer;
    if (performance.now() > deadline) {
      throw new Error(`waited ${withinMs} ms in vain for ${typeof what === 'string' ? what : what()}`);
    }
    await pause(POLL_MS);
  }
}
