// Repeatable randomness: same label, same numbers; and the numbers have the spread that they claim.
import { describe, expect, test } from 'vitest';
import { prngOf, type Prng } from '../../simulators/prng.ts';

const DRAWS = 20_000;

function drawn(prng: Prng, draw: (prng: Prng) => number): number[] {
  return Array.from({ length: DRAWS }, () => draw(prng));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

describe('the generator', () => {
  test('repeats itself for the same label and not for another', () => {
    expect(drawn(prngOf(1, 'a'), (p) => p.next())).toEqual(drawn(prngOf(1, 'a'), (p) => p.next()));
    expect(prngOf(1, 'a').next()).not.toBe(prngOf(1, 'b').next());
  });

  test('a split stream does not depend on how much was drawn before', () => {
    const used = prngOf(7);
    drawn(used, (p) => p.next());
    expect(used.split('x').next()).toBe(prngOf(7).split('x').next());
  });

  test('is uniform on 0 to 1: mean 1/2, variance 1/12', () => {
    const values = drawn(prngOf('uniform'), (p) => p.next());
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
    expect(mean(values)).toBeCloseTo(0.5, 2);
    expect(mean(values.map((value) => (value - 0.5) ** 2))).toBeCloseTo(1 / 12, 2);
  });

  test('is Gaussian where it says so: mean 0, variance 1, fourth moment 3', () => {
    const values = drawn(prngOf('gaussian'), (p) => p.gaussian());
    expect(Math.abs(mean(values))).toBeLessThan(0.03);
    expect(Math.abs(mean(values.map((value) => value ** 2)) - 1)).toBeLessThan(0.05);
    expect(Math.abs(mean(values.map((value) => value ** 4)) - 3)).toBeLessThan(0.3);
  });

  test('whole numbers reach both ends, and a shuffle keeps every card', () => {
    expect(new Set(drawn(prngOf('dice'), (p) => p.whole(1, 6)))).toEqual(new Set([1, 2, 3, 4, 5, 6]));
    const cards = Array.from({ length: 30 }, (_, card) => card);
    expect(
      prngOf('cards')
        .shuffled(cards)
        .toSorted((a, b) => a - b),
    ).toEqual(cards);
  });
});
