// Values as people write them, "1.2kg" or "0.002 ozin", into what is counted in, and back into what they want to see.
import {
  gFromOz,
  gmmFromGCm,
  gmmFromGIn,
  gmmFromKgM,
  gmmFromOzIn,
  inchFromMm,
  inPerSFromMmPerS,
  kgFromLb,
  lbFromKg,
  lbfFromN,
  mmFromInch,
  mmPerSFromInPerS,
  nFromLbf,
  normaliseAngleDeg,
  ozFromG,
  ozInFromGmm,
  type UnbalanceVector,
} from '../../shared/balance/index.ts';

export const UNIT_SYSTEMS = ['metric', 'imperial'] as const;
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];

/** A value that cannot be meant, by the flag that brought it and with what was expected. */
export class ValueFault extends Error {}

type Factor = (value: number) => number;
interface Quantity {
  /** Written without blanks and dots, in small letters, to what is counted in. */
  readonly units: Readonly<Record<string, Factor>>;
  /** What a bare number is in, and what is shown, per system. */
  readonly usual: Readonly<Record<UnitSystem, string>>;
  readonly shown: Readonly<Record<UnitSystem, readonly [unit: string, from: Factor]>>;
}

const same: Factor = (value) => value;
const times =
  (factor: number): Factor =>
  (value) =>
    value * factor;
const alike = (unit: string, from: Factor = same): Pick<Quantity, 'usual' | 'shown'> => ({
  usual: { metric: unit, imperial: unit },
  shown: { metric: [unit, from], imperial: [unit, from] },
});
const MM_PER_M = 1000;
const G_PER_KG = 1000;
const UM_PER_MM = 1000;
const G_CM3_PER_LB_IN3 = (kgFromLb(1) * G_PER_KG) / (mmFromInch(1) / 10) ** 3;
const speedUnits = { rpm: same, '1/min': same, min1: same };
/** m/s² per g: ISO 80000-3. */
const G_MS2 = 9.80665;
const velocityUnits = { 'mm/s': same, 'in/s': mmPerSFromInPerS };
const velocity: Quantity = {
  units: velocityUnits,
  usual: { metric: 'mm/s', imperial: 'in/s' },
  shown: { metric: ['mm/s', same], imperial: ['in/s', inPerSFromMmPerS] },
};

