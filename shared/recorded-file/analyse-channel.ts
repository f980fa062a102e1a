// One channel of a recording analysed window by window, and what is said of the whole: medians, the greatest, and when.
import {
  analyseWindow,
  type AnalysisSettings,
  type RecordedChannel,
  type VibrationWindow,
} from '../vibration/index.ts';
import type { BearingFinding, HealthFinding, HealthWeight, WaveAnalysis } from '../wave-analysis.ts';
import { stretchesOf, type Stretch } from './channel-windows.ts';
import type { FileChannel } from './recorded-channel.ts';

export interface ChannelQuestion {
  readonly speedRpm?: number;
  readonly settings: AnalysisSettings;
}

export interface AnalysedStretch extends Stretch {
  readonly fromS: number;
  readonly toS: number;
  readonly analysis: WaveAnalysis;
}

/** Over the windows that can be used. */
export interface Level {
  readonly median: number;
  readonly greatest: number;
  /** Start of the window with the greatest. */
  readonly greatestAtS: number;
}

export interface ToldHealth extends HealthFinding {
  /** In how many windows, and from when on. */
  readonly windows: number;
  readonly firstAtS: number;
}

export interface ToldBearing extends BearingFinding {
  /** In how many windows this part speaks. */
  readonly speaksIn: number;
}

export interface ChannelAnalysis {
  readonly name: string;
  readonly scaled: boolean;
  readonly unitWords: string;
  readonly sampleRateHz: number;
  readonly samples: number;
  /** Samples between the windows that were not looked at. */
  readonly leftOut: number;
  readonly windows: readonly AnalysedStretch[];
  /** How many of them can be used at all. */
  readonly usable: number;
  readonly health: readonly ToldHealth[];
  /** Absent where no window can be used: then no number is to be looked at. */
  readonly told?: {
    /** The window in the middle by its overall velocity, and the one with the greatest: their numbers in `windows`. */
    readonly middle: number;
    readonly greatest: number;
    readonly overallMmS: Level;
    readonly accelerationRmsMS2: Level;
    readonly accelerationPeakMS2: Level;
    readonly crestFactor: Level;
    readonly kurtosis: Level;
    readonly orders: readonly { readonly order: number; readonly frequencyHz: number; readonly velocityMmS: Level }[];
    readonly toothPassing?: { readonly teeth: number; readonly frequencyHz: number; readonly velocityMmS: Level };
    readonly bearings: readonly ToldBearing[];
  };
}

/** `onWindow` is told how many windows of how many are done. */
export function analyseChannel(
  channel: FileChannel,
  question: ChannelQuestion,
  onWindow: (done: number, of: number) => void = () => undefined,
): ChannelAnalysis {
  const { name, scaled, unitWords, sampleRateHz, accelerationMS2 } = channel;
  const { stretches, leftOut } = stretchesOf(accelerationMS2.length, sampleRateHz);
  const windows = stretches.map((stretch, i): AnalysedStretch => {
    const analysis = analyseWindow(windowOf(channel, stretch, question), question.settings);
    onWindow(i + 1, stretches.length);
    return { ...stretch, fromS: stretch.from / sampleRateHz, toS: stretch.to / sampleRateHz, analysis };
  });
  const usable = windows.filter(({ analysis }) => analysis.health.every(({ weight }) => weight !== 'unusable'));
  return {
    name,
    scaled,
    unitWords,
    sampleRateHz,
    samples: accelerationMS2.length,
    leftOut,
    windows,
    usable: usable.length,
    health: healthOf(windows),
    ...(usable.length === 0 ? {} : { told: toldOf(windows, usable) }),
  };
}

/** What of a channel is one window, for the analysis and for pictures of it. */
export function windowOf(
  { accelerationMS2, sampleRateHz, fullScaleMS2, stepMS2 }: RecordedChannel & Partial<FileChannel>,
  { from, to }: Stretch,
  { speedRpm }: Pick<ChannelQuestion, 'speedRpm'>,
): VibrationWindow {
  return {
    accelerationMS2: accelerationMS2.subarray(from, to),
    sampleRateHz,
    ...(speedRpm === undefined ? {} : { speedRpm }),
    ...(fullScaleMS2 === undefined ? {} : { fullScaleMS2 }),
    ...(stepMS2 === undefined ? {} : { stepMS2 }),
  };
}

