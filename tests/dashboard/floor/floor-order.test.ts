import { expect, test } from 'vitest';
import { byCell, pointsFor, ribbonHeight } from '../../../dashboard/floor/floor-order.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

test('places do not depend on the order in which rows come, and S-2 stands before S-10', () => {
  const rows = inventedPlant(60, 0).floor.spindles;
  const cells = byCell(rows);
  expect(byCell(rows.toReversed())).toEqual(cells);
  expect(cells.map(({ cell }) => cell)).toEqual(['Cell 1', 'Cell 2', 'Cell 3', 'Cell 4', 'Cell 5', 'Cell 6']);
  const plain = rows.slice(0, 12).map((row, i) => ({ ...row, spindleId: `S-${i + 1}`, cell: 'A' }));
  expect(byCell(plain.toReversed())[0]?.rows.map(({ spindleId }) => spindleId)[9]).toBe('S-10');
});

test('what is asked for stays within what a screen and the wire can take', () => {
  for (const spindles of [1, 5, 12, 60, 200, 2000]) {
    const points = pointsFor(spindles, 900);
    expect(points).toBeGreaterThanOrEqual(48);
    expect(points * spindles).toBeLessThanOrEqual(130_000);
    expect(ribbonHeight(spindles)).toBeGreaterThanOrEqual(44);
  }
});
