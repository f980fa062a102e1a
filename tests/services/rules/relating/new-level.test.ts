// How a spindle is expected to answer at a speed that it did not run yet.
import { describe, expect, test } from 'vitest';
import { newGuesses, newLevel, type Guesses } from '../../../../services/rules/relating/guesses.ts';

describe('a speed that was not run yet', () => {
  const at = (rpm: number, level: number, variance: number) => ({
    bin: rpm,
    rpm,
    loads: 9,
    learnedAtLoad: 9,
    mean: new Float32Array(8).fill(level),
    variance: new Float32Array(8).fill(variance),
    turn: undefined,
    restMean: 0,
    restLoads: 0,
  });
  const known = (...levels: ReturnType<typeof at>[]): Guesses => ({
    ...newGuesses(),
    weight: new Float64Array(8).fill(1 / 8),
    levels,
  });
  const expected = (guesses: Guesses, rpm: number): { readonly mean: number; readonly deviation: number } => {
    const { mean, variance } = newLevel(guesses, rpm, rpm);
    return { mean: mean[0] ?? 0, deviation: Math.sqrt(variance[0] ?? 0) };
  };

  test('lies on the line in ln and ln through the known ones on either side, and is surer than beyond them', () => {
    const both = known(at(8000, -3, 0.01), at(12_500, -1, 0.01));
    const middle = expected(both, 10_000);
    expect(middle.mean).toBeCloseTo(-2, 5);
    // As far beyond the one as it was from either.
    expect(expected(both, 15_625).deviation).toBeGreaterThan(1.5 * middle.deviation);
    expect(expected(known(at(8000, -3, 0.01)), 10_000).deviation).toBeGreaterThan(1.5 * middle.deviation);
  });

  test('the nearer it lies to a known one, the more it is as that', () => {
    const both = known(at(8000, -3, 0.01), at(12_500, -1, 0.01));
    const off = [8001, 8050, 8400, 9000].map((rpm) => expected(both, rpm));
    expect(off[0]?.mean).toBeCloseTo(-3, 2);
    expect(off.map(({ deviation }) => deviation)).toEqual(
      off.map(({ deviation }) => deviation).toSorted((a, b) => a - b),
    );
  });
});
