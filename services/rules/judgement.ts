// Judges a measurement against its build: error counted, the governing part, and up to which speeds the answer holds.
import {
  highestSpeedAtGradeRpm,
  judgeResult,
  showabilityOf,
  wholeResidual,
  type ErrorBudget,
  type ErrorContribution,
  type InterfaceScatter,
  type MeasuredPlane,
  type MeasuredResult,
  type PlaneGeometry,
  type Verdict,
} from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import type { BuildState, JudgedPlane, Judgement, MeasuredPlaneState, MeasurementState } from './floor.ts';
import { UNBOUNDED_RPM } from './limits.ts';
import { errorOf, reclampingOf, type ErrorQuestion, type Measured } from './measuring-error.ts';

type Counted = ErrorQuestion['reclamping'];

const NOT_COUNTED: Counted = { countedUm: 0, source: undefined };

function measuredPlane(
  plane: MeasuredPlaneState,
  measured: Measured,
  massKg: number | undefined,
  reclamping: Counted,
): { readonly plane: MeasuredPlane; readonly budget: ErrorBudget } {
  const budget = errorOf({
    amountGmm: plane.residualGmm,
    massKg,
    scatterGmm: plane.scatterGmm,
    error: measured.error,
    reclamping,
    planesRoot: 1,
  });
  const unbalance = { gmm: plane.residualGmm, angleDeg: plane.angleDeg };
  return { plane: { unbalance, errorGmm: budget.errorGmm }, budget };
}

/** A result with the whole's error and what it was made of. */
interface WithError {
  readonly result: MeasuredResult;
  readonly budget: ErrorBudget;
}

function resultOf(measured: Measured, massKg: number | undefined, reclamping: Counted): WithError {
  const [a, b] = measured.planes;
  if (a === undefined) throw new Error('a measurement has at least one plane');
  if (b === undefined) {
    const { plane, budget } = measuredPlane(a, measured, massKg, reclamping);
    return { result: { kind: 'one-plane', plane }, budget };
  }
  // Each plane carries half of the mass where nothing tells better, so half of the reclamping unbalance.
  const halfKg = massKg === undefined ? undefined : massKg / 2;
  const { plane: planeA } = measuredPlane(a, measured, halfKg, reclamping);
  const { plane: planeB } = measuredPlane(b, measured, halfKg, reclamping);
  const whole = wholeResidual({ kind: 'two-planes', planeA, planeB, staticErrorGmm: null });
  const budget = errorOf({
    amountGmm: whole.gmm,
    massKg,
    scatterGmm: together(a.scatterGmm, b.scatterGmm),
    error: measured.error,
    reclamping,
    planesRoot: Math.SQRT2,
  });
  return { result: { kind: 'two-planes', planeA, planeB, staticErrorGmm: budget.errorGmm }, budget };
}

const together = (one: number | undefined, other: number | undefined): number | undefined =>
  one === undefined && other === undefined ? undefined : Math.hypot(one ?? 0, other ?? 0);

const twoPlanesOf = (result: MeasuredResult): readonly MeasuredPlane[] =>
  result.kind === 'one-plane' ? [] : [result.planeA, result.planeB];

/** What a measured plane may be off, and what it may keep. */
export function judgedPlaneOf({ judgement }: Pick<MeasurementState, 'judgement'>, index: number): JudgedPlane {
  return judgement.planes[index] ?? judgement;
}

/** What the whole's error was made of, worked out again: too much to be remembered of every measurement. */
export function errorPartsOf(
  measurement: Measured & Pick<MeasurementState, 'judgement'>,
  build: BuildState | undefined,
  interfaces: readonly InterfaceScatter[] = [],
): readonly ErrorContribution[] {
  const { kind, massKg } = measurement.judgement;
  if (kind === 'cannot-judge' || massKg === undefined)
    return resultOf(measurement, massKg, NOT_COUNTED).budget.contributions;
  const reclamping = reclampingOf(measurement, build, interfaces);
  const { errorGmm, contributions } = resultOf(measurement, massKg, reclamping).budget;
  const leastGmm = massKg * (reclamping.leastUm ?? 0);
  if (leastGmm <= errorGmm) return contributions;
  const gmm = Math.sqrt(leastGmm ** 2 - errorGmm ** 2);
  return [...contributions, { name: LEAST_RECLAMPING, gmm, source: reclamping.source ?? say`the build as declared` }];
}

/** What a verdict counts beyond the bench's own error: the bench measured one clamping, and it will run in another. */
const LEAST_RECLAMPING = say`interface's least reclamping, from the next clamping on`;

/** Where the planes lie about the centre of mass; null where any of it was not told, and the planes share half each. */
function geometryOf(measured: Measured, build: BuildState | undefined): PlaneGeometry | null {
  const planeAMm = measured.planes[0]?.positionMm;
  const planeBMm = measured.planes[1]?.positionMm;
  const centreOfMassMm = build?.centreOfMassMm;
  if (planeAMm === undefined || planeBMm === undefined || centreOfMassMm === undefined) return null;
  return planeAMm === planeBMm ? null : { planeAMm, planeBMm, centreOfMassMm };
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
  const { result, budget } = resultOf(measured, demand.massKg, NOT_COUNTED);
  const { gmm: residualGmm, angleDeg } = wholeResidual(result);
  const { errorGmm } = budget;
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
    angleDeg,
    errorGmm,
    permissibleGmm: undefined,
    planes: twoPlanesOf(result).map((plane) => ({ errorGmm: plane.errorGmm, permissibleGmm: undefined })),
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

const judgedPlane = ({ errorGmm, permissibleGmm }: Verdict): JudgedPlane => ({ errorGmm, permissibleGmm });

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
export function judge(
  measured: Measured,
  build: BuildState | undefined,
  interfaces: readonly InterfaceScatter[] = [],
): Judgement {
  const { massKg, serviceSpeedRpm, gradeMmS } = demandOf(measured, build);
  if (massKg === undefined || serviceSpeedRpm === undefined || gradeMmS === undefined)
    return cannotJudge(measured, { massKg, serviceSpeedRpm, gradeMmS });
  const reclamping = reclampingOf(measured, build, interfaces);
  const { result } = resultOf(measured, massKg, reclamping);
  const demand = { massKg, serviceSpeedRpm, gradeMmS };
  const geometry = geometryOf(measured, build);
  const verdict = judgeResult({ result, demand, geometry, reclampingUm: reclamping.leastUm });
  const bare = judgeResult({
    result: resultOf(measured, massKg, NOT_COUNTED).result,
    demand,
    geometry,
    reclampingUm: null,
  });
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
    angleDeg: wholeResidual(result).angleDeg,
    errorGmm: whole.errorGmm,
    permissibleGmm: whole.permissibleGmm,
    planes: verdict.parts.flatMap((one) => (one.part === 'whole' ? [] : [judgedPlane(one.verdict)])),
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
