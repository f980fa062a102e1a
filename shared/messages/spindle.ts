// What spindles send through their machine control and their sensor: loads, machine states, vibration, tool life.
import * as z from 'zod';
import { Id } from '../ids.ts';
import {
  AccelerationMS2,
  AngleDeg,
  Percent,
  quantity,
  SpeedOrStandstillRpm,
  SpeedRpm,
  VelocityMmS,
} from '../quantity.ts';

/** An assembly clamped into a spindle or taken out of it. */
export const Load = z
  .object({
    spindleId: Id,
    action: z.enum(['load', 'unload']),
    assemblyId: Id.optional(),
    buildId: Id.optional(),
    programmedSpeedRpm: SpeedRpm.optional(),
  })
  .refine((load) => load.action === 'unload' || load.assemblyId !== undefined, {
    path: ['assemblyId'],
    error: 'expected the assembly that was loaded',
  });
export type Load = z.infer<typeof Load>;

export const MachineState = z.object({
  spindleId: Id,
  programmedSpeedRpm: SpeedOrStandstillRpm.optional(),
  actualSpeedRpm: SpeedOrStandstillRpm.optional(),
  overridePercent: Percent.optional(),
  cutting: z.boolean().optional(),
});
export type MachineState = z.infer<typeof MachineState>;

export const SIGNAL_FAULTS = [
  'clipped',
  'flat',
  'dropout',
  'bias',
  'implausible',
  'speed-unsteady',
  'wrong-speed',
] as const;
export const BANDS_MAX = 8;

/** What a sensor says of one window: the same shape whether a smart sensor or our own analysis made it. */
export const Summary = z.object({
  spindleId: Id.optional().describe('only where one device serves several spindles; else the enrolment says it'),
  speedRpm: SpeedOrStandstillRpm,
  overallMmS: VelocityMmS.describe('overall velocity, RMS, 10–1000 Hz unless another band is declared of the spindle'),
  synchronousMmS: VelocityMmS.optional().describe('the once-per-revolution (1×) part of the velocity, RMS'),
  synchronousPhaseDeg: AngleDeg.optional().describe('of the 1× part, against the tacho mark'),
  secondOrderMmS: VelocityMmS.optional().describe('the 2× part of the velocity, RMS'),
  accelerationRmsMS2: AccelerationMS2.optional(),
  accelerationPeakMS2: AccelerationMS2.optional(),
  kurtosis: quantity('1', { min: 0, max: 1e6 }, 'kurtosis, 3 for Gaussian noise').optional(),
  envelopeMS2: AccelerationMS2.optional().describe('RMS of the envelope in the band where bearings speak'),
  cutting: z.boolean().optional().describe('whether the tool was in the cut'),
  steady: z.boolean().optional().describe('whether the speed kept within 1 % over the window'),
  fault: z.enum(SIGNAL_FAULTS).optional().describe('what the sensor itself finds wrong with its signal'),
});
export type Summary = z.infer<typeof Summary>;

/** Fewer say nothing of a vibration: no line of their spectrum would be a few Hz wide. */
export const WAVE_SAMPLES_MIN = 256;
/** In one message over MQTT; over HTTP more. */
export const WAVE_SAMPLES_MAX = 131_072;
export const WAVE_SAMPLES_LARGE_MAX = 2_097_152;
/**
 * m/s², above any shock that a sensor outlives: 100,000 g (common practice, no source). Beyond it a number is no acceleration.
 */
export const WAVE_MS2_MAX = 1e6;
export const TACHO_MARKS_MAX = 5000;

/** A raw window, int16 or float32 little-endian; the number times `scaleMS2` is acceleration. */
export const Wave = z.object({
  spindleId: Id.optional(),
  channel: z.string().min(1).max(20).describe('the direction or place that was measured, e.g. radial-x'),
  sampleRateHz: quantity('Hz', { min: 1, max: 1e6 }, 'sampling rate'),
  encoding: z.enum(['int16', 'float32']).describe('in CBOR the tag of the typed array says it'),
  scaleMS2: quantity('m/s2', { min: 1e-9, max: 1e6 }, 'acceleration of one count'),
  samples: z.base64().describe('base64 in JSON; in CBOR a typed array (RFC 8746, tag 77 int16 or 85 float32)'),
  speedRpm: SpeedOrStandstillRpm.optional(),
  cutting: z.boolean().optional(),
  tachoS: z
    .array(quantity('s', { min: 0, max: 3600 }, 'time of a tacho mark from the first sample'))
    .max(TACHO_MARKS_MAX)
    .optional(),
  fullScaleMS2: AccelerationMS2.optional().describe('where the sensor clips'),
  gravityShare: quantity('1', { min: -1, max: 1 }, 'cosine of the measured direction to the vertical')
    .optional()
    .describe('only of a sensor that measures down to 0 Hz: what share of 1 g it must show'),
  asked: z.string().max(64).optional().describe('of the question that it answers'),
});
export type Wave = z.infer<typeof Wave>;

/** What a cutter lasted, where the shop reports it. */
export const ToolLife = z.object({
  spindleId: Id,
  assemblyId: Id,
  buildId: Id.optional(),
  lifeMin: quantity('min', { min: 0, max: 1e7 }, 'time in cut'),
  ended: z.enum(['worn', 'broken', 'planned', 'other']),
});
export type ToolLife = z.infer<typeof ToolLife>;
