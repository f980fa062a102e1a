// The core: what the rules make of an entry, the fold of what was made, and the gate. Pure: the same entries, the same floor.
export { decide } from './decide.ts';
export { evolve } from './evolve.ts';
export { gate } from './gate.ts';
export { hasDoubtedSpeed } from './speed-doubt.ts';
export { suspicionOf } from './gate-suspect.ts';
export { emptyFloor, subjectKey } from './floor.ts';
export { copyOfFloor } from './floor-copy.ts';
export type {
  AssemblyState,
  BenchState,
  BuildState,
  CorrectionState,
  DeviceState,
  Floor,
  JudgementKind,
  LoadRecordState,
  MachineFacts,
  MeasurementState,
  SpeedBin,
  SpindleDeclaration,
  SpindleState,
  WindowState,
} from './floor.ts';
export {
  RULES_VERSION,
  SEVERITY_SPEAKS_MS,
  SPEED_BIN_SETTLED_READINGS,
  UNBOUNDED_RPM,
  USUAL_READINGS_MIN,
  USUAL_TURNING_MS,
  VERIFICATION_EXPECTED_FACTOR,
  VERIFICATION_MS,
} from './limits.ts';
export { fallenFrom, heldRungOfLevel, risenFrom, standardAt, stepOf, stepShareOf } from './severity.ts';
export { sourceOf as severitySource } from './severity-rule.ts';
export { speedBinEnds } from './speed-bin.ts';
export { touchedBy } from './bench-touched.ts';
export { DAY_SUMS, dayOf, weekBegins } from './headroom.ts';
export { keptNow } from './override-watch.ts';
export type { RatesState } from './declared-facts.ts';
export type { CutterLives } from './tool-life-facts.ts';
export type { HeadroomState } from './headroom-facts.ts';
export { atDay, boundaryAhead, mayRise, outlookOf, type Boundary } from './ahead-rule.ts';
export { concerns, lastCorrection, speaksAfter } from './correction-order.ts';
export { featuresLeft } from './features-left.ts';
export { buildLoaded, currentBuild } from './in-force.ts';
export { errorPartsOf, judgedPlaneOf } from './judgement.ts';
export { baseLayer, type Layer } from './layer.ts';
export { isDeviatedFrom, measurementInForceOf } from './pairing.ts';
export { holdAfter, holdIdOf, isOfHold } from './hold-after.ts';
export { conditionMet, noteOf, readWithinOnly } from './release.ts';
export { answeringOf } from './escalation-rule.ts';
export { priorityOf } from './priority.ts';
export { expectedMmS as responseExpectedMmS } from './response.ts';
export { spindleAbout } from './fold-outcome.ts';
export { isKnownGood, isLoadedSince } from './trial-run.ts';
export { silentAfterMs } from './state-rule.ts';
export { foremostSpeaking, speakingWords } from './speaking-words.ts';
export { usualRmsMS2, usualThirdsMmS } from './window-state.ts';
// What history is judged by again when other limits are tried on it.
export { measuredAtOf } from './clock.ts';
export type { LimitWatch } from './floor.ts';
export { foldClock, newClockLane, type ClockLane } from './fold-device.ts';
export { clear as clearWatch, count as countOver, isAtRest, newWatch, persistsWith } from './persistence.ts';
export { isJudgeable } from './reading-features.ts';
export { SETTING_DEFAULTS, tunedBy, UNTUNED, type RuleSetState, type Tuned } from './settings.ts';
export { isDominant, REASON_OF } from './vibration-rule.ts';