/** Each kind once, the heaviest first, with the words of the window where it weighs most. */
function healthOf(windows: readonly AnalysedStretch[]): readonly ToldHealth[] {
  const told = new Map<string, ToldHealth>();
  for (const { fromS, analysis } of windows) {
    for (const finding of analysis.health) {
      const before = told.get(finding.kind);
      if (before === undefined) told.set(finding.kind, { ...finding, windows: 1, firstAtS: fromS });
      else {
        const heavier = rank(finding.weight) < rank(before.weight) ? finding : before;
        told.set(finding.kind, { ...before, ...heavier, windows: before.windows + 1, firstAtS: before.firstAtS });
      }
    }
  }
  return [...told.values()].toSorted((a, b) => rank(a.weight) - rank(b.weight) || b.windows - a.windows);
}

/** The heaviest first. */
const RANKS: Readonly<Record<HealthWeight, number>> = { unusable: 0, speed: 1, doubtful: 2 };
const rank = (weight: HealthWeight): number => RANKS[weight];

function toldOf(
  all: readonly AnalysedStretch[],
  usable: readonly AnalysedStretch[],
): NonNullable<ChannelAnalysis['told']> {
  const level = (of: (analysis: WaveAnalysis) => number | undefined): Level => levelOf(usable, of);
  const sorted = usable.toSorted((a, b) => a.analysis.overallMmS - b.analysis.overallMmS);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  const orders = middle?.analysis.orders ?? [];
  const teeth = middle?.analysis.toothPassing;
  return {
    middle: middle === undefined ? 0 : all.indexOf(middle),
    greatest: all.indexOf(sorted.at(-1) ?? all[0]!),
    overallMmS: level((it) => it.overallMmS),
    accelerationRmsMS2: level((it) => it.accelerationRmsMS2),
    accelerationPeakMS2: level((it) => it.accelerationPeakMS2),
    crestFactor: level((it) => it.crestFactor),
    kurtosis: level((it) => it.kurtosis),
    orders: orders.map(({ order, frequencyHz }) => ({
      order,
      frequencyHz,
      velocityMmS: level((it) => it.orders.find((one) => one.order === order)?.velocityMmS),
    })),
    ...(teeth === undefined
      ? {}
      : {
          toothPassing: {
            teeth: teeth.teeth,
            frequencyHz: teeth.frequencyHz,
            velocityMmS: level((it) => it.toothPassing?.velocityMmS),
          },
        }),
    bearings: bearingsOf(usable),
  };
}

function levelOf(usable: readonly AnalysedStretch[], of: (analysis: WaveAnalysis) => number | undefined): Level {
  const values: number[] = [];
  let greatest = -Infinity;
  let greatestAtS = 0;
  for (const { fromS, analysis } of usable) {
    const value = of(analysis);
    if (value === undefined) continue;
    values.push(value);
    if (value > greatest) [greatest, greatestAtS] = [value, fromS];
  }
  values.sort((a, b) => a - b);
  const half = values.length / 2;
  // Of an even number of values the mean of the two in the middle, as everywhere.
  const median = ((values[Math.ceil(half) - 1] ?? 0) + (values[Math.floor(half)] ?? 0)) / 2;
  return { median, greatest, greatestAtS };
}

/** Each part once: as in the window where it is loudest. */
function bearingsOf(usable: readonly AnalysedStretch[]): readonly ToldBearing[] {
  const told = new Map<string, ToldBearing>();
  for (const { analysis } of usable) {
    for (const finding of analysis.bearings) {
      const key = `${finding.part} ${finding.bearing}`;
      const before = told.get(key);
      const speaksIn = (before?.speaksIn ?? 0) + (finding.speaks ? 1 : 0);
      const louder = before === undefined || finding.indicator > before.indicator ? finding : before;
      told.set(key, { ...louder, speaks: speaksIn > 0, speaksIn });
    }
  }
  return [...told.values()];
}
