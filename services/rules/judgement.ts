// Judges a measurement against its build: error counted, the governing part, and up to which speeds the answer holds.
import {
  angleError,
  combineErrors,
  highestSpeedAtGradeRpm,
  judgeResult,
  minimumAchievableError,
  reclampingError,
  scaleError,
  scatterOf,
  showabilityOf,
  wholeResidual,
  type ErrorContribution,
  type MeasuredPlane,
  type MeasuredResult,
  type PlaneGeometry,
  type Verdict,
} from '../../shared/balance/index.ts';
import type { BuildState, Judgement, MeasuredPlaneState, MeasurementState } from './floor.ts';
import { interfaceKindOf } from './interface-kind.ts';
import { UNBOUNDED_RPM } from './limits.ts';

type Measured = Pick<MeasurementState, 'planes' | 'error' | 'massKg' | 'serviceSpeedRpm' | 'gradeMmS'>;

/** Reclamping eccentricity, µm: the least of the interface, and what is counted into one measurement's error. */
interface Reclamping {
  readonly leastUm: number | null;
  readonly countedUm: number;
  readonly source: string | undefined;
}

/** The bench's own figure comes first for its error, the build's for the interface, then what is usual for the interface. */
function reclampingOf(measured: Measured, build: BuildState | undefined): Reclamping {
  const kind = build?.interface === undefined ? undefined : interfaceKindOf(build.interface);
  const usual = kind === undefined ? null : scatterOf(kind);
  const declaredUm = build?.reclampingUm;
  const benchUm = measured.error?.reclampingUm;
  return {
    leastUm: declaredUm ?? usual?.lowUm ?? null,
    countedUm: benchUm ?? declaredUm ?? usual?.highUm ?? 0,
    source: declaredUm === undefined ? usual?.source : 'the build as declared',
  };
}

interface ErrorQuestion {
  readonly amountGmm: number;
  readonly massKg: number | undefined;
  readonly scatterGmm: number | undefined;
  readonly error: Measured['error'];
  readonly reclampingUm: number;
  /** √2 for the vector sum of two planes, each with its own smallest achievable residual. */
  readonly planesRoot: number;
}

/** ΔU of an amount, g·mm (ISO 21940-14), from what the bench says of itself and the scatter of its index readings. */
function errorOf(question: ErrorQuestion): number {
  const { amountGmm, massKg, scatterGmm, error, reclampingUm, planesRoot } = question;
  const parts: ErrorContribution[] = [];
  if (error?.smallestAchievableGmm !== undefined)
    parts.push(minimumAchievableError(error.smallestAchievableGmm * planesRoot, 'bench'));
  if (error?.scaleErrorPercent !== undefined) parts.push(scaleError(amountGmm, error.scaleErrorPercent, 'bench'));
  if (error?.angleErrorDeg !== undefined) parts.push(angleError(amountGmm, error.angleErrorDeg, 'bench'));
  if (scatterGmm !== undefined)
    parts.push({ name: 'scatter of the index readings', gmm: scatterGmm, source: 'readings' });
  if (massKg !== undefined && reclampingUm > 0) parts.push(reclampingError(massKg, reclampingUm, 'reclamping'));
  return combineErrors(parts).errorGmm;
}

function measuredPlane(
  plane: MeasuredPlaneState,
  measured: Measured,
  massKg: number | undefined,
  reclampingUm: number,
): MeasuredPlane {
  return {
    unbalance: { gmm: plane.residualGmm, angleDeg: plane.angleDeg },
    errorGmm: errorOf({
      amountGmm: plane.residualGmm,
      massKg,
      scatterGmm: plane.scatterGmm,
      error: measured.error,
      reclampingUm,
      planesRoot: 1,
    }),
  };
}

function resultOf(measured: Measured, massKg: number | undefined, reclampingUm: number): MeasuredResult {
  const [a, b] = measured.planes;
  if (a === undefined) throw new Error('a measurement has at least one plane');
  if (b === undefined) return { kind: 'one-plane', plane: measuredPlane(a, measured, massKg, reclampingUm) };
  // Each plane carries half of the mass where nothing tells better, so half of the reclamping unbalance.
  const halfKg = massKg === undefined ? undefined : massKg / 2;
  const planeA = measuredPlane(a, measured, halfKg, reclampingUm);
  const planeB = measuredPlane(b, measured, halfKg, reclampingUm);
  const whole = wholeResidual({ kind: 'two-planes', planeA, planeB, staticErrorGmm: null });
  const scatterGmm = Math.hypot(a.scatterGmm ?? 0, b.scatterGmm ?? 0);
  const staticErrorGmm = errorOf({
    amountGmm: whole.gmm,
    massKg,
    scatterGmm,
    error: measured.error,
    reclampingUm,
    planesRoot: Math.SQRT2,
  });
  return { kind: 'two-planes', planeA, planeB, staticErrorGmm };
}

/** Where the planes lie about the centre of mass; null where any of it was not told, and the planes share half each. */
function geometryOf(measured: Measured, build: BuildState | undefined): PlaneGeometry | null {
  const planeAMm = measured.planes[0]?.positionMm;
  const planeBMm = measured.planes[1]?.positionMm;
  const centreOfMassMm = build?.centreOfMassMm;
  if (planeAMm === undefined || planeBMm === undefined || centreOfMassMm === undefined) return null;
  return planeAMm === planeBMm ? null : { planeAMm, planeBMm, centreOfMassMm };
}

