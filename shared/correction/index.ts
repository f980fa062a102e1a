// The face of correction advice: what to set, drill, grind, screw in or add, where, and what is left afterwards.
export { adviseCorrection } from './advise.ts';
export type { CorrectionQuestion, PlaneToCorrect } from './question.ts';
