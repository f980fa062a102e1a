// Labelled trials for judging decisions: drawn by seed, played as messages, with what was wrong in them.
export { trialOf, type Trial } from './trial.ts';
export type { TrialLabel } from './scenario.ts';
export { BELOW_TRIALS, HARMLESS_TRIALS, PLANTED_TRIALS, TRIAL_KINDS, type TrialKind } from './kinds.ts';
