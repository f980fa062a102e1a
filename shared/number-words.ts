// Bare numbers as people read them in sentences: the same text on every machine, without a clock or a calendar.
import { numberMarks, say } from './language/index.ts';

/** Groups thousands with commas: 18000 → "18,000". Rounded to a whole number. */
export function wholeWords(value: number): string {
  const digits = String(Math.round(Math.abs(value)));
  const { group } = numberMarks();
  let grouped = '';
  for (let end = digits.length; end > 0; end -= 3) {
    grouped = digits.slice(Math.max(0, end - 3), end) + (grouped === '' ? '' : `${group}${grouped}`);
  }
  return value < 0 && grouped !== '0' ? `-${grouped}` : grouped;
}

/** A speed in words: "18,000 rpm". */
export function rpmWords(speedRpm: number): string {
  return say`${wholeWords(speedRpm)} rpm`;
}

/** Three significant digits without an exponent: 3.1831 → "3.18", 12345 → "12,345". */
export function amountWords(value: number): string {
  if (Math.abs(value) >= 1000) return wholeWords(value);
  return withMark(String(Number(value.toPrecision(3))));
}

/** A factor as "2.4 times"; above 10 without decimals, near one with two, so that it is not said to be one. */
export function factorWords(factor: number): string {
  if (factor >= 10) return say`${wholeWords(factor)} times`;
  return say`${withMark(factor.toFixed(Math.abs(factor - 1) < 0.1 ? 2 : 1))} times`;
}

/** A number in digits and a point, with the mark of the language. */
const withMark = (digits: string): string => digits.replace('.', numberMarks().decimal);
