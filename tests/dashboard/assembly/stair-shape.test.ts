import { expect, test } from 'vitest';
import { stairShape } from '../../../dashboard/assembly/stair-shape.ts';

test('the stair goes down to what governs, on one scale from zero', () => {
  const steps = [
    { what: 'balance', speedRpm: 7480, source: 'bench', governs: true },
    { what: 'spindle', speedRpm: 24_000, source: 'plate', governs: false },
    { what: 'marked', speedRpm: 14_500, source: 'cutter', governs: false },
  ];
  const treads = stairShape(steps, 18_000, 500);
  expect(treads.map(({ step }) => step.what)).toEqual(['spindle', 'marked', 'balance']);
  expect(treads[0]!.x).toBeLessThanOrEqual(500);
  expect(treads[2]!.x / treads[0]!.x).toBeCloseTo(7480 / 24_000, 2);
  expect(treads[0]!.xOf(0)).toBe(0);
});

test('a service speed above every limit is still on the paper', () => {
  const [tread] = stairShape([{ what: 'balance', speedRpm: 6000, source: 'bench', governs: true }], 18_000, 500);
  expect(tread!.xOf(18_000)).toBeLessThanOrEqual(500);
});
