// The words and units of vibration as they stand beside the pictures.
import { numberLocale, say, sayCount } from '../../shared/language/index.ts';
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

export const QUANTITY_WORDS: Readonly<Record<VibrationQuantity, string>> = {
  velocity: say`velocity`,
  acceleration: say`acceleration`,
  displacement: say`displacement`,
};

/** ISO 1683: 1 nm/s, 1 µm/s², 1 pm. */
export const REFERENCE_WORDS: Readonly<Record<VibrationQuantity, string>> = {
  velocity: say`dB re 1 nm/s`,
  acceleration: say`dB re 1 µm/s²`,
  displacement: say`dB re 1 pm`,
};

export const SPEED_SOURCE_WORDS: Readonly<Record<SpeedSource, string>> = {
  tacho: say`from its tacho marks`,
  told: say`as told by the machine`,
  refined: say`as told by the machine, sought closer in the signal itself`,
  unknown: say`not known: no order can be named`,
};

export const WEIGHT_WORDS: Readonly<Record<HealthWeight, string>> = {
  unusable: say`Not to be used`,
  speed: say`Doubt about the speed`,
  doubtful: say`With care`,
};

/** As many places as half a line's width is worth. */
export function hertz(hz: number, stepHz: number): string {
  const places = Math.min(3, Math.max(0, Math.ceil(-Math.log10(stepHz / 2))));
  return `${inPlaces(hz, places)} Hz`;
}

export function inPlaces(value: number, places: number, useGrouping = true): string {
  return value.toLocaleString(numberLocale(), {
    minimumFractionDigits: places,
    maximumFractionDigits: places,
    useGrouping,
  });
}

/** 3.05×, 12×. */
export function orderWord(order: number | undefined): string {
  if (order === undefined) return MISSING;
  const near = Math.round(order);
  return Math.abs(order - near) < 0.005 && near > 0 ? `${near}×` : `${inPlaces(order, 2, false)}×`;
}

const harmonicsWords = (number: number): string =>
  number === 0 ? say`no harmonics` : sayCount(number, '{0} harmonic', '{0} harmonics');
const sidebandsWords = (number: number): string =>
  number === 0 ? say`no sidebands` : sayCount(number, '{0} sideband', '{0} sidebands');

/** What a cursor on a line says: where it stands, and what it may come from; where nothing `stands` out, what would stand there. */
export function lineWords(
  { hz, stepHz, stands }: { readonly hz: number; readonly stepHz: number; readonly stands: boolean },
  marks: readonly FrequencyMark[],
  shaftHz: number | undefined,
): { readonly place: string; readonly from: string } {
  const order = shaftHz === undefined ? '' : say`, ${orderWord(hz / shaftHz)} of the shaft`;
  const mayBe = whatMayBe(hz, stepHz, marks, shaftHz);
  return {
    place: `${hertz(hz, stepHz)}${order}`,
    from: mayBe.length === 0 ? '' : fromWords(mayBe.join(say`, or `), stands),
  };
}

function fromWords(mayBe: string, stands: boolean): string {
  return stands ? say`: may be ${mayBe}` : say`: no line; here would be ${mayBe}`;
}

/** What the envelope says of one part of a bearing, as a sentence. */
export function findingWords(finding: BearingFinding): string {
  const { bearing, part, expectedHz, foundHz, indicator, harmonics, sidebands, speaks } = finding;
  const where = say`The ${PART_WORDS[part]} of the bearing ${bearing}`;
  if (foundHz === undefined)
    return say`${where} does not speak: no line near ${figure(expectedHz)} Hz stands above the floor.`;
  const slip = (foundHz / expectedHz - 1) * 100;
  const apart =
    Math.abs(slip) < 0.05
      ? say`just where it is expected`
      : slip < 0
        ? say`${figure(-slip)} % below where it is expected`
        : say`${figure(slip)} % above where it is expected`;
  const [harmonic, beside] = [harmonicsWords(harmonics), sidebandsWords(sidebands)];
  return speaks
    ? say`${where} speaks: a line at ${figure(foundHz)} Hz, ${apart}, with ${harmonic} and ${beside}, ${times(indicator)} the floor.`
    : say`${where}: a line at ${figure(foundHz)} Hz, ${apart}, but with ${harmonic} and ${beside} no more than noise and shaft orders make of themselves.`;
}
