// Odds that run along with the loads, against the sum over all beginnings that they stand for.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { newOdds, sinceOf, sumOf, withLoad, type Odds } from '../../../../services/rules/relating/running-odds.ts';

const RATE = 1 / 1500;
const ratio = fc.double({ min: 0.02, max: 50, noNaN: true });
/** Of each load one likelihood ratio for each of three changes. */
const loadsOf = (most: number): fc.Arbitrary<readonly (readonly number[])[]> =>
  fc.array(fc.array(ratio, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: most });

const played = (
  loads: readonly (readonly number[])[],
  growing?: { readonly share: number; readonly by: number },
): Odds =>
  loads.reduce(
    (odds: Odds, ratios, nth) =>
      withLoad(odds, {
        rate: RATE,
        ratios: Float64Array.from(ratios),
        at: nth,
        ...(growing === undefined ? {} : { growing }),
      }),
    newOdds(loads[0]?.length ?? 0),
  );

const near = (ours: number, theirs: number): void => {
  expect(Math.abs(ours / theirs - 1)).toBeLessThan(1e-9);
};

describe('what they are: Shiryaev’s and Roberts’ sum', () => {
  test('the odds of a change are those of its beginning at any load: the sum of rate · the ratios since', () => {
    fc.assert(
      fc.property(loadsOf(20), (loads) => {
        const { odds } = played(loads);
        odds.forEach((one, change) => {
          let sum = 0;
          for (let first = 0; first < loads.length; first += 1) {
            const since = loads.slice(first);
            sum += since.reduce((product, ratios) => product * (ratios[change] ?? 1), RATE / 3);
          }
          near(one, sum);
        });
      }),
      { seed: 1 },
    );
  });

  test('where nothing has changed they are on average the rate times the loads (a martingale: Pollak 1985, from memory)', () => {
    // A load says 2 to 1 for a change in one case out of three and 1 to 2 in two: on average 1. All courses of eight loads.
    const LOADS = 8;
    let mean = 0;
    for (let course = 0; course < 2 ** LOADS; course += 1) {
      const isFor = Array.from({ length: LOADS }, (_, nth) => (course >> nth) % 2 === 1);
      const probability = isFor.reduce((product, one) => product * (one ? 1 / 3 : 2 / 3), 1);
      mean += probability * sumOf(played(isFor.map((one) => [one ? 2 : 0.5])));
    }
    near(mean, LOADS * RATE);
  });
});

describe('what grows from one size to the next', () => {
  test('nothing is lost of it: while loads say nothing the total is the rate times the loads', () => {
    const growth = fc.record({
      share: fc.double({ min: 0, max: 1, noNaN: true }),
      by: fc.integer({ min: 1, max: 4 }),
      sizes: fc.integer({ min: 1, max: 4 }),
    });
    fc.assert(
      fc.property(growth, fc.integer({ min: 1, max: 40 }), ({ share, by, sizes }, loads) => {
        const nothing = Array.from({ length: loads }, () => Array.from({ length: by * sizes }, () => 1));
        near(sumOf(played(nothing, { share, by })), loads * RATE);
      }),
      { seed: 2 },
    );
  });

  test('they are those of all courses: at each load it begins or not, and goes on to the next size or not', () => {
    const SHARE = 0.03;
    fc.assert(
      fc.property(loadsOf(6), (loads) => {
        const sums = [0, 0, 0];
        const goOn = (nth: number, size: number, probability: number): void => {
          const ratios = loads[nth];
          if (ratios === undefined) {
            sums[size] = (sums[size] ?? 0) + probability;
            return;
          }
          const stays = size < 2 ? 1 - SHARE : 1;
          goOn(nth + 1, size, probability * stays * (ratios[size] ?? 1));
          if (size < 2) goOn(nth + 1, size + 1, probability * SHARE * (ratios[size + 1] ?? 1));
        };
        for (let first = 0; first < loads.length; first += 1) for (const size of [0, 1, 2]) goOn(first, size, RATE / 3);
        played(loads, { share: SHARE, by: 1 }).odds.forEach((one, size) => {
          near(one, sums[size] ?? Number.NaN);
        });
      }),
      { seed: 3 },
    );
  });

  test('angles of one size go on to the same angles of the next', () => {
    const first = [1, 1, 5, 1, 1, 1, 1, 1];
    const { odds } = played([first, first.map(() => 1)], { share: 0.5, by: 4 });
    const grown = [...odds].slice(4);
    expect(grown.indexOf(Math.max(...grown))).toBe(2);
  });
});

describe('since when', () => {
  test('loads that speak against it, then loads that speak for it: since the first of these', () => {
    const against = Array.from({ length: 10 }, () => [0.5]);
    const odds = played([...against, ...Array.from({ length: 5 }, () => [3])]);
    expect(sinceOf(odds)).toBe(10);
  });

  test('of several changes it is told of the likeliest', () => {
    expect(
      sinceOf(
        played([
          [2, 6],
          [9, 0.1],
          [9, 0.1],
        ]),
      ),
    ).toBe(0);
    expect(
      sinceOf(
        played([
          [0.1, 6],
          [9, 0.1],
          [9, 0.1],
        ]),
      ),
    ).toBe(1);
  });

  test('it is never after the last load, and never goes back', () => {
    fc.assert(
      fc.property(loadsOf(20), (loads) => {
        let before = new Float64Array(3);
        for (let count = 1; count <= loads.length; count += 1) {
          const { since } = played(loads.slice(0, count));
          since.forEach((at, change) => {
            expect(at).toBeLessThan(count);
            expect(at).toBeGreaterThanOrEqual(before[change] ?? 0);
          });
          before = Float64Array.from(since);
        }
      }),
      { seed: 4, numRuns: 50 },
    );
  });
});

test('odds stay numbers, however much a hundred loads say, and what they were before is not touched', () => {
  const certain = played(Array.from({ length: 100 }, () => [1e9, 1e-9]));
  expect([...certain.odds].every(Number.isFinite)).toBe(true);
  const before = structuredClone(certain);
  withLoad(certain, { rate: RATE, ratios: Float64Array.of(2, 2), at: 100 });
  expect(certain).toEqual(before);
});