/** Everything that is counted in: kg, g, g·mm, rpm, mm, µm, degrees, mm/s, N, %, g/cm³. */
const QUANTITIES = {
  mass: {
    units: { kg: same, g: times(1 / G_PER_KG), lb: kgFromLb, oz: (oz) => gFromOz(oz) / G_PER_KG },
    usual: { metric: 'kg', imperial: 'lb' },
    shown: { metric: ['kg', same], imperial: ['lb', lbFromKg] },
  },
  'small mass': {
    units: { g: same, kg: times(G_PER_KG), oz: gFromOz, lb: (lb) => kgFromLb(lb) * G_PER_KG },
    usual: { metric: 'g', imperial: 'oz' },
    shown: { metric: ['g', same], imperial: ['oz', ozFromG] },
  },
  unbalance: {
    units: { gmm: same, gcm: gmmFromGCm, kgm: gmmFromKgM, gin: gmmFromGIn, ozin: gmmFromOzIn },
    usual: { metric: 'gmm', imperial: 'ozin' },
    shown: { metric: ['g·mm', same], imperial: ['oz·in', ozInFromGmm] },
  },
  couple: {
    units: { gmm2: same, ozin2: (ozIn2) => gmmFromOzIn(mmFromInch(ozIn2)) },
    usual: { metric: 'gmm2', imperial: 'ozin2' },
    shown: { metric: ['g·mm²', same], imperial: ['oz·in²', (gmm2) => ozInFromGmm(inchFromMm(gmm2))] },
  },
  speed: { units: speedUnits, ...alike('rpm') },
  length: {
    units: { mm: same, cm: times(10), m: times(MM_PER_M), in: mmFromInch },
    usual: { metric: 'mm', imperial: 'in' },
    shown: { metric: ['mm', same], imperial: ['in', inchFromMm] },
  },
  eccentricity: {
    units: { um: same, mm: times(UM_PER_MM), in: (inch) => mmFromInch(inch) * UM_PER_MM },
    usual: { metric: 'um', imperial: 'in' },
    shown: { metric: ['µm', same], imperial: ['in', (um) => inchFromMm(um / UM_PER_MM)] },
  },
  angle: {
    units: { deg: same, '°': same },
    usual: { metric: 'deg', imperial: 'deg' },
    shown: { metric: ['°', same], imperial: ['°', same] },
  },
  /** By how much something is off: no direction, so it is not brought into a circle. */
  'angle error': { units: { deg: same, '°': same }, ...alike('deg') },
  /** A balance quality grade is a number of mm/s in every country. */
  grade: { units: velocityUnits, ...alike('mm/s') },
  velocity,
  force: {
    units: { n: same, kn: times(1000), lbf: nFromLbf },
    usual: { metric: 'n', imperial: 'lbf' },
    shown: { metric: ['N', same], imperial: ['lbf', lbfFromN] },
  },
  percent: { units: { '%': same }, ...alike('%') },
  acceleration: {
    units: { 'm/s2': same, 'm/s²': same, 'mm/s2': times(1e-3), g: times(G_MS2), mg: times(G_MS2 / 1000) },
    usual: { metric: 'm/s2', imperial: 'g' },
    shown: { metric: ['m/s²', same], imperial: ['g', times(1 / G_MS2)] },
  },
  frequency: { units: { hz: same, khz: times(1000) }, ...alike('Hz') },
  sensitivity: { units: { 'mv/g': same, 'mv/(m/s2)': times(G_MS2), 'mv/ms2': times(G_MS2) }, ...alike('mV/g') },
  density: {
    units: { 'g/cm3': same, 'kg/m3': times(1e-3), 'lb/in3': times(G_CM3_PER_LB_IN3) },
    usual: { metric: 'g/cm3', imperial: 'lb/in3' },
    shown: { metric: ['g/cm³', same], imperial: ['lb/in³', times(1 / G_CM3_PER_LB_IN3)] },
  },
} as const satisfies Record<string, Quantity>;
export type QuantityName = keyof typeof QUANTITIES;

const NUMBER_AND_UNIT = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(\S.*)?$/i;

/** Small letters; blanks, dots and hyphens inside of a unit left out; µ and μ are u, ³ is 3. */
function plainUnit(text: string): string {
  return text
    .replaceAll(/[µμ]/g, 'u')
    .replaceAll('³', '3')
    .toLowerCase()
    .replaceAll(/[\s·.*_-]/g, '');
}

const SIGNED: ReadonlySet<QuantityName> = new Set(['angle', 'length']);

/** There is nothing that weighs nothing, stands still in service or bears no load. */
const POSITIVE: ReadonlySet<QuantityName> = new Set(['mass', 'speed', 'grade', 'force']);

/** Told in words of what was taken in another way than it was written. */
export type Tell = (remark: string) => void;

/**
 * Reads a value; a bare number is in the system's usual unit. `flag` names it in the complaint. Angles come out in
 * 0 … 360, and `tell` hears of those that were not. Throws a ValueFault for what is no number, a unit of something
 * else, or a negative amount.
 */
