// Figures as the sentences about a signal's health have them: three digits, the mark of the language, an SI unit behind.
import { numberMarks, say } from '../language/index.ts';

/** Three significant digits without trailing zeros: 0.0123, 4.5, 12300. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(3))).replace('.', numberMarks().decimal);
}

/** A stretch of time: ms below a second. */
export function stretch(seconds: number): string {
  return seconds < 1 ? say`${figure(seconds * 1e3)} ms` : say`${figure(seconds)} s`;
}

/** A share as percent; the sign stands in the sentence. */
export function percent(share: number): string {
  return figure(100 * share);
}
