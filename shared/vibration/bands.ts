// Which lines of a spectrum lie in a band, and how much of each an instrument's filters would let through.

/** First and last line of a band, edges included; a rounding of 1e-9 lines does not cost one. Empty where last < first. */
export function linesOfBand(bandHz: readonly [number, number], stepHz: number, lines: number): [number, number] {
  const first = Math.ceil(bandHz[0] / stepHz - 1e-9);
  const last = Math.floor(bandHz[1] / stepHz + 1e-9);
  return [Math.max(0, first), Math.min(lines - 1, last)];
}

/** How a band ends: `ideal`, at its edge lines; `iso-2954`, as the filters of an instrument for vibration severity. */
export type BandEdges = 'ideal' | 'iso-2954';

/** ISO 2954 asks for edges 3 dB down and 60 dB a decade beyond, which a Butterworth filter of third order has (from memory). */
const FILTER_ORDER = 3;

/** Share of a line's power that Butterworth's high and low pass of third order let through together: ½ at each edge. */
export function filteredShare(hz: number, [lowHz, highHz]: readonly [number, number]): number {
  if (hz <= 0) return 0;
  const high = 1 / (1 + (lowHz / hz) ** (2 * FILTER_ORDER));
  const low = 1 / (1 + (hz / highHz) ** (2 * FILTER_ORDER));
  return high * low;
}
