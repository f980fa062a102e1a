// The face of the balance mathematics: what is permitted, what was measured, how sure one can be, and the verdict.
export { centrifugalForceN, angularSpeedRadS } from './force.ts';
export {
  angleError,
  combineErrors,
  ERROR_CONTRIBUTIONS_MAX,
  minimumAchievableError,
  reclampingError,
  scaleError,
} from './error-budget.ts';
export type { ErrorBudget, ErrorContribution } from './error-budget.ts';
export {
  gradeReachedMmS,
  highestSpeedAtGradeRpm,
  smallestStandardGradeMet,
  specificUnbalanceUm,
  STANDARD_GRADES_MMS,
} from './grade.ts';
export { implausibleMass } from './implausible-mass.ts';
export type { MassQuestion } from './implausible-mass.ts';
export { INDEXING_READINGS_MAX, resolveIndexing, turnsTellApart } from './indexing.ts';
export type { IndexedReading, IndexingFrame, IndexingResult } from './indexing.ts';
export { INTERFACE_SCATTER_DEFAULTS, interfaceKindOf, scatterOf } from './interface-scatter.ts';
export type { InterfaceScatter } from './interface-scatter.ts';
export { GRADE_CONSTANT, permissibleResidualGmm, permissibleSpecificUm } from './permissible.ts';
export type { BalanceDemand } from './permissible.ts';
export { allocateToPlanes, PLANE_SHARE_MAX, PLANE_SHARE_MIN } from './planes.ts';
export type { PlaneAllocation, PlaneGeometry, ShareBasis } from './planes.ts';
export { showabilityOf } from './reclamping.ts';
export type { Showability } from './reclamping.ts';
export { judgeResult, wholeResidual } from './result-verdict.ts';
export type { JudgedPart, MeasuredPlane, MeasuredResult, ResultQuestion, ResultVerdict } from './result-verdict.ts';
export { resolveStaticAndCouple } from './static-and-couple.ts';
export type { StaticAndCouple } from './static-and-couple.ts';
export {
  gFromOz,
  gmmFromGCm,
  gmmFromGIn,
  gmmFromKgM,
  gmmFromOzIn,
  inchFromMm,
  inPerSFromMmPerS,
  kgFromLb,
  lbFromKg,
  lbfFromN,
  mmFromInch,
  mmPerSFromInPerS,
  nFromLbf,
  ozFromG,
  ozInFromGmm,
} from './units.ts';
export {
  differenceUnbalance,
  fromCartesian,
  normaliseAngleDeg,
  sumUnbalance,
  toCartesian,
  turnUnbalance,
} from './vector.ts';
export type { CartesianUnbalance, UnbalanceVector } from './vector.ts';
export { acceptedAtBalancing, acceptedAtLaterCheck, judgeResidual } from './verdict.ts';
export type { AcceptanceQuestion, ResidualQuestion, UndecidedCause, Verdict, VerdictNumbers } from './verdict.ts';
