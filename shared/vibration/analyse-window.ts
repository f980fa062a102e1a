// From one raw window to all that is said of it: the same in the service, on the page and on the command line.
import { say } from '../language/index.ts';
import type { Bearing } from '../bearing.ts';
import type { WaveAnalysis } from '../wave-analysis.ts';
import { defectOrders } from './bearing-frequencies.ts';
import { bearingFindings, envelopeFloor } from './bearing-lines.ts';
import { envelopeBandFor } from './envelope-band.ts';
import { envelopeOfLines } from './envelope.ts';
import { levelsOf } from './levels.ts';
import { momentsOf, type Moments } from './moments.ts';
import { resampledToAngle } from './order-tracking.ts';
import { ordersOf } from './orders.ts';
import { TRANSFORM_SAMPLES_MAX } from './real-fft.ts';
import { hannVelocityOf, overallOfLines, rowTransformOf, type RowTransform } from './row-transform.ts';
import { shaftOf, type Shaft } from './shaft.ts';
import { TURNS_MIN } from './shaft-line.ts';
import { signalHealth } from './signal-health.ts';
import { spectrumOf, type Spectrum } from './spectrum.ts';
import { WINDOW_SAMPLES_MIN, type AnalysisSettings, type VibrationWindow } from './window.ts';
import { workRow } from './work-rows.ts';

/** Of the overall velocity unless a person chose another: ISO 20816-1, machines above 600 rpm. */
const VELOCITY_BAND_HZ: readonly [number, number] = [10, 1000];
/** Where it begins at lower speeds (ISO 20816-1, from memory). */
const SLOW_FROM_HZ = 2;
/** Where it ends at speeds whose first order is beyond 1000 Hz: a round choice, no source. */
const FAST_TO_HZ = 5000;
/** A Hann window's line is so many lines wide to each side. */
const LINE_REACH = 2;

/**
 * Everything that is said of a window. Allocates little beyond the answer: rows of its length are kept from one call to the next.
 * Throws a RangeError for fewer samples than WINDOW_SAMPLES_MIN, more than TRANSFORM_SAMPLES_MAX, a sample that is no number, or a
 * rate that is not above 0; its message says what was expected.
 */
export function analyseWindow(raw: VibrationWindow, settings: AnalysisSettings = {}): WaveAnalysis {
  const { accelerationMS2: samples, sampleRateHz } = raw;
  demand(raw);
  const moments = momentsOf(samples);
  // One sample that is no number leaves no mean.
  if (!Number.isFinite(moments.mean)) {
    const at = samples.findIndex((it) => !Number.isFinite(it));
    throw new RangeError(say`expected numbers in m/s², came ${String(samples[at])} as sample ${at}`);
  }
  const row = rowTransformOf(samples, sampleRateHz, moments.mean, 'window');
  const shaft = shaftOf(raw, row, moments.mean);
  const wantedHz = settings.velocityBandHz ?? usualBand(shaft, row);
  const bandHz = within(wantedHz, sampleRateHz);
  const levels = levelsOf(row);
  const isSlow = settings.velocityBandHz === undefined && wantedHz[0] === SLOW_FROM_HZ;
  const overallMmS = isSlow ? hannVelocityOf(row, bandHz) : overallOfLines(row, 'velocity', bandHz);
  const { orders, toothPassing } = ordersOf(raw, moments.mean, shaft, settings.teeth);
  return {
    sampleRateHz,
    samples: samples.length,
    ...speedOf(raw, shaft),
    ...(raw.cutting === undefined ? {} : { cutting: raw.cutting }),
    bandHz,
    overallMmS,
    ...shapeOf(moments),
    orders: [...orders],
    ...(toothPassing === undefined ? {} : { toothPassing }),
    ...envelopeAndBearings(raw, row, shaft, settings),
    health: signalHealth(raw, {
      moments,
      overallMmS,
      row,
      shaft,
      ...(settings.usualRmsMS2 === undefined ? {} : { usualRmsMS2: settings.usualRmsMS2 }),
      ...(levels === undefined ? {} : { levels }),
      ...(settings.usualThirdsMmS === undefined ? {} : { usualThirdsMmS: settings.usualThirdsMmS }),
    }),
    ...(levels === undefined ? {} : { levels }),
  };
}

function demand({ accelerationMS2: samples, sampleRateHz }: VibrationWindow): void {
  if (!(sampleRateHz > 0 && Number.isFinite(sampleRateHz))) {
    throw new RangeError(say`expected a sample rate above 0 Hz, came ${sampleRateHz}`);
  }
  if (samples.length < WINDOW_SAMPLES_MIN || samples.length > TRANSFORM_SAMPLES_MAX) {
    throw new RangeError(
      say`expected ${WINDOW_SAMPLES_MIN} to ${TRANSFORM_SAMPLES_MAX} samples, came ${samples.length}`,
    );
  }
}

