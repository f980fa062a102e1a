// The face of relating vibration to unbalance: what is remembered of loads, when it is looked at, and what is put on hold for it.
export { foldRelating, relateReading } from './fold-relating.ts';
export { decideUnexplained, spindleToWeigh } from './decide-unexplained.ts';
