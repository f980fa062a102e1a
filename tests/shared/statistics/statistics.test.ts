// Each piece of the small statistics against a slower, simpler twin.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { emptyEnvelope, fitNonNegativeLine, lowest, pearson, withSample } from '../../../shared/statistics/index.ts';

const points = fc.array(
  fc.tuple(fc.double({ min: 0, max: 50, noNaN: true }), fc.double({ min: 0, max: 50, noNaN: true })),
  {
    minLength: 1,
    maxLength: 20,
  },
);

const costOf = (pairs: readonly (readonly [number, number])[], slope: number, own: number): number =>
  pairs.reduce((sum, [x, y]) => sum + (y - slope * x - own) ** 2, 0);

test('no line of the quadrant fits better: searched by ever finer steps', () => {
  fc.assert(
    fc.property(points, (pairs) => {
      const x = pairs.map(([one]) => one);
      const y = pairs.map(([, two]) => two);
      const fit = fitNonNegativeLine(x, y);
      expect(fit).toBeDefined();
      if (fit === undefined) return;
      expect(fit.slope).toBeGreaterThanOrEqual(0);
      expect(fit.own).toBeGreaterThanOrEqual(0);
      const best = costOf(pairs, fit.slope, fit.own);
      const slack = 1e-6 * (1 + best);
      for (const step of [10, 1, 0.1, 0.01, 0.001]) {
        for (const [da, db] of [
          [step, 0],
          [-step, 0],
          [0, step],
          [0, -step],
          [step, -step * 10],
          [-step, step * 10],
        ] as const) {
          const cost = costOf(pairs, Math.max(0, fit.slope + da), Math.max(0, fit.own + db));
          expect(cost).toBeGreaterThanOrEqual(best - slack);
        }
      }
    }),
    { numRuns: 200 },
  );
});

test('a line that lies in the quadrant is found exactly', () => {
  const x = [0, 1, 4, 9, 16];
  const fit = fitNonNegativeLine(
    x,
    x.map((one) => 0.25 * one + 2),
  );
  expect(fit?.slope).toBeCloseTo(0.25, 12);
  expect(fit?.own).toBeCloseTo(2, 12);
});

test('columns that do not vary give a level line; no points give none', () => {
  expect(fitNonNegativeLine([3, 3, 3], [1, 2, 3])).toEqual({ slope: 0, own: 2 });
  expect(fitNonNegativeLine([], [])).toBeUndefined();
  expect(() => fitNonNegativeLine([1], [])).toThrow(RangeError);
});

test('correlation equals the mean product of standard scores (Pearson)', () => {
  fc.assert(
    fc.property(points, (pairs) => {
      const x = pairs.map(([one]) => one);
      const y = pairs.map(([, two]) => two);
      const found = pearson(x, y);
      const scores = (column: readonly number[]): readonly number[] | undefined => {
        const mean = column.reduce((sum, one) => sum + one, 0) / column.length;
        const spread = Math.sqrt(column.reduce((sum, one) => sum + (one - mean) ** 2, 0) / column.length);
        return spread > 1e-6 ? column.map((one) => (one - mean) / spread) : undefined;
      };
      const [sx, sy] = [scores(x), scores(y)];
      if (sx === undefined || sy === undefined || found === undefined) return;
      const slow = sx.reduce((sum, one, index) => sum + one * (sy[index] ?? 0), 0) / sx.length;
      expect(found).toBeCloseTo(slow, 6);
    }),
    { numRuns: 200 },
  );
  expect(pearson([1, 2, 3], [2, 4, 6])).toBe(1);
  expect(pearson([1, 1], [2, 4])).toBeUndefined();
});

test('the envelope is the least of its last one to two windows', () => {
  const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: -50, max: 50 })), {
    minLength: 1,
    maxLength: 60,
  });
  fc.assert(
    fc.property(steps, (samples) => {
      const window = 100;
      let envelope = emptyEnvelope();
      let at = 0;
      const seen: { at: number; sample: number }[] = [];
      for (const [step, sample] of samples) {
        at += step;
        seen.push({ at, sample });
        envelope = withSample(envelope, at, sample, window);
        const least = lowest(envelope) ?? Number.NaN;
        const inWindow = seen.filter((one) => at - one.at < window).map((one) => one.sample);
        expect(least).toBeLessThanOrEqual(Math.min(...inWindow));
        expect(least).toBeGreaterThanOrEqual(Math.min(...seen.map((one) => one.sample)));
      }
    }),
  );
  expect(lowest(emptyEnvelope())).toBeUndefined();
});

test('after a long pause the offset known before still counts, so that a spool is seen to be late', () => {
  let envelope = withSample(emptyEnvelope(), 0, 5, 100);
  envelope = withSample(envelope, 10_000, 9000, 100);
  expect(lowest(envelope)).toBe(5);
});
