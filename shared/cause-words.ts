// The causes in the words of the shop; apart from the schemas, so that a browser reads them without a validator.
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
  assembly: 'the assembly',
  spindle: 'the spindle itself',
  clamping: 'this one clamping',
  drawbar: 'the clamping system of the spindle',
  bearing: 'a bearing',
  bench: 'the bench that measured',
  sensor: 'the sensor',
  resonance: 'a resonance at this speed',
};

/** What a person found it to be, at the machine or on the bench: a cause, or nothing. Such words are what rules are measured by. */
export const FOUND = [...CAUSES, 'nothing'] as const;
export type Found = (typeof FOUND)[number];

export const FOUND_WORDS: Readonly<Record<Found, string>> = { ...CAUSE_WORDS, nothing: 'nothing was found' };

/** From this probability on a cause is named; below it is said that it cannot be told yet. */
export const NAMED_FROM = 0.8;
