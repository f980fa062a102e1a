import fc from 'fast-check';
import { expect, test } from 'vitest';
import { labelRows } from '../../../dashboard/assembly/label-rows.ts';
import { pointAt } from '../../../dashboard/drawing/polar.ts';

const HEIGHT = 320;

test('no label lies on another, and none leaves the drawing, as long as there is room for them', () => {
  const place = fc.record({ angleDeg: fc.integer({ min: 0, max: 359 }), heightPx: fc.constantFrom(17, 34) });
  fc.assert(
    fc.property(fc.array(place, { maxLength: 9 }), (places) => {
      const asked = places.map(({ angleDeg, heightPx }) => ({ of: angleDeg, from: pointAt(120, angleDeg), heightPx }));
      const labels = labelRows(asked, HEIGHT);
      expect(labels).toHaveLength(places.length);
      for (const side of [true, false]) {
        const rows = labels.filter(({ left }) => left === side).sort((a, b) => a.y - b.y);
        const edges = rows.flatMap(({ y, heightPx }) => [y - heightPx / 2, y + heightPx / 2]);
        // Top, bottom, top, bottom: each at or below the one before, from edge to edge of the drawing.
        const all = [-HEIGHT / 2, ...edges, HEIGHT / 2];
        for (const [index, edge] of all.slice(1).entries()) expect(edge).toBeGreaterThanOrEqual(all[index]! - 1e-6);
      }
    }),
  );
});

test('what stands alone is labelled at its own height, on its own side', () => {
  const [left] = labelRows([{ of: 'drill', from: pointAt(100, 90), heightPx: 17 }], HEIGHT);
  expect(left).toMatchObject({ left: true });
  expect(left!.y).toBeCloseTo(0, 6);
});