export function readValue(
  quantity: QuantityName,
  text: string,
  flag: string,
  system: UnitSystem = 'metric',
  tell: Tell = () => undefined,
): number {
  const { units, usual }: Quantity = QUANTITIES[quantity];
  const accepted = Object.keys(units).join(', ');
  const refused = (hint = ''): ValueFault =>
    new ValueFault(
      `${flag}: expected a number for ${articleOf(quantity)}, in ${accepted} (bare: ${usual[system]}), came ${JSON.stringify(text)}${hint}`,
    );
  const plain = quantity === 'grade' ? text.trim().replace(/^G\s*(?=[\d.])/i, '') : text.trim();
  if (/^[+-]?\d+,\d/.test(plain)) throw refused('; the decimal sign is a point');
  const [, digits = '', unit] = NUMBER_AND_UNIT.exec(plain) ?? [];
  const name = plainUnit(unit ?? usual[system]);
  const factor = Object.hasOwn(units, name) ? units[name] : undefined;
  if (digits === '' || factor === undefined) throw refused();
  const value = factor(Number(digits));
  if (!Number.isFinite(value)) throw refused();
  if (value <= 0 && POSITIVE.has(quantity))
    throw new ValueFault(`${flag}: expected more than 0, came ${JSON.stringify(text)}`);
  if (value < 0 && !SIGNED.has(quantity))
    throw new ValueFault(`${flag}: expected at least 0, came ${JSON.stringify(text)}`);
  if (quantity !== 'angle') return value;
  const angleDeg = normaliseAngleDeg(value);
  if (angleDeg !== value) tell(`${flag}: ${inFigures(value)}° is taken as ${inFigures(angleDeg)}°.`);
  return angleDeg;
}

function articleOf(quantity: QuantityName): string {
  return /^[aeiou]/.test(quantity) ? `an ${quantity}` : `a ${quantity}`;
}

/** "3.2gmm@120": an amount of unbalance at an angle. Throws a ValueFault as readValue does. */
export function readVector(
  text: string,
  flag: string,
  system: UnitSystem = 'metric',
  tell: Tell = () => undefined,
): UnbalanceVector {
  const [amount = '', angle, ...more] = text.split('@');
  if (angle === undefined || more.length > 0) {
    throw new ValueFault(`${flag}: expected an amount at an angle, such as 3.2gmm@120, came ${JSON.stringify(text)}`);
  }
  return { gmm: readValue('unbalance', amount, flag, system), angleDeg: readValue('angle', angle, flag, system, tell) };
}

const FIGURES = 4;
/** Sums of everyday numbers are off by less than this, in any unit; nothing that is measured is so small. */
const DUST = 1e-9;

/** A number with four figures, no exponent among numbers of everyday, no noise behind it; rounding dust is 0. */
export function inFigures(value: number, figures: number = FIGURES): string {
  if (Math.abs(value) < DUST) return '0';
  const rounded = Number(value.toPrecision(figures));
  // The largest numbers there are would be rounded up to none.
  return String(Number.isFinite(rounded) ? rounded : value);
}

/** A value with its unit, as the system writes it: "12.03 g·mm". */
export function showValue(quantity: QuantityName, value: number, system: UnitSystem = 'metric'): string {
  const { shown }: Quantity = QUANTITIES[quantity];
  const [unit, from] = shown[system];
  if (quantity === 'angle') return `${normaliseAngleDeg(Number(value.toFixed(1)))}°`;
  // A speed is a bound wherever it is shown: never rounded up.
  if (quantity === 'speed') return `${Math.floor(value)} ${unit}`;
  return `${inFigures(from(value))} ${unit}`;
}

/** "2 … 3 µm". */
export function showRange(quantity: QuantityName, low: number, high: number, system: UnitSystem = 'metric'): string {
  const [, from] = QUANTITIES[quantity].shown[system];
  return `${inFigures(from(low))} … ${showValue(quantity, high, system)}`;
}

/** "3.2 g·mm at 120°"; where there is nothing it has no direction. */
export function showVector(vector: UnbalanceVector, system: UnitSystem = 'metric'): string {
  const amount = showValue('unbalance', vector.gmm, system);
  return vector.gmm < DUST ? amount : `${amount} at ${showValue('angle', vector.angleDeg)}`;
}
