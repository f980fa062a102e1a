// What is remembered of what a machine control says, and of a sensor whose speed contradicts it.
import type { Instant } from '../../shared/time.ts';

/** What the machine control said last. */
export interface MachineFacts {
  readonly at: Instant;
  readonly programmedSpeedRpm: number | undefined;
  readonly actualSpeedRpm: number | undefined;
  readonly overridePercent: number | undefined;
  readonly cutting: boolean | undefined;
  /** From when on it says this programmed speed, and this actual one but for its wander; and when it told the actual one last. */
  readonly programmedSince?: Instant | undefined;
  readonly actualSince?: Instant | undefined;
  readonly actualAt?: Instant | undefined;
}

/** A sensor whose readings turn at another speed than the control says. The fold changes it in place. */
export interface SpeedDoubt {
  readonly since: Instant;
  /** Readings that contradicted, and when the last of them came. */
  readings: number;
  lastAt: Instant;
  /** Readings in a row that agreed since. */
  agreedInRow: number;
  /** When that was remarked; undefined while it may be chance. */
  toldAt: Instant | undefined;
}
