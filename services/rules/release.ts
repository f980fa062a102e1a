// When a hold ends by itself: its conditions, looked up in the state of the floor, so that order and repeats do not matter.
import type { Hold, ReleaseCondition } from '../../shared/holds.ts';
import { awaitedSince, isOpen } from '../../shared/holds.ts';
import type { Subject } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { rpmWords } from '../../shared/wording.ts';
import { currentBuild, measurementInForce } from './in-force.ts';
import type { MeasurementState } from './floor.ts';
import type { Layer } from './layer.ts';
import { ROUNDING_SHARE } from './limits.ts';
import { actorName, type Outcomes } from './raising.ts';

type Known = Pick<Layer, 'assembly' | 'spindle' | 'bench' | 'hold' | 'openHolds'>;

/** Whether one of a hold's conditions has come about since it was raised. A maintenance release only a person gives. */
export function conditionMet(known: Known, hold: Hold, condition: ReleaseCondition): boolean {
  switch (condition.kind) {
    case 'passing-measurement': {
      const measurement = measuredSince(known, hold, condition.assemblyId);
      return measurement !== undefined && passes(measurement, hold, condition.speedRpm);
    }
    case 'unloaded':
      return known.spindle(condition.spindleId)?.loaded?.assemblyId !== condition.assemblyId;
    case 'hold-ended': {
      const other = known.hold(condition.holdId);
      if (other !== undefined && isOpen(other)) return false;
      // Another of the assembly's holds may keep it from running as well.
      const assemblyId = hold.evidence.assemblyId;
      return assemblyId === undefined || !isResidualHeld(known, assemblyId);
    }
    case 'bench-check-passed':
      return isBenchGood(known, hold, condition.benchId);
    case 'sensor-sound':
      return isSensorSound(known, hold, condition.spindleId);
    case 'verification-run':
      return isVerified(known, hold, condition.spindleId);
    case 'maintenance-release':
      return false;
  }
}

/** No check is failed; where none was, and only its results speak against it, one has to be passed since. */
function isBenchGood(known: Known, { reason, steps }: Hold, benchId: string): boolean {
  const bench = known.bench(benchId);
  if (bench === undefined || bench.doubts.length > 0) return false;
  return reason !== 'vibration-unexplained' || (bench.lastGood?.position ?? 0) > (steps[0]?.cause ?? 0);
}

/** That it speaks well again is not enough: somebody has to have looked at it, or it is another one. */
function isSensorSound(known: Known, { evidence, steps }: Hold, spindleId: string): boolean {
  const spindle = known.spindle(spindleId);
  if (spindle?.state !== 'reporting') return false;
  if (evidence.device !== undefined && spindle.live.heardFrom !== evidence.device) return true;
  return steps.some(({ state }) => state === 'checked');
}

/** A run since the maintenance release was passed. */
function isVerified(known: Known, hold: Hold, spindleId: string): boolean {
  const asked = awaitedSince(hold, 'verification-run');
  const trial = known.spindle(spindleId)?.live.trial;
  return asked !== undefined && trial?.passed === true && trial.from >= asked.cause;
}

/** Whether a release by maintenance is to be verified before the hold ends. */
export const asksForRun = ({ conditions }: Pick<Hold, 'conditions'>): boolean =>
  conditions.some(({ kind }) => kind === 'verification-run');

/** Whether an assembly is on hold for what it is, rather than for where it is. */
export function residualHold(known: Pick<Layer, 'openHolds'>, assemblyId: string): Hold | undefined {
  return known.openHolds({ kind: 'assembly', id: assemblyId }).find((hold) => hold.reason === 'residual-exceeds');
}

const isResidualHeld = (known: Pick<Layer, 'openHolds'>, assemblyId: string): boolean =>
  residualHold(known, assemblyId) !== undefined;

/** The measurement in force of the newest build, where it came after the hold was raised and its bench is to be believed. */
function measuredSince(known: Known, hold: Hold, assemblyId: string): MeasurementState | undefined {
  const assembly = known.assembly(assemblyId);
  if (assembly === undefined) return undefined;
  const measurement = measurementInForce(assembly, currentBuild(assembly)?.buildId);
  const raised = hold.steps[0]?.cause ?? 0;
  if (measurement === undefined || measurement.inDoubt !== undefined) return undefined;
  return measurement.position > raised ? measurement : undefined;
}

/** Within at the speed that was held; for a newer build, at the service speed that it is now meant for. */
function passes({ judgement, buildId }: MeasurementState, hold: Hold, speedRpm: number): boolean {
  const { kind, shownUpToRpm = 0 } = judgement;
  if (shownUpToRpm >= speedRpm * (1 - ROUNDING_SHARE)) return kind !== 'cannot-judge';
  const meantForAnother = hold.reason !== 'speed-above-balanced' && buildId !== hold.evidence.buildId;
  return meantForAnother && kind === 'within';
}

/** Whether the reading since is within though the grade itself cannot be shown: no measurement can pass then. */
export function readWithinOnly(known: Known, hold: Hold, condition: ReleaseCondition): boolean {
  if (condition.kind !== 'passing-measurement') return false;
  const judgement = measuredSince(known, hold, condition.assemblyId)?.judgement;
  return judgement?.kind === 'cannot-be-shown' && (judgement.readingUpToRpm ?? 0) >= condition.speedRpm;
}

/**
 * Where the grade cannot be shown through this interface by anyone, no measurement can pass. A person may release then,
 * if the reading itself with the bench's own error is within.
 */
export function releasableByPerson(known: Known, hold: Hold): boolean {
  return hold.conditions.some(
    (condition) =>
      condition.kind === 'maintenance-release' ||
      condition.kind === 'verification-run' ||
      conditionMet(known, hold, condition) ||
      readWithinOnly(known, hold, condition),
  );
}

/** What the record says of the condition that ended a hold. */
export function noteOf(condition: ReleaseCondition): string {
  switch (condition.kind) {
    case 'passing-measurement':
      return say`measured and within at ${rpmWords(condition.speedRpm)}`;
    case 'unloaded':
      return say`${condition.assemblyId} is no longer in ${condition.spindleId}`;
    case 'hold-ended':
      return say`hold ${condition.holdId} has ended`;
    case 'maintenance-release':
      return say`released by maintenance`;
    case 'verification-run':
      return say`another assembly ran in ${condition.spindleId} as expected`;
    case 'bench-check-passed':
      return say`${condition.benchId} has passed its check again`;
    case 'sensor-sound':
      return say`the sensor of ${condition.spindleId} is sound again`;
  }
}

/** Ends the open holds of a subject whose condition has come about. */
export function settle(outcomes: Outcomes, subject: Subject): void {
  const { layer, entry } = outcomes;
  for (const hold of layer.openHolds(subject)) {
    const met = hold.conditions.find((condition) => conditionMet(layer, hold, condition));
    if (met !== undefined) outcomes.step(hold, { state: 'released', by: actorName(entry), note: noteOf(met) });
  }
}

/** Assemblies first, for what holds a spindle may end with what held its assembly. */
export function settleAll(outcomes: Outcomes, assemblies: Iterable<string>, spindles: Iterable<string>): void {
  for (const id of assemblies) settle(outcomes, { kind: 'assembly', id });
  for (const id of spindles) settle(outcomes, { kind: 'spindle', id });
}
