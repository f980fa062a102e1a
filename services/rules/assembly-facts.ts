// An assembly as the rules know it: how it was built, what was measured of it and how that was judged, where it was loaded.
import type { Position } from '../../shared/entries.ts';
import type { BalanceResult, Build } from '../../shared/messages/index.ts';
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
  readonly lowestMarkedRpm: number | undefined;
  readonly lowestMarkedPart: string | undefined;
  /** Declared anew with other parts: measurements up to this position do not count for it. */
  readonly measuredAfter: Position;
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
  readonly errorGmm: number;
  readonly permissibleGmm: number | undefined;
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
  readonly remarks: readonly string[];
  readonly judgement: Judgement;
  /** A person said that what it led to was raised in error. */
  readonly voided: boolean;
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
  readonly deviation: Deviation | undefined;
  readonly loadedIn: string | undefined;
  readonly loads: readonly LoadRecordState[];
}
