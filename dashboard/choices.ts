// What of a page is shown, as its address keeps it, so that whoever is sent the address sees the same: the time, the part, the kind.
// Nothing said is what a page shows at first. Pure: reads and writes texts only.
import { SERIES_QUANTITIES } from '../shared/series-quantities.ts';
import type { VibrationQuantity } from '../shared/vibration/index.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_SECOND, SPANS } from './time-spans.ts';

/** By its name in the address; never what `choicesIn` would not read. */
export type Choices = Readonly<Record<string, string>>;
/** An undefined value takes a name away. */
export type ChoiceChanges = Readonly<Record<string, string | undefined>>;

export const NOTHING_CHOSEN: Choices = {};

export const WINDOW_PICTURES = ['spectrum', 'envelope', 'waveform'] as const;
/** By type alone, so that no reckoning comes along to the first page. */
const SPECTRUM_QUANTITIES = [
  'acceleration',
  'velocity',
  'displacement',
] as const satisfies readonly VibrationQuantity[];
/** Lines of a spectrum; more is the finest there is. */
export const SPECTRUM_LINES = [8192, 2048, 512] as const;
export const PICTURES_OVER_TIME = ['spectra', 'path'] as const;
/** How much closer to the newest point of a path. */
export const PATH_CLOSER = [2, 4, 8, 16] as const;
export const HEADROOM_DAYS = [7, 28, 91, 365] as const;
export const TRY_OUT_DAYS = [7, 30, 90] as const;

type Reads = (text: string) => boolean;

const TEXT_MAX = 100;
const WHOLE = 'all';
const BETWEEN = '..';
/** Longer is no part of a year of readings, shorter no part of a trend. */
const STRETCH_MOST_MS = 366 * MILLISECONDS_A_DAY;
const STRETCH_LEAST_MS = 10 * MILLISECONDS_A_SECOND;
const PLACES = 9;

const oneOf =
  (words: readonly (string | number)[]): Reads =>
  (text) =>
    words.some((word) => String(word) === text);
const matches =
  (pattern: RegExp): Reads =>
  (text) =>
    pattern.test(text);
const anyText: Reads = (text) => text !== '' && text.length <= TEXT_MAX;
/** Positions in the journal too, after ten years. */
const wholeNumber = matches(/^\d{1,15}$/);
/** In rpm: at 0 a permissible residual unbalance has no end. */
const speed = matches(/^[1-9]\d{0,6}(?:\.\d{1,3})?$/);
const part: Reads = (text) => text === WHOLE || partOf(text) !== undefined;
const instant: Reads = (text) => instantOf(text) !== undefined;

const OF_A_WINDOW: Readonly<Record<string, Reads>> = {
  picture: oneOf(WINDOW_PICTURES),
  quantity: oneOf(SPECTRUM_QUANTITIES),
  scale: oneOf(['linear', 'decibels']),
  lines: oneOf(SPECTRUM_LINES),
  band: (text) => partOf(text) !== undefined,
  family: anyText,
  'spectrum-part': part,
  'envelope-part': part,
  'waveform-part': part,
};

const NAMES = {
  spindle: {
    of: oneOf(SERIES_QUANTITIES),
    from: instant,
    to: instant,
    speed: wholeNumber,
    ahead: anyText,
    fan: wholeNumber,
    window: wholeNumber,
    channel: anyText,
    over: oneOf(PICTURES_OVER_TIME),
    'over-span': oneOf(SPANS),
    'over-from': instant,
    'over-to': instant,
    'path-speed': speed,
    'path-closer': oneOf(PATH_CLOSER),
    ...OF_A_WINDOW,
  },
  recording: OF_A_WINDOW,
  assembly: { speed, bench: oneOf(['shown']) },
  assemblies: { only: oneOf(['needing']) },
  headroom: { days: oneOf(HEADROOM_DAYS) },
  intake: { list: oneOf(['open', 'retried']), only: oneOf(['matter']) },
  'try-out': { days: oneOf(TRY_OUT_DAYS) },
} as const satisfies Readonly<Record<string, Readonly<Record<string, Reads>>>>;

export type ChoosingPage = keyof typeof NAMES;
export const isChoosing = (page: string): page is ChoosingPage => Object.hasOwn(NAMES, page);

/** Two that say nothing without each other. */
const STRETCHES = [
  ['from', 'to'],
  ['over-from', 'over-to'],
] as const;

/** What of an address a page understands: what it does not is left out, a stretch of time with it where one end is missing. */
export function choicesIn(page: ChoosingPage, query: URLSearchParams): { choices?: Choices } {
  const names: Readonly<Record<string, Reads>> = NAMES[page];
  const read: Record<string, string> = {};
  for (const [name, reads] of Object.entries(names)) {
    const text = query.get(name);
    if (text !== null && reads(text)) read[name] = text;
  }
  for (const [from, to] of STRETCHES)
    if (stretchOf(read, from, to) === undefined) {
      Reflect.deleteProperty(read, from);
      Reflect.deleteProperty(read, to);
    }
  return Object.keys(read).length === 0 ? {} : { choices: read };
}

export function changed(choices: Choices, changes: ChoiceChanges): Choices {
  const merged = Object.entries({ ...choices, ...changes });
  return Object.fromEntries(merged.filter((entry): entry is [string, string] => entry[1] !== undefined));
}

/** Which of them it is; undefined for none. */
export function chosenOf<const Word extends string>(
  text: string | undefined,
  words: readonly Word[],
): Word | undefined {
  return words.find((word) => word === text);
}

export const numberOf = (text: string | undefined): number | undefined =>
  text === undefined ? undefined : Number(text);

export interface Part {
  readonly from: number;
  readonly to: number;
}

/** "120..1500", in the unit of the axis; `undefined` for the whole. */
export function partText(range: Part | undefined): string {
  if (range === undefined) return WHOLE;
  return [range.from, range.to].map((end) => String(Number(end.toPrecision(PLACES)))).join(BETWEEN);
}

/** Undefined for what is no part, the whole too. */
export function partOf(text: string | undefined): Part | undefined {
  const [from = NaN, to = NaN, ...rest] = (text ?? '').split(BETWEEN).map((end) => (end === '' ? NaN : Number(end)));
  return rest.length === 0 && Number.isFinite(from) && Number.isFinite(to) && from < to ? { from, to } : undefined;
}

export const isWholeText = (text: string | undefined): boolean => text === WHOLE;

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/;

/** "2026-11-24T08:15:30Z" */
export function instantText(at: number): string {
  return new Date(Math.round(at / MILLISECONDS_A_SECOND) * MILLISECONDS_A_SECOND).toISOString().replace('.000', '');
}

function instantOf(text: string | undefined): number | undefined {
  if (text === undefined || !INSTANT.test(text)) return undefined;
  const at = Date.parse(text);
  return Number.isNaN(at) ? undefined : at;
}

/** Milliseconds since 1970; undefined where an end is missing, they are the wrong way round, or nothing that long or short is shown. */
export function stretchOf(choices: Choices, from: string, to: string): Part | undefined {
  const [begin, end] = [instantOf(choices[from]), instantOf(choices[to])];
  if (begin === undefined || end === undefined) return undefined;
  const length = end - begin;
  return length >= STRETCH_LEAST_MS && length <= STRETCH_MOST_MS ? { from: begin, to: end } : undefined;
}
