// An assembly as the rules know it: how it was built, what was measured of it and how that was judged, where it was loaded.
import type { Position } from '../../shared/entries.ts';
import type { BalanceResult, Build, CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';

/** When something happened as well as can be known, and what orders it among messages of the same device. */
export interface Stamp {
  readonly device: string;
  /** The device's time, corrected by its measured clock offset; the arrival where it told none. */
  readonly measuredAt: Instant;
  /** The device was not heard in time then: it may have been cut off, and this have waited in it. */
  readonly waited: boolean;
  readonly time: Instant | undefined;
  readonly bootId: string | undefined;
  readonly sequence: number | undefined;
}

/** A build as it was declared, or as a result implies it where its declaration has not come. */
export interface BuildState {
  readonly buildId: string;
  readonly position: Position;
  readonly stamp: Stamp;
  readonly declared: boolean;
  readonly massKg: number | undefined;
  readonly serviceSpeedRpm: number | undefined;
  readonly gradeMmS: number | undefined;
  readonly interface: string | undefined;
  readonly reclampingUm: number | undefined;
  readonly centreOfMassMm: number | undefined;
  readonly parts: Build['parts'];
  /** Where it can be corrected, as its holder's maker permits it. */
  readonly features: readonly CorrectionFeature[];
  readonly lowestMarkedRpm: number | undefined;
  readonly lowestMarkedPart: string | undefined;
  readonly teeth?: number | undefined;
  /** Declared anew with other parts: measurements up to this position do not count for it. */
  readonly measuredAfter: Position;
  /** What cannot be meant as it was declared, in words; it is used as it was told. */
  readonly remarks: readonly string[];
}

export type JudgementKind = 'within' | 'exceeds' | 'undecided' | 'cannot-be-shown' | 'cannot-judge';

/** What a measurement says of its build at the build's service speed, and up to which speeds it says so. */
export interface Judgement {
  readonly kind: JudgementKind;
  readonly massKg: number | undefined;
  readonly serviceSpeedRpm: number | undefined;
  readonly gradeMmS: number | undefined;
  /** Of the part that governs: the whole, or one of two planes. */
  readonly part: 'whole' | 'plane-a' | 'plane-b';
  readonly partResidualGmm: number;
  readonly partErrorGmm: number;
  readonly partPermissibleGmm: number | undefined;
  /** The whole residual with its error and what the whole may keep. */
  readonly residualGmm: number;
  readonly angleDeg: number;
  readonly errorGmm: number;
  readonly permissibleGmm: number | undefined;
  /** Of two planes, in their order; with one plane it is the whole. */
  readonly planes: readonly JudgedPlane[];
  /** U ÷ U_per of the part that governs. */
  readonly factor: number | undefined;
  readonly gradeReachedMmS: number | undefined;
  /** Up to here U + ΔU stays within the grade. */
  readonly shownUpToRpm: number | undefined;
  /** Above here U − ΔU exceeds it. */
  readonly exceedsAboveRpm: number | undefined;
  /** Above here the interface's reclamping scatter alone uses up what is permitted. */
  readonly showableUpToRpm: number | undefined;
  /** Up to here the reading with the bench's own error stays within, reclamping left aside. */
  readonly readingUpToRpm: number | undefined;
  readonly reclampingUm: number | undefined;
  readonly reclampingSource: string | undefined;
}

/** ΔU of a measured plane as its verdict counted it, and what it may keep where anything is demanded of it. */
export interface JudgedPlane {
  readonly errorGmm: number;
  readonly permissibleGmm: number | undefined;
}

export interface MeasuredPlaneState {
  readonly name: string;
  readonly residualGmm: number;
  readonly angleDeg: number;
  readonly positionMm: number | undefined;
  /** Bench spindle and adapter, where index readings told them apart. */
  readonly benchGmm: number | undefined;
  readonly benchAngleDeg: number | undefined;
  /** Error of the plane from the scatter of its index readings. */
  readonly scatterGmm: number | undefined;
}

export interface MeasurementState {
  readonly position: Position;
  readonly at: Instant;
  readonly stamp: Stamp;
  readonly bench: string;
  readonly buildId: string;
  readonly stage: BalanceResult['stage'];
  readonly planes: readonly MeasuredPlaneState[];
  readonly indexed: boolean;
  readonly error: BalanceResult['error'];
  readonly massKg: number | undefined;
  readonly serviceSpeedRpm: number | undefined;
  readonly gradeMmS: number | undefined;
  readonly measuredAtRpm: number | undefined;
  readonly remarks: readonly string[];
  readonly judgement: Judgement;
  /** Larger than the measurement before it, beyond both errors: in words. */
  readonly worse: string | undefined;
  /** Why its bench is not to be believed: it failed a check and was not good since the check before. */
  readonly inDoubt: string | undefined;
  /** A person said that what it led to was raised in error. */
  readonly voided: boolean;
}

/** A change of the unbalance in one plane, g·mm from the assembly's mark. */
export interface PlaneChange {
  readonly name: string;
  readonly gmm: number;
  readonly angleDeg: number;
}

/** What corrections between two measurements changed, against what they should have. */
export interface Achieved {
  readonly before: Position;
  readonly after: Position;
  readonly bench: string;
  /** The kinds of place at which it was corrected. */
  readonly method: string;
  readonly predicted: readonly PlaneChange[];
  readonly achieved: readonly PlaneChange[];
  /** Achieved ÷ predicted, and the angle between them, in the plane in which most was predicted. */
  readonly amountRatio: number;
  readonly angleOffDeg: number;
}

/** Something done to a build: what was measured before it no longer speaks of it. */
export interface CorrectionState {
  readonly position: Position;
  readonly at: Instant;
  readonly stamp: Stamp;
  readonly buildId: string;
  /** Orders it among measurements: its own position, or that of the one in whose place it counts. */
  readonly placedAt: Position;
  readonly insteadOf: Position | undefined;
  /** Its record was mistaken: another counts in its place. */
  readonly replacedBy: Position | undefined;
  /** Nobody had declared or measured its build when it came. */
  readonly ofUnknownBuild: boolean;
  readonly by: string | undefined;
  readonly bench: string | undefined;
  readonly planId: string | undefined;
  readonly note: string | undefined;
  readonly steps: readonly CorrectionStep[];
  /** The kinds of place at which it was made. */
  readonly method: string;
  /** What its steps should change, by plane; empty where a step is at no place that its build declares. */
  readonly predicted: readonly PlaneChange[];
  /** The measurement in force when it was done. */
  readonly before: Position | undefined;
  /** The first that counted after it. */
  readonly after: Position | undefined;
  /** Of all corrections between the two measurements; stands with the last of them. */
  readonly achieved: Achieved | undefined;
  /** What was done beyond the limits of its place, or not told. */
  readonly remarks: readonly string[];
  /** How what came of it differs from what was predicted; stands with `achieved`. */
  readonly shortfalls: readonly string[];
}

/** Somebody with the right to it said "run on": it holds for this build until it is measured anew. */
export interface Deviation {
  readonly buildId: string | undefined;
  readonly measurement: Position | undefined;
  readonly upToRpm: number;
  readonly by: string;
  readonly holdId: string;
}

export interface LoadRecordState {
  readonly spindleId: string;
  readonly ordinal: number;
  readonly assemblyId: string;
  readonly buildId: string | undefined;
  readonly at: Instant;
  readonly until: Instant | undefined;
  readonly position: Position;
}

export interface AssemblyState {
  readonly assemblyId: string;
  /** Oldest first by what happened, not by what arrived; the last is the current one. */
  readonly builds: readonly BuildState[];
  /** Oldest first by what happened. */
  readonly measurements: readonly MeasurementState[];
  /** Oldest first by what happened. */
  readonly corrections: readonly CorrectionState[];
  readonly deviation: Deviation | undefined;
  readonly loadedIn: string | undefined;
  readonly loads: readonly LoadRecordState[];
}
