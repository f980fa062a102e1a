// A bench as the rules know it: what its checks said, when it is due, and whether its results are to be believed.
import type { Position } from '../../shared/entries.ts';
import type { BenchTest } from '../../shared/messages/index.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { Stamp } from './assembly-facts.ts';

/** A proving rotor measured. */
export interface ProofState {
  readonly at: Instant;
  readonly position: Position;
  readonly rotorSerial: string;
  /** Of the plane that is farthest from what is expected, as a vector. */
  readonly offGmm: number;
  readonly toleranceGmm: number;
  /** Mean over the planes of read ÷ expected amount; 1 where nothing is expected. */
  readonly scale: number;
  readonly within: boolean;
}

/** A test as far as it has come. */
export interface TestState {
  readonly at: Instant;
  readonly position: Position;
  readonly data: BenchTest;
}

/** Eccentricity of bench spindle and adapter, as a result's index readings told it. */
export interface OwnPartPoint {
  readonly at: Instant;
  readonly position: Position;
  readonly um: number;
  readonly angleDeg: number;
}

export const DOUBT_CAUSES = ['proof', 'minimum-achievable', 'reduction-ratio', 'calibration'] as const;
export type DoubtCause = (typeof DOUBT_CAUSES)[number];

/** A check that the bench did not pass, and has not passed since. */
export interface DoubtState {
  readonly cause: DoubtCause;
  /** When it was found, and by which entry. */
  readonly at: Instant;
  readonly position: Position;
  readonly stamp: Stamp | undefined;
  /** From when on its results are not believed: the last good check, or the day the calibration ended. */
  readonly since: Instant;
  readonly why: string;
}

/** The last check that showed the bench to be right. */
export interface GoodCheck {
  readonly at: Instant;
  readonly position: Position;
  readonly stamp: Stamp | undefined;
}

export interface BenchState {
  readonly bench: string;
  readonly state: SubjectState;
  readonly lastResultAt: Instant | undefined;
  readonly proofs: readonly ProofState[];
  readonly tests: readonly TestState[];
  readonly ownPart: readonly OwnPartPoint[];
  /** As birth or proof said it. */
  readonly calibratedUntil: Instant | undefined;
  /** The end of calibration that a person set aside. */
  readonly calibrationLifted: Instant | undefined;
  readonly lastGood: GoodCheck | undefined;
  readonly doubts: readonly DoubtState[];
  /** What ended the last doubt: what was measured before it stays in doubt, however late it comes. */
  readonly believedAgain: GoodCheck | undefined;
}
