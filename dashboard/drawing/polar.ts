// Polar paper: angles counter-clockwise from the marked reference, which is drawn at the top; rings, sectors, graduations. Pure.
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Centre at 0, 0; y grows downwards as on a screen. */
export function pointAt(radiusPx: number, angleDeg: number): Point {
  const angle = (angleDeg * Math.PI) / 180;
  return { x: -radiusPx * Math.sin(angle), y: -radiusPx * Math.cos(angle) };
}

/** From one angle counter-clockwise to the other, 0 up to 360; equal angles are a full turn. */
export function sweepDeg(fromDeg: number, toDeg: number): number {
  const swept = (((toDeg - fromDeg) % 360) + 360) % 360;
  return swept === 0 ? 360 : swept;
}

/** The path of a ring between two radii, both directions, so that the inside stays open. */
export function ringPath(innerPx: number, outerPx: number): string {
  const circle = (radius: number, sweep: 0 | 1): string =>
    `M0 ${-radius}A${radius} ${radius} 0 1 ${sweep} 0 ${radius}A${radius} ${radius} 0 1 ${sweep} 0 ${-radius}Z`;
  return circle(outerPx, 1) + (innerPx > 0 ? circle(innerPx, 0) : '');
}

/** The path of a sector of such a ring. */
export function sectorPath(innerPx: number, outerPx: number, fromDeg: number, toDeg: number): string {
  const swept = sweepDeg(fromDeg, toDeg);
  if (swept >= 360) return ringPath(innerPx, outerPx);
  const large = swept > 180 ? 1 : 0;
  const [a, b] = [pointAt(outerPx, fromDeg), pointAt(outerPx, fromDeg + swept)];
  const [c, d] = [pointAt(innerPx, fromDeg + swept), pointAt(innerPx, fromDeg)];
  const inner = innerPx > 0 ? `A${innerPx} ${innerPx} 0 ${large} 1 ${d.x} ${d.y}` : '';
  return `M${a.x} ${a.y}A${outerPx} ${outerPx} 0 ${large} 0 ${b.x} ${b.y}L${c.x} ${c.y}${inner}Z`;
}

/** Round values up to a greatest one, three or four of them, zero left out. */
export function ringValues(max: number): number[] {
  const decade = 10 ** Math.floor(Math.log10(max));
  const step =
    [0.2, 0.25, 0.5, 1, 2, 2.5, 5].map((factor) => factor * decade).find((wide) => max / wide <= 4.5) ?? decade * 5;
  const values: number[] = [];
  for (let value = step; value <= max; value += step) values.push(Number(value.toPrecision(6)));
  return values;
}