/** The band that holds the first order whole: else its part would be more than the whole. */
function usualBand({ hz }: Shaft, { stepHz, size }: RowTransform): readonly [number, number] {
  const [from, to] = VELOCITY_BAND_HZ;
  if (hz === undefined || hz < TURNS_MIN * stepHz) return VELOCITY_BAND_HZ;
  const reachHz = LINE_REACH * stepHz;
  if (hz - reachHz < from) return [SLOW_FROM_HZ, to];
  // Beyond that too nothing is known of a limit: the next order above is in it then.
  return hz + reachHz > to ? [from, Math.min(Math.max(FAST_TO_HZ, 2 * hz), (stepHz * size) / 2)] : VELOCITY_BAND_HZ;
}

/** The band, cut where sampling ends it. */
function within(bandHz: readonly [number, number], sampleRateHz: number): [number, number] {
  const highest = sampleRateHz / 2;
  return [Math.min(bandHz[0], highest), Math.min(bandHz[1], highest)];
}

function speedOf(
  raw: VibrationWindow,
  shaft: Shaft,
): Pick<WaveAnalysis, 'speedFrom' | 'speedRpm' | 'speedSpreadPercent'> {
  // A told speed as it was told: over 60 and times 60 is another number.
  const foundRpm = shaft.from === 'told' ? raw.speedRpm : shaft.hz && 60 * shaft.hz;
  return {
    speedFrom: shaft.from,
    ...(foundRpm === undefined ? {} : { speedRpm: foundRpm }),
    ...(shaft.stands === undefined ? {} : { speedRpm: 0 }),
    ...(shaft.spreadPercent === undefined ? {} : { speedSpreadPercent: shaft.spreadPercent }),
  };
}

function shapeOf(
  moments: Moments,
): Pick<WaveAnalysis, 'accelerationRmsMS2' | 'accelerationPeakMS2' | 'crestFactor' | 'kurtosis'> {
  return {
    accelerationRmsMS2: moments.rms,
    accelerationPeakMS2: moments.peak,
    crestFactor: moments.crestFactor,
    kurtosis: moments.kurtosis,
  };
}

function envelopeAndBearings(
  raw: VibrationWindow,
  row: RowTransform,
  shaft: Shaft,
  settings: AnalysisSettings,
): Pick<WaveAnalysis, 'envelope' | 'bearings'> {
  const { accelerationMS2: samples, sampleRateHz } = raw;
  const given = settings.envelopeBandHz;
  const leastWidthHz = BAND_OF_RATE * fastestDefectHz(shaft, settings.bearings ?? []);
  const bandHz = within(given ?? envelopeBandFor(samples, sampleRateHz, leastWidthHz), sampleRateHz);
  // A band that a person gave for a faster sensor may lie above what this one sees: nothing is said then.
  if (bandHz[1] - bandHz[0] < 2 * row.stepHz) return { bearings: [] };
  const envelope = workRow('envelope', samples.length).subarray(0, samples.length);
  envelopeOfLines(row, bandHz, envelope);
  const { rms } = momentsOf(envelope);
  const spectrum = envelopeSpectrum(envelope, sampleRateHz, shaft);
  const reachHz = bandHz[1] - bandHz[0];
  return {
    envelope: {
      bandHz,
      band: given === undefined ? 'found' : 'given',
      rmsMS2: rms,
      floorMS2: envelopeFloor(spectrum, shaft.hz ?? reachHz / 12, reachHz),
    },
    bearings:
      shaft.hz === undefined
        ? []
        : bearingFindings(
            spectrum,
            shaft.hz,
            reachHz,
            settings.bearings ?? [],
            shaft.from === 'tacho' ? 0 : SPEED_WITHIN,
          ),
  };
}

/** A speed from the control or from the samples is off by less; the envelope's own orders make it exact. */
const SPEED_WITHIN = 0.015;

/** A band has to be so many times as wide as the fastest defect's rate: an envelope has no lines beyond its band's width. */
const BAND_OF_RATE = 1.5;

function fastestDefectHz(shaft: Shaft, bearings: readonly Bearing[]): number {
  const orders = bearings.flatMap((bearing) => Object.values(defectOrders(bearing)));
  return Math.max(0, ...orders) * (shaft.hz ?? 0);
}

/** Of an envelope at equal times; where the speed drifts, at equal angles, with frequencies as they are at the mean speed. */
function envelopeSpectrum(envelope: Float64Array, sampleRateHz: number, shaft: Shaft): Spectrum {
  const turning = shaft.tacho ?? shaft.followed;
  if (turning !== undefined && !turning.even) {
    const turned = resampledToAngle(envelope, sampleRateHz, turning);
    if (turned.samples.length >= WINDOW_SAMPLES_MIN) {
      return spectrumOf(turned.samples, turned.pointsPerTurn * turning.shaftHz, { quantity: 'acceleration' });
    }
  }
  const into = workRow('envelope lines', Math.floor(envelope.length / 2) + 1);
  return spectrumOf(envelope, sampleRateHz, { quantity: 'acceleration' }, into);
}
