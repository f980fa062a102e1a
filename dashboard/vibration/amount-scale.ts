// How the amounts of a picture are told: with their unit, or of a recording that carries none in shares and multiples.
import { say } from '../../shared/language/index.ts';
import { DECIBEL_REFERENCES, type Spectrum, type VibrationQuantity } from '../../shared/vibration/index.ts';
import { amount, figure, times, unitOf, withUnit } from '../wording/figures.ts';
import { QUANTITY_UNITS, REFERENCE_WORDS } from './vibration-words.ts';
import { shownUnit } from '../wording/units.ts';

export interface AmountScale {
  /** What an RMS value is divided by before it is drawn, listed or said. */
  readonly per: number;
  /** After the quantity, on an axis or over a column. */
  readonly word: string;
  readonly said: (amount: number) => string;
  /** Under a head that has the word. */
  readonly listed: (amount: number) => string;
}

export interface LevelScale extends AmountScale {
  readonly decibelWord: string;
  /** Of the decibels, and the least amount that they are drawn of: the logarithm of nothing has no end. */
  readonly reference: number;
  readonly least: number;
}

/** Below the whole, as a share of it: 120 dB, what no converter tells apart (common practice, no source). */
const LEAST_SHARE = 1e-6;

export function spectrumScale(spectrum: Spectrum, quantity: VibrationQuantity, scaled: boolean): LevelScale {
  if (scaled) {
    const ucum = QUANTITY_UNITS[quantity];
    const { of, back } = shownUnit(ucum);
    const reference = of(DECIBEL_REFERENCES[quantity]);
    return {
      per: back(1),
      word: say`${unitOf(ucum)} RMS`,
      said: (value) => say`${withUnit(back(value), ucum)} RMS`,
      listed: (value) => amount(back(value), ucum),
      decibelWord: REFERENCE_WORDS[quantity],
      reference,
      least: reference,
    };
  }
  const whole = wholeOf(spectrum);
  return {
    per: whole > 0 ? whole / 100 : 1,
    word: say`% of the whole`,
    said: (value) => say`${figure(value)} % of the whole`,
    listed: figure,
    decibelWord: say`dB re the whole`,
    reference: 100,
    least: 100 * LEAST_SHARE,
  };
}

/** RMS of all lines together. */
function wholeOf({ amplitude, noiseBandwidthLines }: Spectrum): number {
  let squares = 0;
  for (const value of amplitude) squares += (value * value) / 2;
  return Math.sqrt(squares / noiseBandwidthLines);
}

export function envelopeScale(floor: number, scaled: boolean): AmountScale {
  const timesFloor = (value: number): string => say`${times(value)} the floor`;
  if (scaled) {
    const { back } = shownUnit('m/s2');
    const said = (value: number): string =>
      say`${withUnit(back(value), 'm/s2')} RMS, ${timesFloor(back(value) / floor)}`;
    const listed = (value: number): string => amount(back(value), 'm/s2');
    return { per: back(1), word: say`${unitOf('m/s2')} RMS`, said, listed };
  }
  return { per: floor > 0 ? floor : 1, word: say`times the floor`, said: timesFloor, listed: figure };
}

/** Of the samples themselves. */
export function sampleWords(value: number | undefined, scaled: boolean): string {
  return scaled ? withUnit(value, 'm/s2') : say`${figure(value)} (no unit)`;
}
