// What the mathematics of one raw window takes: the samples and what is known about them, and what a person chose.
import type { Bearing } from '../bearing.ts';

export interface VibrationWindow {
  readonly accelerationMS2: Float64Array;
  readonly sampleRateHz: number;
  readonly speedRpm?: number;
  /** Instants of the tacho's marks in seconds from the first sample, rising; one mark in each turn. */
  readonly tachoS?: readonly number[];
  readonly cutting?: boolean;
  readonly fullScaleMS2?: number;
  /** How much of gravity stands along the axis, −1 to 1, of a sensor that reaches down to 0 Hz. */
  readonly gravityShare?: number;
  /** One count of the converter where its counts are whole: for clipping and flat lines. */
  readonly stepMS2?: number;
}

export interface AnalysisSettings {
  /** Of the overall velocity; 10 to 1000 Hz unless said otherwise. */
  readonly velocityBandHz?: readonly [number, number];
  /** Where the envelope is taken; found from the samples unless given. */
  readonly envelopeBandHz?: readonly [number, number];
  readonly bearings?: readonly Bearing[];
  readonly teeth?: number;
  /** Median RMS acceleration of earlier healthy windows at this speed, which tells a wrong scale. */
  readonly usualRmsMS2?: number;
  /** RMS velocity in third octaves of earlier healthy windows at this speed, out of the cut, which tells a mount that came loose. */
  readonly usualThirdsMmS?: readonly number[];
}

/** A channel of a recording that a person brought. */
export interface RecordedChannel {
  readonly name: string;
  readonly accelerationMS2: Float64Array;
  readonly sampleRateHz: number;
}

/** Fewest samples of which anything is said: 64 lines of a spectrum (own choice, no source). */
export const WINDOW_SAMPLES_MIN = 128;
