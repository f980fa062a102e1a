// What the gateway tells of raw windows: which there are, what was made of each, and their levels over time.
import * as z from 'zod';
import { StillReadPercent } from './still-read.ts';
import { WaveAnalysis } from './wave-analysis.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** `waiting`: not analysed yet. `skipped`: too many came at once; its samples are kept, a page can still analyse them. */
export const WAVE_STATES = ['waiting', 'analysed', 'skipped', 'failed'] as const;
export type WaveState = (typeof WAVE_STATES)[number];

export const WaveRow = z.object({
  /** Its position in the journal. */
  waveId: z.int(),
  /** When it was measured; where its device's clock was ahead, when it came. */
  at: At,
  /** By how much that clock was ahead, where more than ordinary. */
  clockAheadMs: z.number().optional(),
  device: z.string(),
  channel: z.string(),
  sampleRateHz: z.number(),
  samples: z.int(),
  /** Of the question that it answers; absent where it came by itself. */
  asked: z.string().optional(),
  state: z.enum(WAVE_STATES),
  /** Why it was skipped or failed, or why no reading was made of it. */
  why: z.string().optional(),
  /** Position of the reading that was made of it; absent where none was. */
  summary: z.int().optional(),
  /** Whether the samples are still kept; what was made of them stays. */
  kept: z.boolean(),
  /** Holds that keep the samples from being dropped. */
  pinnedBy: z.array(z.string()),
  analysis: WaveAnalysis.omit({ levels: true }).optional(),
});
export type WaveRow = z.infer<typeof WaveRow>;

/** One that is asked for by its number alone. */
export const OneWave = WaveRow.extend({ spindleId: z.string() });
export type OneWave = z.infer<typeof OneWave>;

/** What is on record of an analysis, in the words of a recording. */
export const AnalysedData = z.object({
  wave: z.int().min(1),
  device: z.string(),
  spindleId: z.string(),
  channel: z.string(),
  measuredAt: At,
  summary: z.int().min(1).optional(),
  noReading: z.string().optional(),
  outcome: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('analysed'), analysis: WaveAnalysis }),
    z.object({ kind: z.literal('skipped'), why: z.string() }),
    z.object({ kind: z.literal('failed'), why: z.string() }),
  ]),
});

export const WAVES_LISTED_MAX = 500;

/** Which windows are listed of more than were asked for: the newest, or as many evenly over the time, the newest among them. */
export const WAVES_CHOSEN = ['newest', 'evenly'] as const;
export type WavesChosen = (typeof WAVES_CHOSEN)[number];

/** Newest first; `more`: there are others in that time. */
export const WavesView = z.object({
  waves: z.array(WaveRow),
  more: z.boolean(),
  stillReadPercent: StillReadPercent,
});
export type WavesView = z.infer<typeof WavesView>;

/** One column per window: RMS velocity per band. Bands are the same in all columns; where one does not reach, null. */
export const SpectrogramView = z.object({
  from: At,
  to: At,
  lowestHz: z.number(),
  bandsPerOctave: z.int(),
  bands: z.int(),
  stillReadPercent: StillReadPercent,
  columns: z.array(
    z.object({
      waveId: z.int(),
      at: At,
      speedRpm: z.number().optional(),
      velocityMmS: z.array(z.number().nullable()),
    }),
  ),
});
export type SpectrogramView = z.infer<typeof SpectrogramView>;
