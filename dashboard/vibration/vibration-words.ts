// The words and units of vibration as they stand beside the pictures.
import type { VibrationQuantity } from '../../shared/vibration/index.ts';
import type { BearingFinding, HealthWeight, SpeedSource } from '../../shared/wave-analysis.ts';
import { figure, MISSING, times } from '../wording/figures.ts';
import { PART_WORDS, type FrequencyMark } from './frequency-marks.ts';
import { whatMayBe } from './strongest-lines.ts';

/** UCUM. */
export const QUANTITY_UNITS: Readonly<Record<VibrationQuantity, string>> = {
  velocity: 'mm/s',
  acceleration: 'm/s2',
  displacement: 'um',
};

/** ISO 1683: 1 nm/s, 1 µm/s², 1 pm. */
export const REFERENCE_WORDS: Readonly<Record<VibrationQuantity, string>> = {
  velocity: 'dB re 1 nm/s',
  acceleration: 'dB re 1 µm/s²',
  displacement: 'dB re 1 pm',
};

export const SPEED_SOURCE_WORDS: Readonly<Record<SpeedSource, string>> = {
  tacho: 'from its tacho marks',
  told: 'as told by the machine',
  refined: 'as told by the machine, sought closer in the signal itself',
  unknown: 'not known: no order can be named',
};

export const WEIGHT_WORDS: Readonly<Record<HealthWeight, string>> = {
  unusable: 'Not to be used',
  speed: 'Doubt about the speed',
  doubtful: 'With care',
};

/** As many places as half a line's width is worth. */
export function hertz(hz: number, stepHz: number): string {
  const places = Math.min(3, Math.max(0, Math.ceil(-Math.log10(stepHz / 2))));
  return `${hz.toLocaleString('en-GB', { minimumFractionDigits: places, maximumFractionDigits: places })} Hz`;
}

/** 3.05×, 12×. */
export function orderWord(order: number | undefined): string {
  if (order === undefined) return MISSING;
  const near = Math.round(order);
  return Math.abs(order - near) < 0.005 && near > 0 ? `${near}×` : `${order.toFixed(2)}×`;
}

const howMany = (number: number, one: string): string =>
  number === 0 ? `no ${one}s` : `${number} ${one}${number === 1 ? '' : 's'}`;

/** What a cursor on a line says: where it stands, and what it may come from; where nothing `stands` out, what would stand there. */
export function lineWords(
  { hz, stepHz, stands }: { readonly hz: number; readonly stepHz: number; readonly stands: boolean },
  marks: readonly FrequencyMark[],
  shaftHz: number | undefined,
): { readonly place: string; readonly from: string } {
  const order = shaftHz === undefined ? '' : `, ${orderWord(hz / shaftHz)} of the shaft`;
  const mayBe = whatMayBe(hz, stepHz, marks, shaftHz);
  return {
    place: `${hertz(hz, stepHz)}${order}`,
    from: mayBe.length === 0 ? '' : `: ${stands ? 'may be' : 'no line; here would be'} ${mayBe.join(', or ')}`,
  };
}

/** What the envelope says of one part of a bearing, as a sentence. */
export function findingWords(finding: BearingFinding): string {
  const { bearing, part, expectedHz, foundHz, indicator, harmonics, sidebands, speaks } = finding;
  const where = `The ${PART_WORDS[part]} of the bearing ${bearing}`;
  if (foundHz === undefined)
    return `${where} does not speak: no line near ${figure(expectedHz)} Hz stands above the floor.`;
  const slip = (foundHz / expectedHz - 1) * 100;
  const apart =
    Math.abs(slip) < 0.05
      ? 'just where it is expected'
      : `${figure(Math.abs(slip))} % ${slip < 0 ? 'below' : 'above'} where it is expected`;
  const company = `${howMany(harmonics, 'harmonic')} and ${howMany(sidebands, 'sideband')}`;
  return speaks
    ? `${where} speaks: a line at ${figure(foundHz)} Hz, ${apart}, with ${company}, ${times(indicator)} the floor.`
    : `${where}: a line at ${figure(foundHz)} Hz, ${apart}, but with ${company} no more than noise and shaft orders make of themselves.`;
}
