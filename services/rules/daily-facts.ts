// What is remembered of a level day by day, at each speed: plain data in the floor.
import type { LimitAhead } from '../../shared/ahead.ts';

/** One quantity at one speed. Lists are replaced whole, never changed in place. */
export interface DailyTrack {
  /** Of the hour that is being filled. */
  hourSum: number;
  hourReadings: number;
  /** Means of the hours that ended on the day that is being filled. */
  hours: readonly number[];
  /** Days since 1970 UTC, and the level of each, mm/s RMS; oldest first, at most DAYS_KEPT_MAX. */
  days: readonly number[];
  levelsMmS: readonly number[];
  /** What was put on record last of when the limit is reached. */
  told: Readonly<LimitAhead> | undefined;
}

/** Both quantities are filled hour by hour; changed in place. */
export interface DailyLevels {
  /** Hours since 1970 UTC. */
  hour: number;
  readonly overall: DailyTrack;
  readonly synchronous: DailyTrack;
}
