// How counterpoise analyse reckoned, with the numbers in the formulas.
import type { Bearing } from '../../shared/bearing.ts';
import type { ChannelAnalysis, ChannelQuestion } from '../../shared/recorded-file/index.ts';
import { bearingFrequencies } from '../../shared/vibration/index.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import type { Explanation } from './explain.ts';
import { inFigures } from './value-units.ts';

const n = (value: number): string => inFigures(value, 5);

/** Of the first channel: the others are reckoned alike. */
export function analysisExplained(
  analysis: ChannelAnalysis | undefined,
  { settings }: ChannelQuestion,
): readonly Explanation[] {
  const middle = analysis?.windows[analysis.told?.middle ?? 0]?.analysis;
  if (analysis?.told === undefined || middle === undefined) return [];
  const { speedRpm } = middle;
  const amounts = analysis.scaled ? MEASURED : BARE;
  return [
    overallExplained(middle, amounts),
    shapeExplained(middle, amounts),
    ...(speedRpm === undefined
      ? []
      : [
          ...orderExplained(middle, amounts),
          ...(settings.bearings ?? []).map((bearing) => bearingExplained(bearing, speedRpm)),
        ]),
    ...envelopeExplained(middle, amounts),
  ];
}

/** How amounts are told: of a file without a unit a velocity only as a share of the overall one. */
interface Amounts {
  readonly velocity: (amount: number, overall: number) => string;
  readonly acceleration: (amount: string) => string;
}
const MEASURED: Amounts = {
  velocity: (amount) => `${n(amount)} mm/s RMS`,
  acceleration: (amount) => `${amount} m/s²`,
};
const BARE: Amounts = {
  velocity: (amount, overall) => `${inFigures((100 * amount) / overall, 3)} % of the overall`,
  acceleration: (amount) => `${amount} (no unit)`,
};

function overallExplained(
  { bandHz, overallMmS, samples, sampleRateHz }: WaveAnalysis,
  { velocity }: Amounts,
): Explanation {
  return {
    what: 'overall velocity',
    formula: 'v = √(Σ |A(f)/(2πf)|²) over the lines of the band, A the RMS of a line of acceleration',
    numbers: `${n(bandHz[0])} to ${n(bandHz[1])} Hz, lines ${n(sampleRateHz / samples)} Hz apart`,
    result: velocity(overallMmS, overallMmS),
    source: 'ISO 20816-1:2016 for the quantity and the band above 600 rpm; integration and Parseval: textbook algebra',
  };
}

function shapeExplained(
  { accelerationRmsMS2: rms, accelerationPeakMS2: peak, kurtosis }: WaveAnalysis,
  { acceleration }: Amounts,
): Explanation {
  return {
    what: 'crest factor and kurtosis',
    formula: 'peak/RMS; mean of the 4th power over the square of the mean square, both about the mean',
    numbers: acceleration(`${n(peak)}/${n(rms)}`),
    result: `${n(peak / rms)}; ${n(kurtosis)}`,
    source: 'textbook statistics',
  };
}

function orderExplained(
  { speedRpm = 0, orders, overallMmS }: WaveAnalysis,
  { velocity }: Amounts,
): readonly Explanation[] {
  const first = orders[0];
  if (first === undefined) return [];
  return [
    {
      what: '1×',
      formula: 'least squares of sines at the shaft’s frequency and its harmonics; v = a/(2πf)',
      numbers: `f = ${n(speedRpm)}/60 = ${n(first.frequencyHz)} Hz`,
      result: velocity(first.velocityMmS, overallMmS),
      source: 'IEEE Std 1057, sine fit of known frequency, the frequency refined where a line is there',
    },
  ];
}

function bearingExplained(bearing: Bearing, speedRpm: number): Explanation {
  const { cage, outer, inner, rolling } = bearingFrequencies(bearing, speedRpm);
  const { geometry: g } = bearing;
  return {
    what: `bearing ${bearing.name}`,
    formula:
      g === undefined
        ? 'multiple of the shaft’s frequency; a rolling element strikes both races, at twice its spin'
        : 'r = d/D·cos α; cage f/2·(1 − r), outer z·f/2·(1 − r), inner z·f/2·(1 + r), rolling f·D/d·(1 − r²)',
    numbers:
      g === undefined
        ? `${n(speedRpm)}/60 Hz, as ${bearing.source} says`
        : `z ${g.elements}, d ${n(g.elementDiameterMm)} mm, D ${n(g.pitchDiameterMm)} mm, α ${n(g.contactAngleDeg)}°, f = ${n(speedRpm / 60)} Hz`,
    result: `cage ${n(cage)}, outer ${n(outer)}, inner ${n(inner)}, rolling ${n(rolling)} Hz`,
    source: 'kinematics of a bearing that rolls without slipping; any textbook of machine dynamics',
  };
}

function envelopeExplained({ envelope }: WaveAnalysis, { acceleration }: Amounts): readonly Explanation[] {
  if (envelope === undefined) return [];
  const { bandHz, band, rmsMS2, floorMS2 } = envelope;
  return [
    {
      what: 'envelope',
      formula: 'magnitude of the analytic signal of the band; its spectrum; floor = median of its lines',
      numbers: `${n(bandHz[0])} to ${n(bandHz[1])} Hz, ${band === 'given' ? 'as told' : 'found'}`,
      result: `RMS ${acceleration(n(rmsMS2))}, floor ${acceleration(n(floorMS2))}`,
      source: 'Hilbert transform, textbook; use for bearings: Randall, Vibration-based Condition Monitoring, 2011',
    },
  ];
}
