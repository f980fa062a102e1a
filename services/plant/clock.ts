// The service's clock: the machine's, or for a demonstration one that runs faster from a given start.
import type { Clock, Instant } from '../../shared/time.ts';

export interface ClockPace {
  /** The machine's time at which the clock was started. */
  readonly startedAt: Instant;
  /** What it showed then. */
  readonly from: Instant;
  /** How many of its seconds pass in one; 1 is real time. */
  readonly rate: number;
}

export function realPace(): ClockPace {
  const now = Date.now();
  return { startedAt: now, from: now, rate: 1 };
}

export function clockOf({ startedAt, from, rate }: ClockPace): Clock {
  return { now: () => Math.round(from + (Date.now() - startedAt) * rate) };
}
