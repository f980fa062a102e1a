// What counterpoise analyse is told beside its file: how to read it, how fast it turned, which teeth, bearings and bands.
import * as z from 'zod';
import { Bearing, BEARINGS_PER_SPINDLE_MAX } from '../../shared/bearing.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import {
  bearingIn,
  COLUMN_UNITS,
  DECIMAL_MARKS,
  type ChannelQuestion,
  type ColumnUnit,
  type DecimalMark,
  type ReadingChoices,
} from '../../shared/recorded-file/index.ts';
import { readData } from './balance-flags.ts';
import type { FlagReader } from './calculation-options.ts';
import { faultsOf } from './file-faults.ts';
import { unknownKeys } from './unknown-keys.ts';
import { ValueFault } from './value-units.ts';

export function readingChoices(read: FlagReader): ReadingChoices {
  const unit = oneOf(read, 'unit', COLUMN_UNITS) as ColumnUnit | undefined;
  const decimalMark = oneOf(read, 'decimal', DECIMAL_MARKS) as DecimalMark | undefined;
  const fullScaleMS2 = positive(read, 'scale', read.value('scale', 'acceleration'));
  const sensitivityMvPerG = positive(read, 'sensitivity', read.value('sensitivity', 'sensitivity'));
  const sampleRateHz = positive(read, 'rate', read.value('rate', 'frequency'));
  return {
    ...(unit === undefined ? {} : { unit }),
    ...(decimalMark === undefined ? {} : { decimalMark }),
    ...(fullScaleMS2 === undefined ? {} : { fullScaleMS2 }),
    ...(sensitivityMvPerG === undefined ? {} : { sensitivityMvPerG }),
    ...(sampleRateHz === undefined ? {} : { sampleRateHz }),
  };
}

function positive(read: FlagReader, flag: string, value: number | undefined): number | undefined {
  if (value === 0) throw new ValueFault(`--${flag}: expected more than 0, came ${JSON.stringify(read.text(flag))}`);
  return value;
}

function oneOf(read: FlagReader, flag: string, known: readonly string[]): string | undefined {
  const text = read.text(flag);
  if (text === undefined || known.includes(text)) return text;
  throw new ValueFault(`--${flag}: expected ${known.join(', ')}, came ${JSON.stringify(text)}`);
}

const TEETH_MAX = 500;

export function channelQuestion(read: FlagReader): ChannelQuestion {
  const speedRpm = read.value('speed', 'speed');
  const teeth = teethOf(read);
  const velocityBandHz = bandOf(read, 'band');
  const envelopeBandHz = bandOf(read, 'envelope-band');
  const bearings = bearingsOf(read);
  return {
    ...(speedRpm === undefined ? {} : { speedRpm }),
    settings: {
      bearings,
      ...(teeth === undefined ? {} : { teeth }),
      ...(velocityBandHz === undefined ? {} : { velocityBandHz }),
      ...(envelopeBandHz === undefined ? {} : { envelopeBandHz }),
    },
  };
}

function teethOf(read: FlagReader): number | undefined {
  const text = read.text('teeth');
  if (text === undefined) return undefined;
  const teeth = Number(text);
  if (Number.isInteger(teeth) && teeth >= 1 && teeth <= TEETH_MAX) return teeth;
  throw new ValueFault(`--teeth: expected a whole number from 1 to ${TEETH_MAX}, came ${JSON.stringify(text)}`);
}

const BAND = /^\s*(\d+(?:\.\d+)?)\s*(?:-|–|\.\.\.?|…|to)\s*(\d+(?:\.\d+)?)\s*(?:hz)?\s*$/iu;

function bandOf(read: FlagReader, flag: string): readonly [number, number] | undefined {
  const text = read.text(flag);
  if (text === undefined) return undefined;
  const [, from, to] = BAND.exec(text) ?? [];
  const band = [Number(from), Number(to)] as const;
  if (band[0] > 0 && band[1] > band[0]) return band;
  throw new ValueFault(
    `--${flag}: expected two frequencies in Hz such as 10-1000, the lower above 0 and first, came ${JSON.stringify(text)}`,
  );
}

const Bearings = z.array(Bearing).max(BEARINGS_PER_SPINDLE_MAX);

/** Of --bearing, each in one line, and of the file of --bearings. */
function bearingsOf(read: FlagReader): readonly Bearing[] {
  const told = read.texts('bearing').map((text) => toldBearing(text));
  const path = read.text('bearings');
  const all = [...told, ...(path === undefined ? [] : bearingsIn(path))];
  if (all.length > BEARINGS_PER_SPINDLE_MAX)
    throw new ValueFault(`--bearing: expected at most ${BEARINGS_PER_SPINDLE_MAX} bearings, came ${all.length}`);
  const twice = all.find(({ name }, i) => all.findIndex((one) => one.name === name) !== i);
  if (twice !== undefined) throw new ValueFault(`--bearing: expected a name for each, came ${twice.name} twice`);
  return all;
}

function toldBearing(text: string): Bearing {
  const bearing = bearingIn(text, '--bearing');
  if (typeof bearing === 'string') throw new ValueFault(`--bearing: ${bearing}`);
  return bearing;
}

function bearingsIn(path: string): readonly Bearing[] {
  const value = readData(path, '--bearings');
  const parsed = Bearings.safeParse(value, PLAIN);
  const unknown = unknownKeys(Bearings, value);
  if (parsed.success && unknown.length === 0) return parsed.data;
  const faults = parsed.success ? [] : faultsOf(parsed.error);
  throw new ValueFault(`--bearings: ${path}: ${[...unknown, ...faults].join('; ')}`);
}
