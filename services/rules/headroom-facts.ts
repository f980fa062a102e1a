// What is remembered of how fast a spindle runs against what was programmed: plain data in the floor.
import type { OverrideKept, OverrideRise } from '../../shared/headroom.ts';
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';

export type * from './tool-life-facts.ts';

/** One assembly at one programmed speed in one week. Changed in place while its week lasts. */
export interface ProgramSums {
  /** Weeks since 1970, beginning on a Monday, UTC. */
  readonly week: number;
  readonly assemblyId: string;
  readonly programmedRpm: number;
  cutMs: number;
  reducedMs: number;
  awayMs: number;
}

/** An override that was turned down: what it is held against until it is turned up again. */
export interface OverrideWatch {
  readonly stepAt: Instant;
  readonly stepPosition: Position;
  readonly fromPercent: number;
  toPercent: number;
  readonly assemblyId: string | undefined;
  /** Of the load that was in the spindle. */
  readonly ordinal: number;
  rise: OverrideRise | undefined;
  goneAt: Instant | undefined;
  goneBy: OverrideKept['goneBy'];
  /** In the cut since it was turned down, and since the cause has gone. */
  cutMs: number;
  cutSinceGoneMs: number;
  awayMs: number;
  /** As it was put on record. */
  told: OverrideKept | undefined;
}

/** What holds from one message to the next, the sums of it, and the override's watch. Changed in place by the fold. */
export interface HeadroomState {
  since: Instant;
  assemblyId: string | undefined;
  programmedRpm: number | undefined;
  actualRpm: number | undefined;
  overridePercent: number | undefined;
  cutting: boolean | undefined;
  /** Days since 1970 UTC; the day that is being filled and its sums. */
  day: number;
  cutMs: number;
  reducedMs: number;
  awayMs: number;
  untoldMs: number;
  /** Days that ended, oldest first, at most HEADROOM_DAYS_MAX, and DAY_SUMS numbers of each; replaced whole. */
  days: readonly number[];
  sums: readonly number[];
  /** By week; at most PROGRAMS_PER_SPINDLE_MAX. */
  programs: ProgramSums[];
  /** The override that it usually cuts with, and how long another has cut in its place. */
  steadyPercent: number | undefined;
  otherPercent: number | undefined;
  otherMs: number;
  rise: OverrideRise | undefined;
  watch: OverrideWatch | undefined;
}
