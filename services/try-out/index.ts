// Other limits and settings tried on history: which holds there were, and which there would have been.
export { changesUntried, touchedBy, type Draft, type Tried } from './subjects.ts';
export type { RunAsked } from './run.ts';
export { TryOuts } from './try-outs.ts';
