// Waiting as something handed in, so that tests wait for nothing.

/** Runs `run` once after so many ms; what it returns calls it off. */
export type After = (ms: number, run: () => void) => () => void;

/** Longer waits are cut to what the platform's timers can do; the plan is made anew when they fire. */
const TIMER_MAX_MS = 2 ** 31 - 1;

export const afterReal: After = (ms, run) => {
  const timer = setTimeout(run, Math.min(ms, TIMER_MAX_MS));
  // A wait for the next try keeps no process alive.
  timer.unref();
  return () => clearTimeout(timer);
};