function wholeErrorOf(result: MeasuredResult): number {
  return result.kind === 'one-plane' ? result.plane.errorGmm : (result.staticErrorGmm ?? 0);
}

const lowestSpeed = (speeds: readonly (number | null)[]): number =>
  speeds.reduce<number>((least, speed) => Math.min(least, speed ?? UNBOUNDED_RPM), UNBOUNDED_RPM);

/** The speed at which a part would just keep its grade if it had this residual. */
function speedWith(verdict: Verdict, residualGmm: number): number | null {
  const { massKg, gradeMmS } = verdict.demand;
  return highestSpeedAtGradeRpm({ residualGmm: Math.max(0, residualGmm), massKg, gradeMmS });
}

/** A measurement that names no mass, speed or grade, and whose build does not either, cannot be judged. */
function cannotJudge(measured: Measured, demand: Partial<Demand>): Judgement {
  const result = resultOf(measured, demand.massKg, 0);
  const residualGmm = wholeResidual(result).gmm;
  const errorGmm = wholeErrorOf(result);
  return {
    kind: 'cannot-judge',
    massKg: demand.massKg,
    serviceSpeedRpm: demand.serviceSpeedRpm,
    gradeMmS: demand.gradeMmS,
    part: 'whole',
    partResidualGmm: residualGmm,
    partErrorGmm: errorGmm,
    partPermissibleGmm: undefined,
    residualGmm,
    errorGmm,
    permissibleGmm: undefined,
    factor: undefined,
    gradeReachedMmS: undefined,
    shownUpToRpm: undefined,
    exceedsAboveRpm: undefined,
    showableUpToRpm: undefined,
    readingUpToRpm: undefined,
    reclampingUm: undefined,
    reclampingSource: undefined,
  };
}

interface Demand {
  readonly massKg: number | undefined;
  readonly serviceSpeedRpm: number | undefined;
  readonly gradeMmS: number | undefined;
}

/** What the build is asked to meet; what the result says of it fills the gaps. */
export function demandOf(measured: Demand, build: BuildState | undefined): Demand {
  return {
    massKg: build?.massKg ?? measured.massKg,
    serviceSpeedRpm: build?.serviceSpeedRpm ?? measured.serviceSpeedRpm,
    gradeMmS: build?.gradeMmS ?? measured.gradeMmS,
  };
}

/**
 * The judgement of a measurement for its build (ISO 21940-11 and -14): within when U + ΔU ≤ U_per, exceeds when
 * U − ΔU > U_per, cannot-be-shown where one reclamping alone may use up what is permitted, undecided otherwise.
 */
export function judge(measured: Measured, build: BuildState | undefined): Judgement {
  const { massKg, serviceSpeedRpm, gradeMmS } = demandOf(measured, build);
  if (massKg === undefined || serviceSpeedRpm === undefined || gradeMmS === undefined)
    return cannotJudge(measured, { massKg, serviceSpeedRpm, gradeMmS });
  const reclamping = reclampingOf(measured, build);
  const result = resultOf(measured, massKg, reclamping.countedUm);
  const demand = { massKg, serviceSpeedRpm, gradeMmS };
  const geometry = geometryOf(measured, build);
  const verdict = judgeResult({ result, demand, geometry, reclampingUm: reclamping.leastUm });
  const bare = judgeResult({ result: resultOf(measured, massKg, 0), demand, geometry, reclampingUm: null });
  const { governing } = verdict;
  const whole = verdict.parts[0]?.verdict ?? governing;
  const scattered = governing.kind === 'undecided' && governing.cause === 'reclamping-scatter';
  const showable =
    reclamping.leastUm === null
      ? null
      : showabilityOf({ gradeMmS, speedRpm: serviceSpeedRpm, scatterUm: reclamping.leastUm }).highestSpeedRpm;
  return {
    kind: scattered ? 'cannot-be-shown' : verdict.kind,
    massKg,
    serviceSpeedRpm,
    gradeMmS,
    part: verdict.governedBy,
    partResidualGmm: governing.residualGmm,
    partErrorGmm: governing.errorGmm,
    partPermissibleGmm: governing.permissibleGmm,
    residualGmm: whole.residualGmm,
    errorGmm: whole.errorGmm,
    permissibleGmm: whole.permissibleGmm,
    factor: governing.factor,
    gradeReachedMmS: verdict.gradeReachedWithErrorMmS,
    shownUpToRpm: verdict.highestSpeedWithErrorRpm ?? UNBOUNDED_RPM,
    exceedsAboveRpm: lowestSpeed(
      verdict.parts.map((p) => speedWith(p.verdict, p.verdict.residualGmm - p.verdict.errorGmm)),
    ),
    showableUpToRpm: showable ?? UNBOUNDED_RPM,
    readingUpToRpm: bare.highestSpeedWithErrorRpm ?? UNBOUNDED_RPM,
    reclampingUm: reclamping.leastUm ?? undefined,
    reclampingSource: reclamping.source,
  };
}
