// What is remembered about holds beside themselves: a sensor in doubt, a run that verifies a repair, work that is planned.
import type { Answering } from '../../shared/answering.ts';
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';

/** A sensor whose readings have not been believed since then. The fold changes it in place. */
export interface SensorDoubt {
  readonly since: Instant;
  readings: number;
  /** Oldest first, at most EVIDENCE_POSITIONS_MAX: the first ones and the latest. */
  positions: Position[];
  /** A hold was raised for this stay; the sensor must be sound before there is another. */
  fired: boolean;
}

/** A run that is to show what a repair was worth. The fold changes it in place. */
export interface TrialRun {
  /** The maintenance release that asks for it, and when that was. */
  readonly from: Position;
  readonly fromAt: Instant;
  /** Loads up to this one were in the spindle before. */
  readonly afterOrdinal: number;
  /** The load and the speed bin that are counted now; 0 before the first. */
  ordinal: number;
  bin: number;
  readings: number;
  firstAt: Instant;
  lastAt: Instant;
  /** Of the readings counted, the highest share of the limit or of what was to be expected. */
  worstShare: number;
  passed: boolean;
}

/** A time in which a spindle is worked on, as a person declared it. */
export interface PlannedWork {
  readonly workId: string;
  readonly from: Instant;
  readonly until: Instant;
  readonly note: string;
  readonly by: string;
  readonly position: Position;
}

/** How holds are to be answered here, and who declared it. */
export interface AnsweringState extends Answering {
  readonly by: string;
  readonly at: Instant;
  readonly position: Position;
}

/** One try of telling somebody of a hold. */
export interface NoticeState {
  readonly noticeId: string;
  readonly channel: string;
  readonly to: string;
  readonly outcome: 'sent' | 'failed' | 'given-up';
  readonly attempt: number;
  readonly at: Instant;
  readonly detail: string | undefined;
}

/** The load that led to these holds, none of them void: nothing is learned from it, also after they have ended. */
export interface HeldLoad {
  readonly ordinal: number;
  readonly holdIds: readonly string[];
}
