// Square-law paper: a value stands where its square stands, so that V² = slope · U² + own² is a straight line. Pure.
export interface SquareLawScale {
  /** The value at the far end of the axis. */
  readonly max: number;
  readonly lengthPx: number;
}

/** Pixels from the zero end of the axis. */
export function placeOf(value: number, { max, lengthPx }: SquareLawScale): number {
  const share = max > 0 ? value / max : 0;
  return share * share * lengthPx;
}

/** A round number at or above the greatest value, with a little room. */
export function roomyMax(values: readonly number[]): number {
  const greatest = values.reduce((most, value) => Math.max(most, value), 0) * 1.04;
  if (greatest <= 0) return 1;
  const decade = 10 ** Math.floor(Math.log10(greatest));
  const step = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].find((factor) => factor * decade >= greatest) ?? 10;
  return Number((step * decade).toPrecision(3));
}

/** Round values with room between their labels; zero and the far end are always among them. */
export function squareLawTicks(scale: SquareLawScale, roomPx: number): number[] {
  const decade = 10 ** Math.floor(Math.log10(scale.max));
  const step =
    [0.1, 0.2, 0.25, 0.5, 1, 2].map((factor) => factor * decade).find((wide) => scale.max / wide <= 8) ?? scale.max;
  const ticks = [scale.max];
  // From the far end back: there the paper is widest, near zero the values crowd together.
  for (let value = Math.floor((scale.max - step / 1e6) / step) * step; value > step / 2; value -= step) {
    const place = placeOf(value, scale);
    if (placeOf(ticks.at(-1) ?? scale.max, scale) - place >= roomPx && place >= roomPx) ticks.push(value);
  }
  return [...ticks, 0].reverse().map((value) => Number(value.toPrecision(6)));
}
