// Which stretches of a recording are analysed one by one: a short one as a whole, a long one in windows of one length.
import { WINDOW_SAMPLES_MIN } from '../vibration/index.ts';

/** Length of a window of a long recording: lines 0.25 Hz apart, 40 turns at 600 rpm. Own choice, no source. */
export const WINDOW_S = 4;
/** Up to this length a recording is one window: two of its own would say less than one. Own choice. */
export const WHOLE_UP_TO_S = 8;
/** A window has no more samples, however fast it was sampled: it becomes shorter. */
export const WINDOW_SAMPLES_MAX = 262_144;
/** And no fewer, however slowly: it becomes longer. */
const WINDOW_SAMPLES_LEAST = 8 * WINDOW_SAMPLES_MIN;
/** A longer recording has so many windows, spread evenly over it; what lies between is not looked at, and that is said. */
export const WINDOWS_MAX = 64;

export interface Stretch {
  /** Sample numbers; the last one is not counted. */
  readonly from: number;
  readonly to: number;
}

export interface Stretches {
  readonly stretches: readonly Stretch[];
  /** Samples that lie in none of them. */
  readonly leftOut: number;
}

export function stretchesOf(samples: number, sampleRateHz: number): Stretches {
  if (samples <= Math.min(WINDOW_SAMPLES_MAX, Math.max(WINDOW_SAMPLES_LEAST, WHOLE_UP_TO_S * sampleRateHz)))
    return { stretches: [{ from: 0, to: samples }], leftOut: 0 };
  const length = Math.min(WINDOW_SAMPLES_MAX, Math.max(WINDOW_SAMPLES_LEAST, Math.round(WINDOW_S * sampleRateHz)));
  const count = Math.min(WINDOWS_MAX, Math.ceil(samples / length));
  // The first begins with the recording and the last ends with it; those between overlap a little where they do not fit exactly.
  const step = (samples - length) / (count - 1);
  const stretches = Array.from({ length: count }, (_, i) => {
    const from = Math.round(i * step);
    return { from, to: from + length };
  });
  return { stretches, leftOut: Math.max(0, samples - count * length) };
}
