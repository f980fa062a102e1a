// Looking ahead on paper: the bar lies where the days say, runs off where the last of them is not told, and nothing leaves the paper.
import { expect, test } from 'vitest';
import type { AheadView } from '../../../shared/ahead.ts';
import { aheadShape, foremost, levelTicks, placesOn } from '../../../dashboard/spindle/ahead-shape.ts';

const DAY = 86_400_000;
const PAPER = { left: 40, right: 540, top: 20, bottom: 220 };

function view(more: Partial<AheadView> = {}): AheadView {
  return {
    speedBin: 19_000,
    speedRpm: 18_000,
    quantity: 'overall',
    words: '',
    trend: 'rising',
    breaks: [],
    days: Array.from({ length: 21 }, (_, nth) => ({ at: nth * DAY, mmS: 1 + 0.05 * nth })),
    slope: { perWeekMmS: 0.35, since: 0, days: 21 },
    limit: { mmS: 3, kind: 'limit', source: 'invented' },
    ...more,
  };
}

test('with days around the crossing the paper reaches to the last of them, and the line to the middle one', () => {
  const shape = aheadShape(view({ p10At: 30 * DAY, p50At: 40 * DAY, p90At: 50 * DAY }));
  expect(shape?.bar).toEqual({ from: 30 * DAY, middle: 40 * DAY, to: 50 * DAY, open: false });
  expect(shape?.to).toBeGreaterThan(50 * DAY);
  expect(shape?.line?.to).toBe(40 * DAY);
  expect(shape?.line?.toMmS).toBeCloseTo(3, 9);
  expect(shape?.topMmS).toBeCloseTo(3.45, 9);
});

test('where the last day is not told the bar is open and ends at the edge', () => {
  const shape = aheadShape(view({ p10At: 30 * DAY, p50At: 40 * DAY }));
  expect(shape?.bar).toMatchObject({ open: true, to: shape?.to });
});

test('without a day there is no bar, without days no picture, and a limit far above is left to the words', () => {
  expect(aheadShape(view())?.bar).toBeUndefined();
  expect(aheadShape(view({ days: [] }))).toBeUndefined();
  expect(aheadShape(view({ limit: { mmS: 40, kind: 'limit', source: 'invented' } }))?.topMmS).toBeCloseTo(2.3, 9);
});

test('whatever lies outside is put on the edge of the paper', () => {
  const shape = aheadShape(view({ p10At: 30 * DAY, p50At: 900 * DAY }));
  if (shape === undefined) throw new Error('expected a shape');
  const { x, y } = placesOn(shape, PAPER);
  expect(x(900 * DAY)).toBe(PAPER.right);
  expect(x(-DAY)).toBe(PAPER.left);
  expect(y(99)).toBe(PAPER.top);
  expect(y(0)).toBe(PAPER.bottom);
});

test('the one that is reached first is shown first; else the one that rises', () => {
  const still = view({ trend: 'none', speedBin: 1 });
  const late = view({ p50At: 90 * DAY, speedBin: 2 });
  const soon = view({ p50At: 30 * DAY, speedBin: 3 });
  expect(foremost([still, late, soon])).toBe(soon);
  expect(foremost([still, view({ speedBin: 4 })])?.speedBin).toBe(4);
  expect(foremost([still])).toBe(still);
  expect(foremost([view({ trend: 'too-few' }), still])).toBe(still);
  expect(foremost([])).toBeUndefined();
});

test('levels beside the paper are round, and not more than there is room for', () => {
  expect(levelTicks(3.45, 6)).toEqual([0, 1, 2, 3]);
  expect(levelTicks(0.9, 6)).toEqual([0, 0.2, 0.4, 0.6, 0.8]);
});
