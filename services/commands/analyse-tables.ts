// What counterpoise analyse shows of a channel: health first, then levels, orders, bearings, and what it cannot tell.
import {
  bearingsWords,
  bearingSentence,
  cannotTell,
  healthSentence,
  speedWords,
  type ChannelAnalysis,
  type ChannelQuestion,
  type Level,
} from '../../shared/recorded-file/index.ts';
import type { AnswerTable } from './explain.ts';
import { inFigures, showValue, type QuantityName, type UnitSystem } from './value-units.ts';

type Told = NonNullable<ChannelAnalysis['told']>;
type Show = (level: Level, quantity?: QuantityName) => string[];

export function channelTables(
  analysis: ChannelAnalysis,
  question: ChannelQuestion,
  system: UnitSystem,
): readonly AnswerTable[] {
  const { health, windows, told } = analysis;
  const title = (what: string): string => `${analysis.name}: ${what}`;
  const healthTable: readonly AnswerTable[] =
    health.length === 0
      ? []
      : [{ title: title('health of the signal'), rows: health.map((one) => [healthSentence(one, analysis)]) }];
  const about: AnswerTable = { title: title('what was analysed'), rows: aboutRows(analysis, question) };
  const cannot: AnswerTable = {
    title: title('what it cannot tell'),
    rows: cannotTell(analysis, question).map((words) => [words]),
  };
  if (told === undefined) return [...healthTable, about];
  const show = showing(analysis, system);
  return [
    ...healthTable,
    about,
    { title: title('levels'), head: headOf(windows.length, ''), rows: levelRows(analysis, told, show) },
    ...ordersTable(told, show, title('orders of the shaft, velocity RMS'), windows.length),
    ...bearingsTable(told, title('bearings'), windows.length),
    cannot,
  ];
}

function aboutRows(analysis: ChannelAnalysis, question: ChannelQuestion): string[][] {
  const { windows, samples, sampleRateHz, unitWords, told } = analysis;
  const envelope = windows[told?.middle ?? 0]?.analysis.envelope;
  const seconds = (count: number): string => `${inFigures(count / sampleRateHz)} s`;
  const first = windows[0];
  const bearings = bearingsWords(question);
  return [
    ['length', `${seconds(samples)} at ${inFigures(sampleRateHz, 6)} Hz, ${samples} samples`],
    ...(windows.length === 1 || first === undefined
      ? []
      : [
          [
            'windows',
            `${windows.length} of ${seconds(first.to - first.from)} each; the median of them and the greatest are shown`,
          ],
        ]),
    ['unit', unitWords],
    ['speed', speedWords(analysis, question)],
    ...(bearings === '' ? [] : [['bearings', bearings]]),
    ...(envelope === undefined
      ? []
      : [
          [
            'envelope',
            `from ${inFigures(envelope.bandHz[0])} to ${inFigures(envelope.bandHz[1])} Hz, band ${envelope.band === 'given' ? 'as told' : 'found where it is most impulsive'}`,
          ],
        ]),
  ];
}

/** With one window its value, with more the median, the greatest and when. Without a unit velocity is told as a share of the whole. */
function showing({ scaled, windows, told }: ChannelAnalysis, system: UnitSystem): Show {
  return (level, quantity) => {
    const shown = (value: number): string => {
      if (quantity === undefined) return inFigures(value);
      if (scaled) return showValue(quantity, value, system);
      if (quantity === 'acceleration') return `${inFigures(value)} (no unit)`;
      return `${inFigures((100 * value) / (told?.overallMmS.median ?? 1), 3)} % of the overall`;
    };
    if (windows.length === 1) return [shown(level.median)];
    return [shown(level.median), shown(level.greatest), `${inFigures(level.greatestAtS)} s`];
  };
}

const headOf = (windows: number, first: string): string[] =>
  windows === 1 ? [first, 'value'] : [first, 'median', 'greatest', 'from'];

function levelRows({ windows, scaled }: ChannelAnalysis, told: Told, show: Show): string[][] {
  const [from = 0, to = 0] = windows[told.middle]?.analysis.bandHz ?? [];
  return [
    ...(scaled
      ? [[`overall velocity RMS, ${inFigures(from)} to ${inFigures(to)} Hz`, ...show(told.overallMmS, 'velocity')]]
      : []),
    ['acceleration RMS', ...show(told.accelerationRmsMS2, 'acceleration')],
    ['acceleration peak', ...show(told.accelerationPeakMS2, 'acceleration')],
    ['crest factor', ...show(told.crestFactor)],
    ['kurtosis, 3 for plain noise', ...show(told.kurtosis)],
  ];
}

function ordersTable(told: Told, show: Show, title: string, windows: number): readonly AnswerTable[] {
  const { orders, toothPassing: teeth } = told;
  if (orders.length === 0) return [];
  const row = (name: string, frequencyHz: number, level: Level): string[] => [
    name,
    `${inFigures(frequencyHz, 5)} Hz`,
    ...show(level, 'velocity'),
  ];
  const [first = '', ...rest] = headOf(windows, '');
  return [
    {
      title,
      head: [first, 'at', ...rest],
      rows: [
        ...orders.map(({ order, frequencyHz, velocityMmS }) => row(`${order}×`, frequencyHz, velocityMmS)),
        ...(teeth === undefined ? [] : [row(`tooth passing, ${teeth.teeth}×`, teeth.frequencyHz, teeth.velocityMmS)]),
      ],
    },
  ];
}

function bearingsTable({ bearings }: Told, title: string, windows: number): readonly AnswerTable[] {
  if (bearings.length === 0) return [];
  const sorted = bearings.toSorted((a, b) => b.speaksIn - a.speaksIn || b.indicator - a.indicator);
  return [{ title, rows: sorted.map((finding) => [bearingSentence(finding, windows)]) }];
}
