// What the trials are about: faults, what only looks like one, and nothing at all.

/** Each plants the fault of its name. */
export const PLANTED_TRIALS = [
  'residual-exceeds',
  'held-assembly-loaded',
  'wrong-pairing',
  'marked-speed-exceeded',
  'cutter-changed-unmeasured',
  'spindle-unbalance-growing',
  'bearing-defect-growing',
  'bench-scale-drifting',
  'sensor-silent',
  'sensor-offline',
  'sensor-flat',
  'sensor-clipped',
  'sensor-dead',
  'sensor-noisy',
  'sensor-incoherent',
  'sensor-stuck',
  'cutter-changed-untold',
  'insert-lost',
  'chip-under-taper',
  'drawbar-falling',
] as const;
export type PlantedTrial = (typeof PLANTED_TRIALS)[number];

/** The same kinds of fault, growing to less than any limit; and a limit that a resonance alone exceeds. */
export const BELOW_TRIALS = ['unbalance-below-limit', 'bearing-below-limit', 'resonance-over-limit'] as const;

/** Nothing is wrong. */
export const HARMLESS_TRIALS = [
  'quiet-life',
  'heavy-cutting',
  'warming-up',
  'speed-change',
  'resonance',
  'late-messages',
  'doubled-messages',
  'skewed-clock',
] as const;
export type HarmlessTrial = (typeof HARMLESS_TRIALS)[number];

export const TRIAL_KINDS = [...PLANTED_TRIALS, ...BELOW_TRIALS, ...HARMLESS_TRIALS] as const;
export type TrialKind = (typeof TRIAL_KINDS)[number];
