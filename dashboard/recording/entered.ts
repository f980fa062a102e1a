// What was entered beside a file, as text, into what is asked of it; what cannot be meant is said by its field. Pure.
import { say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import { BEARINGS_PER_SPINDLE_MAX } from '../../shared/bearing-limits.ts';
import {
  bearingIn,
  STANDARD_GRAVITY_MS2,
  type ChannelQuestion,
  type ColumnUnit,
  type DecimalMark,
  type ReadingChoices,
} from '../../shared/recorded-file/index.ts';
import { typedNumber } from '../wording/typed-number.ts';

export const SCALE_UNITS = ['g', 'm/s2'] as const;
export type ScaleUnit = (typeof SCALE_UNITS)[number];

/** Fields of the form, as they were typed; '' is "not told". */
export interface Entered {
  readonly speed: string;
  readonly teeth: string;
  readonly scale: string;
  readonly scaleUnit: ScaleUnit;
  readonly unit: ColumnUnit | '';
  readonly sensitivity: string;
  readonly rate: string;
  readonly decimalMark: DecimalMark | '';
  readonly bearings: string;
  readonly bandFrom: string;
  readonly bandTo: string;
  readonly envelopeFrom: string;
  readonly envelopeTo: string;
}
export type FieldName = keyof Entered;

export const NOTHING_ENTERED: Entered = {
  speed: '',
  teeth: '',
  scale: '',
  scaleUnit: 'g',
  unit: '',
  sensitivity: '',
  rate: '',
  decimalMark: '',
  bearings: '',
  bandFrom: '',
  bandTo: '',
  envelopeFrom: '',
  envelopeTo: '',
};

export interface FieldFault {
  readonly field: FieldName;
  readonly words: string;
}

export type AskedOfFile =
  | { readonly kind: 'asked'; readonly choices: ReadingChoices; readonly question: ChannelQuestion }
  | { readonly kind: 'faults'; readonly faults: readonly FieldFault[] };

const TEETH_MAX = 500;

/** `declared`: bearings of a spindle of the plant, beside those that were typed. */
export function askedOf(entered: Entered, declared: readonly Bearing[] = []): AskedOfFile {
  const faults: FieldFault[] = [];
  const number = (field: FieldName, what: string): number | undefined => {
    const text = entered[field].trim();
    if (text === '') return undefined;
    const typed = typedNumber(text, { inThousands: field === 'speed' || field === 'rate' });
    if (typed.kind === 'number' && typed.value > 0) return typed.value;
    const words =
      typed.kind === 'unclear' ? say`${what}: ${typed.why}` : say`${what}: expected a number above 0, came “${text}”.`;
    faults.push({ field, words });
    return undefined;
  };
  const scale = number('scale', say`Full scale`);
  const teeth = number('teeth', say`Teeth`);
  if (teeth !== undefined && !(Number.isInteger(teeth) && teeth <= TEETH_MAX))
    faults.push({ field: 'teeth', words: say`Teeth: expected a whole number up to ${TEETH_MAX}, came ${teeth}.` });
  const band = (from: FieldName, to: FieldName, what: string): readonly [number, number] | undefined => {
    const [low, high] = [number(from, say`${what}, from`), number(to, say`${what}, to`)];
    if (low === undefined && high === undefined) return undefined;
    if (low !== undefined && high !== undefined && low < high) return [low, high];
    faults.push({ field: from, words: say`${what}: expected two frequencies in Hz, the lower one first.` });
    return undefined;
  };
  const choices: ReadingChoices = {
    ...present(
      'fullScaleMS2',
      scale === undefined ? undefined : scale * (entered.scaleUnit === 'g' ? STANDARD_GRAVITY_MS2 : 1),
    ),
    ...present('sensitivityMvPerG', number('sensitivity', say`Sensitivity`)),
    ...present('sampleRateHz', number('rate', say`Sample rate`)),
    ...present('unit', entered.unit === '' ? undefined : entered.unit),
    ...present('decimalMark', entered.decimalMark === '' ? undefined : entered.decimalMark),
  };
  const question: ChannelQuestion = {
    ...present('speedRpm', number('speed', say`Speed`)),
    settings: {
      bearings: bearingsIn(entered.bearings, declared, faults),
      ...present('teeth', teeth),
      ...present('velocityBandHz', band('bandFrom', 'bandTo', say`Band of the overall velocity`)),
      ...present('envelopeBandHz', band('envelopeFrom', 'envelopeTo', say`Band of the envelope`)),
    },
  };
  return faults.length > 0 ? { kind: 'faults', faults } : { kind: 'asked', choices, question };
}

function present<K extends string, V>(name: K, value: V | undefined): { readonly [key in K]?: V } {
  return (value === undefined ? {} : { [name]: value }) as { readonly [key in K]?: V };
}

/** One in each line; of two with one name the typed one counts. */
function bearingsIn(text: string, declared: readonly Bearing[], faults: FieldFault[]): readonly Bearing[] {
  const typed: Bearing[] = [];
  for (const line of text.split('\n')) {
    if (line.trim() === '') continue;
    const bearing = bearingIn(line, say`entered by hand`);
    if (typeof bearing === 'string') faults.push({ field: 'bearings', words: say`Bearings: ${bearing}` });
    else if (typed.some(({ name }) => name === bearing.name))
      faults.push({ field: 'bearings', words: say`Bearings: expected a name for each, came ${bearing.name} twice.` });
    else typed.push(bearing);
  }
  const all = [...typed, ...declared.filter(({ name }) => !typed.some((one) => one.name === name))];
  if (all.length > BEARINGS_PER_SPINDLE_MAX)
    faults.push({
      field: 'bearings',
      words: say`Bearings: expected at most ${BEARINGS_PER_SPINDLE_MAX}, came ${all.length}.`,
    });
  return all;
}
