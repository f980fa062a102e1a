// The causes in the words of the shop; apart from the schemas, so that a browser reads them without a validator.
import { say } from './language/index.ts';
/**
 * `assembly`: this build, wherever it runs. `spindle`: its own unbalance, whatever is in it. `clamping`: this one load. `drawbar`:
 * the clampings of this spindle, one as the other. `bearing`: not synchronous, or speaking at its own frequencies. `bench`: all that
 * one bench measured. `sensor`: what no machine does, or all amplitudes alike. `resonance`: one speed only.
 */
export const CAUSES = [
  'assembly',
  'spindle',
  'clamping',
  'drawbar',
  'bearing',
  'bench',
  'sensor',
  'resonance',
] as const;
export type Cause = (typeof CAUSES)[number];

/** In the words of the shop. */
export const CAUSE_WORDS: Readonly<Record<Cause, string>> = {
  assembly: say`the assembly`,
  spindle: say`the spindle itself`,
  clamping: say`this one clamping`,
  drawbar: say`the clamping system of the spindle`,
  bearing: say`a bearing`,
  bench: say`the bench that measured`,
  sensor: say`the sensor`,
  resonance: say`a resonance at this speed`,
};

/** What a person found it to be, at the machine or on the bench: a cause, or nothing. Such words are what rules are measured by. */
export const FOUND = [...CAUSES, 'nothing'] as const;
export type Found = (typeof FOUND)[number];

export const FOUND_WORDS: Readonly<Record<Found, string>> = { ...CAUSE_WORDS, nothing: say`nothing was found` };

/** From this probability on a cause is named; below it is said that it cannot be told yet. */
export const NAMED_FROM = 0.8;
