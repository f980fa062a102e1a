// The lines behind what counterpoise analyse says: spectrum, envelope spectrum or shaft orders of the window in the middle.
import {
  windowOf,
  type ChannelAnalysis,
  type ChannelQuestion,
  type FileChannel,
} from '../../shared/recorded-file/index.ts';
import { envelopeSpectrumOf, overallOf, spectrumOf, type VibrationWindow } from '../../shared/vibration/index.ts';
import type { AnswerTable } from './explain.ts';
import { inFigures, showValue, type UnitSystem } from './value-units.ts';

export const LINE_TABLES = ['spectrum', 'envelope', 'orders'] as const;
export type LineTableName = (typeof LINE_TABLES)[number];

/** Strongest lines that are printed; --json has all of them. */
const LINES_PRINTED = 20;
/** Orders of the shaft that are printed. */
const ORDERS = 12;
/** Samples of one segment of the averaged spectrum. */
const SEGMENT_SAMPLES = 8192;
/** An order is gathered from so many lines on either side: a Hann-shaped line is four lines wide. */
const ORDER_LINES = 2;

export interface LinesAsked {
  readonly channel: FileChannel;
  readonly analysis: ChannelAnalysis;
  readonly table: LineTableName;
}

interface Lines {
  /** 'velocity' in mm/s RMS or 'acceleration' in m/s² RMS. */
  readonly quantity: 'velocity' | 'acceleration';
  readonly frequenciesHz: readonly number[];
  readonly rms: readonly number[];
}

function linesOf({ channel, analysis, table }: LinesAsked, question: ChannelQuestion): Lines {
  const stretch = analysis.windows[analysis.told?.middle ?? 0] ?? { from: 0, to: channel.accelerationMS2.length };
  const window = windowOf(channel, stretch, question);
  const shaftHz = (analysis.windows[analysis.told?.middle ?? 0]?.analysis.speedRpm ?? 0) / 60;
  switch (table) {
    case 'spectrum':
      return spectrumLines(window, question);
    case 'envelope':
      return envelopeLines(window, analysis);
    case 'orders':
      return orderLines(window, shaftHz);
  }
}

function spectrumLines({ accelerationMS2, sampleRateHz }: VibrationWindow, { settings }: ChannelQuestion): Lines {
  const lowestHz = settings.velocityBandHz?.[0] ?? 10;
  const linesMax = Math.min(SEGMENT_SAMPLES, accelerationMS2.length);
  const spectrum = spectrumOf(accelerationMS2, sampleRateHz, { quantity: 'velocity', linesMax, lowestHz });
  return listed('velocity', spectrum);
}

function envelopeLines({ accelerationMS2, sampleRateHz }: VibrationWindow, analysis: ChannelAnalysis): Lines {
  const band = analysis.windows[analysis.told?.middle ?? 0]?.analysis.envelope?.bandHz;
  if (band === undefined) return { quantity: 'acceleration', frequenciesHz: [], rms: [] };
  return listed('acceleration', envelopeSpectrumOf(accelerationMS2, sampleRateHz, band));
}

function orderLines({ accelerationMS2, sampleRateHz }: VibrationWindow, shaftHz: number): Lines {
  const stepHz = sampleRateHz / accelerationMS2.length;
  const frequenciesHz = Array.from({ length: ORDERS }, (_, i) => (i + 1) * shaftHz).filter(
    (hz) => hz > ORDER_LINES * stepHz && hz + ORDER_LINES * stepHz < sampleRateHz / 2,
  );
  const rms = frequenciesHz.map((hz) =>
    overallOf(accelerationMS2, sampleRateHz, {
      quantity: 'velocity',
      bandHz: [hz - ORDER_LINES * stepHz, hz + ORDER_LINES * stepHz],
    }),
  );
  return { quantity: 'velocity', frequenciesHz, rms };
}

function listed(quantity: Lines['quantity'], spectrum: { stepHz: number; amplitude: Float64Array }): Lines {
  return {
    quantity,
    frequenciesHz: Array.from(spectrum.amplitude, (_, i) => i * spectrum.stepHz),
    rms: Array.from(spectrum.amplitude, (value) => value / Math.SQRT2),
  };
}

const TITLES: Readonly<Record<LineTableName, string>> = {
  spectrum: `strongest lines of the spectrum, velocity RMS`,
  envelope: 'strongest lines of the envelope spectrum, RMS',
  orders: 'orders, velocity RMS of the lines about each',
};

export function linesTable(asked: LinesAsked, question: ChannelQuestion, system: UnitSystem): AnswerTable {
  const { quantity, frequenciesHz, rms } = linesOf(asked, question);
  const { analysis, table } = asked;
  const shaftHz = (analysis.windows[analysis.told?.middle ?? 0]?.analysis.speedRpm ?? 0) / 60;
  const order = table === 'orders' ? frequenciesHz.map((_, i) => i) : strongest(rms);
  const value = (i: number): string => {
    const amount = rms[i] ?? 0;
    if (analysis.scaled) return showValue(quantity, amount, system);
    const overall = analysis.told?.overallMmS.median ?? 0;
    // A velocity of values without a unit is no number of anything.
    return quantity === 'velocity' && overall > 0
      ? `${inFigures((100 * amount) / overall, 3)} % of the overall`
      : `${inFigures(amount)} (no unit)`;
  };
  return {
    title: `${analysis.name}: ${TITLES[table]}`,
    head: ['at', 'of the shaft', 'value'],
    rows: order.map((i) => {
      const hz = frequenciesHz[i] ?? 0;
      return [`${inFigures(hz, 5)} Hz`, shaftHz > 0 ? `${inFigures(hz / shaftHz)}×` : '–', value(i)];
    }),
  };
}

/** Tops among their neighbours, the strongest first. */
function strongest(rms: readonly number[]): readonly number[] {
  return rms
    .flatMap((value, i) => (i > 0 && value > (rms[i - 1] ?? 0) && value >= (rms[i + 1] ?? 0) ? [i] : []))
    .toSorted((a, b) => (rms[b] ?? 0) - (rms[a] ?? 0))
    .slice(0, LINES_PRINTED);
}

/** The same for machines: all lines. */
export function linesValues(asked: LinesAsked, question: ChannelQuestion): Readonly<Record<string, unknown>> {
  const { quantity, frequenciesHz, rms } = linesOf(asked, question);
  const unit = quantity === 'velocity' ? 'velocityMmS' : 'accelerationMS2';
  return { [asked.table]: { frequenciesHz, [unit]: rms } };
}
