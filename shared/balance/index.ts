// The face of the balance mathematics: what is permitted, what was measured, how sure one can be, and the verdict.
export { balanceByAmplitudes } from './amplitude-runs.ts';
export type { AmplitudeRuns, ContradictoryRuns, TwoPlaces } from './amplitude-runs.ts';
export { bearingSharePercent, permissibleByBearingLoadGmm, permissibleForceN } from './bearing-load.ts';
export type { BearingLoadCriterion } from './bearing-load.ts';
export { combineParts, PARTS_MAX, predictionAgainst } from './combined-parts.ts';
export type { CombinedPrediction, JointShare, MeasuredPart } from './combined-parts.ts';
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
export { implausibleMass, TOOL_MASS_MAX_KG, TOOL_MASS_MIN_KG } from './implausible-mass.ts';
export type { MassQuestion } from './implausible-mass.ts';
export {
  influenceCoefficients,
  SENSORS_MAX,
  TRIALS_MAX,
  WEAK_AMPLITUDE_SHARE,
  WEAK_PHASE_DEG,
} from './influence-coefficients.ts';
export type {
  InfluenceCoefficients,
  PhaseSense,
  TrialRun,
  TrialRuns,
  VibrationVector,
} from './influence-coefficients.ts';
export { INDEXING_READINGS_MAX, resolveIndexing, turnsTellApart } from './indexing.ts';
export type { IndexedReading, IndexingFrame, IndexingResult } from './indexing.ts';
export { INTERFACE_SCATTER_DEFAULTS, interfaceKindOf, scatterOf } from './interface-scatter.ts';
export type { InterfaceScatter } from './interface-scatter.ts';
export { moveToPlanes } from './moved-planes.ts';
export type { MovedUnbalance, PlacedUnbalance, PlanePair } from './moved-planes.ts';
export { GRADE_CONSTANT, permissibleResidualGmm, permissibleSpecificUm } from './permissible.ts';
export type { BalanceDemand } from './permissible.ts';
export { allocateToPlanes, PLANE_SHARE_MAX, PLANE_SHARE_MIN } from './planes.ts';
export type { PlaneAllocation, PlaneGeometry, ShareBasis } from './planes.ts';
export { showabilityOf } from './reclamping.ts';
export type { Showability } from './reclamping.ts';
export { judgeResult, wholeResidual } from './result-verdict.ts';
export type { JudgedPart, MeasuredPlane, MeasuredResult, ResultQuestion, ResultVerdict } from './result-verdict.ts';
export { splitBetween, splitOverPlaces } from './split-angles.ts';
export { resolveStaticAndCouple } from './static-and-couple.ts';
export type { StaticAndCouple } from './static-and-couple.ts';
export { COHERENCE_MAX, predictedVibration, trimBalance } from './trim-balance.ts';
export type { PlaneSetting, SettingSteps, TrimAnswer, TrimWarning, TrimWay } from './trim-balance.ts';
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
