import fc from 'fast-check';
import { expect, test } from 'vitest';
import { achievedMax, spanOf } from '../../../dashboard/tool-room/achieved-shape.ts';
import {
  apart,
  datedIndices,
  movingRanges,
  panelTicks,
  placeIn,
  rangePanel,
  scalePanel,
  type Proof,
} from '../../../dashboard/tool-room/proof-shape.ts';

const proof = (scale: number): Proof => ({
  at: 0,
  position: 1,
  rotorSerial: 'PR-12',
  offGmm: 0,
  toleranceGmm: 1,
  scale,
  within: true,
  unusual: false,
});

test('the moving range is from each proof to the next', () => {
  const ranges = movingRanges([1, 1.02, 0.99].map(proof));
  expect(ranges).toHaveLength(2);
  expect(ranges[0]).toBeCloseTo(0.02, 9);
  expect(ranges[1]).toBeCloseTo(0.03, 9);
  expect(movingRanges([proof(1)])).toEqual([]);
});

test('every point and every limit is on the paper, and the paper has a few round graduations', () => {
  const scale = fc.double({ min: 0.5, max: 2, noNaN: true });
  fc.assert(
    fc.property(fc.array(scale, { minLength: 1, maxLength: 40 }), scale, scale, (scales, lower, upper) => {
      const chart = { points: scales.map(proof), lower, upper, centre: (lower + upper) / 2, rangeUpper: 0.1 };
      for (const [panel, values] of [
        [scalePanel(chart), [...scales, lower, upper]],
        [rangePanel(chart), [...movingRanges(chart.points), 0.1]],
      ] as const) {
        for (const value of values) {
          const y = placeIn(panel, value, 10, 100);
          expect(y).toBeGreaterThanOrEqual(10);
          expect(y).toBeLessThanOrEqual(110);
        }
        expect(panelTicks(panel).length).toBeGreaterThanOrEqual(1);
        expect(panelTicks(panel).length).toBeLessThanOrEqual(6);
      }
    }),
  );
});

test('a low panel has fewer graduations, so that their figures do not touch', () => {
  expect(panelTicks({ low: 0, high: 0.009 })).toEqual([0, 0.002, 0.004, 0.006, 0.008]);
  expect(panelTicks({ low: 0, high: 0.009 }, 3)).toEqual([0, 0.005]);
});

test('one proof alone, without limits, is a chart too', () => {
  const panel = scalePanel({ points: [proof(1)] });
  expect(panel.high).toBeGreaterThan(panel.low);
});

test('the first and the last proof are dated, and never more than there is room for', () => {
  expect(datedIndices(3, 5)).toEqual([0, 1, 2]);
  const many = datedIndices(400, 5);
  expect(many[0]).toBe(0);
  expect(many.at(-1)).toBe(399);
  expect(many.length).toBeLessThanOrEqual(5);
});

test('achieved against predicted: all rows on one scale from zero, with 1 on it', () => {
  const row = {
    bench: 'bench-1',
    method: 'set screws',
    corrections: 9,
    amountRatio: 0.7,
    amountRatioLow: 0.5,
    amountRatioHigh: 2.4,
    angleOffDeg: 3,
    sentence: '',
  };
  const max = achievedMax([row]);
  const span = spanOf(row, max, 200);
  expect(span.high).toBeLessThanOrEqual(200);
  expect(span.low).toBeLessThan(span.dot);
  expect(achievedMax([])).toBeGreaterThan(1);
});

test('words beside limits that lie close together do not lie on one another', () => {
  expect(apart([50, 52, 54], 13)).toEqual([39, 52, 65]);
  expect(apart([10, 52, 90], 13)).toEqual([10, 52, 90]);
  expect(apart([50], 13)).toEqual([50]);
});
