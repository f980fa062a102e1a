// The face of correction advice: what to set, drill, cut, screw in or add, where, and what is left afterwards.
export { adviseCorrection } from './advise.ts';
export { beyondLimits, tooManyPlaces } from './beyond-limits.ts';
export type { Beyond } from './beyond-limits.ts';
export { effectOfStep } from './effect-of-step.ts';
export type { NoEffect } from './effect-of-step.ts';
export { effectsInPlanes } from './effects-in-planes.ts';
export { chordMm, flatCut } from './flat-geometry.ts';
export type { FlatShape } from './flat-geometry.ts';
export { axialHole, pointHeightMm, radialHole } from './hole-geometry.ts';
export type { HoleShape, MovedMaterial } from './hole-geometry.ts';
export { keptClearBy } from './kept-clear-by.ts';
export { COINCIDE_WORDS, SAME_POSITION_MM } from './locations.ts';
export { PLANS_MAX, SEARCH_STEPS_DEFAULT } from './limits.ts';
export type { CorrectionQuestion, PlaneToCorrect } from './question.ts';
export { hasScrewsToProve, proveScrews } from './prove-screws.ts';
export type { ScrewProgress } from './prove-screws.ts';
export { ringAngles } from './rings.ts';
