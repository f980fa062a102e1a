// Numbers as people read them here: grouped, with as many places as they are worth, and never without a unit.
import { numberLocale, numberMarks, say, sayCount } from '../../shared/language/index.ts';
import { shownUnit } from './units.ts';

/** What stands where there is no number. */
export const MISSING = '–';

/** UCUM's code of a plain number. */
export const COUNTED = '1';
/** And of a rotational speed. */
export const SPEED = '{rev}/min';

interface NumberWriter {
  format(value: number): string;
}

const formatters = new Map<number, NumberWriter>();

/** With a minus as wide as the plus, where the locale itself writes a hyphen. */
function formatterOf(places: number): NumberWriter {
  const known = formatters.get(places);
  if (known !== undefined) return known;
  const locale = new Intl.NumberFormat(numberLocale(), {
    minimumFractionDigits: places,
    maximumFractionDigits: places,
  });
  const made = { format: (value: number) => locale.format(value).replace('-', '−') };
  formatters.set(places, made);
  return made;
}

/** From here on a number is none that was measured; written out it would break what it stands in. */
const POWER_FROM = 1e9;

const FINE_PLACES_MAX = 9;

function placesOf(value: number): number {
  const size = Math.abs(value);
  if (size >= 100 || size === 0) return 0;
  if (size >= 10) return 1;
  return size >= 0.1 ? 2 : 3;
}

/** Three figures however small: what is read in another unit is not rounded more than it was. */
function fineFigure(value: number): string {
  // What a factor leaves behind the twelfth figure is no part of the number.
  const size = Math.abs(Number(value.toPrecision(12)));
  if (size >= 1 || size === 0 || !Number.isFinite(value)) return figure(value);
  return formatterOf(Math.min(FINE_PLACES_MAX, 2 - Math.floor(Math.log10(size)))).format(value);
}

/** As it stands under a head that names the unit (unitOf): the number alone, in the unit that is read here. */
export function amount(value: number | undefined, ucum: string): string {
  if (value === undefined || !Number.isFinite(value)) return MISSING;
  const { converted, of } = shownUnit(ucum);
  return converted ? fineFigure(of(value)) : figure(value);
}

/** Three figures or so: 0.034, 0.62, 1.85, 12.4, 480, 18,000. */
export function figure(value: number | undefined): string {
  if (value === undefined || !Number.isFinite(value)) return MISSING;
  if (Math.abs(value) >= POWER_FROM) return powerOf(value);
  return formatterOf(placesOf(value)).format(value);
}

const powerOf = (value: number): string =>
  value.toExponential(2).replace('.', numberMarks().decimal).replace('e+', '×10^');

/** With just as many places, whatever its size. */
export const withPlaces = (value: number, places: number): string => formatterOf(places).format(value);

/** A round value on an axis: all of its digits, and none more. */
export function graduation(value: number): string {
  return formatterOf(Math.min(FINE_PLACES_MAX, decimalsOf(value))).format(value);
}

function decimalsOf(value: number): number {
  const [digits = '', power = '0'] = Number(value.toPrecision(6)).toExponential().split('e');
  return Math.max(0, (digits.split('.')[1]?.length ?? 0) - Number(power));
}

/** The unit that is read here, for a UCUM code of the messages. */
/** A round value on an axis in the unit that is read here, and where it stands: its place in the unit of the messages. */
export interface ShownTick {
  readonly value: number;
  readonly word: string;
}

/** Round in the unit that is read here; `ticksOf` is given what turns a length of the axis into it. */
export function shownTicks(
  ucum: string,
  ticksOf: (shown: (value: number) => number) => readonly number[],
): ShownTick[] {
  const { of, back } = shownUnit(ucum);
  return ticksOf(of).map((tick) => ({ value: back(tick), word: graduation(tick) }));
}

export const unitOf = (ucum: string): string => shownUnit(ucum).word;

export function withUnit(value: number | undefined, ucum: string): string {
  if (value === undefined || !Number.isFinite(value)) return MISSING;
  // Things that are counted have no places and no unit.
  if (ucum === COUNTED && Number.isInteger(value)) return formatterOf(0).format(value);
  const unit = unitOf(ucum);
  return unit === '' || unit === '°' ? `${amount(value, ucum)}${unit}` : `${amount(value, ucum)} ${unit}`;
}

export function velocity(value: number | undefined): string {
  return withUnit(value, 'mm/s');
}

export function unbalance(value: number | undefined): string {
  return withUnit(value, 'g.mm');
}

/** An angle from 0 up to 360, to a tenth where it has one: 214°, 12.5°. */
export function degrees(angleDeg: number | undefined): string {
  if (angleDeg === undefined || !Number.isFinite(angleDeg)) return MISSING;
  const turned = ((angleDeg % 360) + 360) % 360;
  return `${graduation((Math.round(turned * 10) / 10) % 360)}°`;
}

/** An amount at its angle: 4.10 g·mm at 310°. */
export function vector(gmm: number | undefined, angleDeg: number | undefined): string {
  return angleDeg === undefined ? unbalance(gmm) : say`${unbalance(gmm)} at ${degrees(angleDeg)}`;
}

/** One thing of another: 0.85 of 1.20 mm/s; the one alone where the other is not known. */
export function ofWhat(value: number | undefined, whole: number | undefined, ucum: string): string {
  if (whole === undefined) return withUnit(value, ucum);
  return say`${amount(value, ucum)} of ${withUnit(whole, ucum)}`;
}

export function speed(value: number | undefined): string {
  return value === undefined ? MISSING : say`${formatterOf(0).format(value)} rpm`;
}

/** A ratio of two like things: 2.4×. */
export function times(ratio: number | undefined): string {
  if (ratio === undefined || !Number.isFinite(ratio)) return MISSING;
  return `${formatterOf(ratio >= 10 ? 0 : ratio >= 2 ? 1 : 2).format(ratio)}×`;
}

export function count(value: number, one: string, many: string): string {
  return sayCount(value, `{0} ${one}`, `{0} ${many}`, formatterOf(0).format(value));
}

export function whole(value: number): string {
  return formatterOf(0).format(value);
}
