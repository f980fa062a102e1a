// How much of what lies off a line is left in the point after it: neighbours that resemble each other tell less than strangers.
import { straightLine } from './straight-line.ts';

/** More is not believed of so few points. Common practice, no source. */
const LASTING_MAX = 0.8;

/** What each point lies off the least-squares line through all of them. */
export function offLine(x: readonly number[], y: readonly number[]): readonly number[] {
  const line = straightLine(x, y);
  return y.map((value, i) => value - (line === undefined ? 0 : line.intercept + line.slope * (x[i] ?? 0)));
}

/**
 * The correlation of neighbours in what lies off a line, from 0 to 0.8. So few points, and a line through them, hide some of it:
 * (1 + 4ρ)/n is added (M. G. Kendall, Biometrika 41, 1954, from memory).
 */
export function lastingOf(off: readonly number[]): number {
  let [all, neighbours] = [0, 0];
  for (let i = 0; i < off.length; i += 1) {
    all += (off[i] ?? 0) ** 2;
    if (i > 0) neighbours += (off[i] ?? 0) * (off[i - 1] ?? 0);
  }
  const told = all > 0 ? neighbours / all : 0;
  return Math.min(LASTING_MAX, Math.max(0, told + (1 + 4 * told) / Math.max(1, off.length)));
}
