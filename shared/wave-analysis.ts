// What the analysis of one raw window says, the same in journal, gateway, dashboard and command line.
import * as z from 'zod';
import { SIGNAL_FAULTS } from './messages/index.ts';

/** Where the shaft speed of a window is known from; `unknown`: no order could be found. */
export const SPEED_SOURCES = ['tacho', 'told', 'refined', 'unknown'] as const;
export type SpeedSource = (typeof SPEED_SOURCES)[number];

/** One shaft order of the velocity. */
const OrderPart = z.object({
  order: z.number(),
  frequencyHz: z.number(),
  velocityMmS: z.number().describe('RMS'),
  phaseDeg: z.number().optional().describe('of the velocity against the tacho mark, 0 to 360; only with marks'),
});

export const BEARING_PARTS = ['cage', 'outer', 'inner', 'rolling'] as const;
export type BearingPart = (typeof BEARING_PARTS)[number];

/** What the envelope says of one part of one bearing. */
export const BearingFinding = z.object({
  bearing: z.string(),
  part: z.enum(BEARING_PARTS),
  expectedHz: z.number(),
  /** The strongest line within the slip allowed and off the shaft orders; absent where there is none above the floor. */
  foundHz: z.number().optional(),
  /** Of the line, its harmonics and sidebands together, as a multiple of the envelope's noise floor. */
  indicator: z.number(),
  harmonics: z.int().describe('harmonics found above the floor, the first counted'),
  sidebands: z.int().describe('sidebands found above the floor'),
  /** Whether this is more than noise and shaft orders make of themselves. */
  speaks: z.boolean(),
});
export type BearingFinding = z.infer<typeof BearingFinding>;

export const HEALTH_KINDS = [...SIGNAL_FAULTS, 'repeated', 'scale', 'mounting', 'aliasing', 'tacho-missing'] as const;
export type HealthKind = (typeof HEALTH_KINDS)[number];

/** `unusable`: its numbers are not to be used at all. `speed`: they hold, what hangs on the speed does not. `doubtful`: with care. */
export const HEALTH_WEIGHTS = ['unusable', 'speed', 'doubtful'] as const;
export type HealthWeight = (typeof HEALTH_WEIGHTS)[number];

export const HealthFinding = z.object({
  kind: z.enum(HEALTH_KINDS),
  weight: z.enum(HEALTH_WEIGHTS),
  /** A sentence for people: what was seen, in figures, and what it may mean. */
  words: z.string(),
});
export type HealthFinding = z.infer<typeof HealthFinding>;

/** Levels for the picture over days: RMS velocity in bands of equal width on a log scale. */
const SpectrumLevels = z.object({
  lowestHz: z.number().describe('lower edge of the first band'),
  bandsPerOctave: z.int(),
  velocityMmS: z.array(z.number()).describe('RMS in each band, three significant digits'),
});

export const WaveAnalysis = z.object({
  sampleRateHz: z.number(),
  samples: z.int(),
  speedRpm: z.number().optional().describe('0 where standstill was told and nothing speaks against it'),
  speedFrom: z.enum(SPEED_SOURCES),
  /** Greatest departure from the mean speed over the window, in percent; absent where it cannot be told. */
  speedSpreadPercent: z.number().optional(),
  cutting: z.boolean().optional(),
  bandHz: z.tuple([z.number(), z.number()]).describe('of the overall velocity; shorter where sampling ends it'),
  overallMmS: z.number(),
  accelerationRmsMS2: z.number(),
  accelerationPeakMS2: z.number(),
  crestFactor: z.number(),
  kurtosis: z.number().describe('3 for Gaussian noise'),
  orders: z.array(OrderPart).describe('1×, 2×, 3× as far as the sampling reaches'),
  toothPassing: z
    .object({ teeth: z.int(), frequencyHz: z.number(), velocityMmS: z.number().describe('RMS') })
    .optional(),
  envelope: z
    .object({
      bandHz: z.tuple([z.number(), z.number()]),
      band: z.enum(['given', 'found']),
      rmsMS2: z.number(),
      floorMS2: z.number().describe('median line of the envelope spectrum'),
    })
    .optional(),
  bearings: z.array(BearingFinding),
  health: z.array(HealthFinding),
  levels: SpectrumLevels.optional(),
});
export type WaveAnalysis = z.infer<typeof WaveAnalysis>;
