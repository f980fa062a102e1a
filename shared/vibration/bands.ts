// Which lines of a spectrum lie in a band.

/** First and last line of a band, edges included; a rounding of 1e-9 lines does not cost one. Empty where last < first. */
export function linesOfBand(bandHz: readonly [number, number], stepHz: number, lines: number): [number, number] {
  const first = Math.ceil(bandHz[0] / stepHz - 1e-9);
  const last = Math.floor(bandHz[1] / stepHz + 1e-9);
  return [Math.max(0, first), Math.min(lines - 1, last)];
}
