// Recordings in and out: a journal as lines, and lines through the same intake and rules again.
export { exportLines } from './export-lines.ts';
export { rehearse, type Lines, type Rehearsed, type RehearsalReport } from './rehearse.ts';
export { importRecording, type Imported } from './import-recording.ts';
export { compareHolds, type HoldComparison, type HoldStay, type PeoplesWord } from './compare-holds.ts';
export { replay, type OtherRules, type Replayed } from './replay.ts';
