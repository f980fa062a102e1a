// How sure a share or a rate is that was counted: 95 % intervals.

/** Two-sided 95 % of a normal distribution. */
const Z = 1.959964;

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Of a share (E. B. Wilson 1927). */
export function wilson(hits: number, of: number): Interval {
  if (of === 0) return { low: 0, high: 1 };
  const share = hits / of;
  const centre = share + (Z * Z) / (2 * of);
  const half = Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of));
  const whole = 1 + (Z * Z) / of;
  return { low: Math.max(0, (centre - half) / whole), high: Math.min(1, (centre + half) / whole) };
}

/** Of a count: Byar's approximation to the exact limits of a Poisson mean (N. E. Breslow and N. E. Day 1987, from memory). */
export function poisson(count: number): Interval {
  const low = count === 0 ? 0 : count * (1 - 1 / (9 * count) - Z / (3 * Math.sqrt(count))) ** 3;
  const next = count + 1;
  // None at all has an exact limit: -ln 0.025.
  const high = count === 0 ? -Math.log(0.025) : next * (1 - 1 / (9 * next) + Z / (3 * Math.sqrt(next))) ** 3;
  return { low, high };
}
