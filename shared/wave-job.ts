// What passes between the plant, which stores raw windows, and the analysis beside it.
import type { Bearing } from './bearing.ts';
import type { Position } from './entries.ts';
import type { Wave } from './messages/index.ts';
import type { Instant } from './time.ts';
import type { WaveAnalysis } from './wave-analysis.ts';

/** One raw window to be analysed, with what the plant knew of its spindle when it was stored. */
export interface WaveJob {
  readonly waveId: Position;
  readonly device: string;
  readonly spindleId: string;
  /** When it was measured. */
  readonly at: Instant;
  /** As the device sent it, without its samples; the speed and the cutting state filled in from the machine where it left them out. */
  readonly wave: Omit<Wave, 'samples'>;
  /** Little-endian counts in the wave's encoding. */
  readonly counts: Uint8Array;
  readonly bearings: readonly Bearing[];
  readonly teeth?: number;
  readonly velocityBandHz?: readonly [number, number];
  readonly envelopeBandHz?: readonly [number, number];
  /** Median acceleration of earlier healthy windows of this channel at this speed. */
  readonly usualRmsMS2?: number;
  /** Their velocity in third octaves, mm/s RMS. */
  readonly usualThirdsMmS?: readonly number[];
  /** Whether a reading is to be made of it: it is of the measured channel, of a sensor that sends none itself. */
  readonly makesReading: boolean;
  /** Why none is to be made. */
  readonly noReading?: string;
}

/** Samples as they are kept for long; `plain`: as they came. */
export const WAVE_PACKINGS = ['plain', 'packed'] as const;
export type WavePacking = (typeof WAVE_PACKINGS)[number];

/** What is kept of a window's samples, and what it takes to read them. */
export interface WaveSamples {
  readonly wave: Omit<Wave, 'samples'>;
  readonly packing: WavePacking;
  readonly bytes: Uint8Array;
}

export type WaveOutcome =
  | { readonly kind: 'analysed'; readonly analysis: WaveAnalysis }
  /** Too many came at once; the samples are kept. */
  | { readonly kind: 'skipped'; readonly why: string }
  | { readonly kind: 'failed'; readonly why: string };

export interface WaveDone {
  readonly waveId: Position;
  readonly outcome: WaveOutcome;
  /** The samples packed, where that is smaller. */
  readonly packed?: Uint8Array;
}
