// Figures as the sentences about a signal's health have them: three digits, a point, an SI unit behind.

/** Three significant digits without trailing zeros: 0.0123, 4.5, 12300. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/** A stretch of time: ms below a second. */
export function stretch(seconds: number): string {
  return seconds < 1 ? `${figure(seconds * 1e3)} ms` : `${figure(seconds)} s`;
}

/** A share as percent. */
export function percent(share: number): string {
  return `${figure(100 * share)} %`;
}
