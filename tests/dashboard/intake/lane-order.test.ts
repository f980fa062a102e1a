import fc from 'fast-check';
import { expect, test } from 'vitest';
import { clockWords, inLaneOrder, matterOf, offsetShare } from '../../../dashboard/intake/lane-order.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const lanes = inventedPlant(12, Date.UTC(2026, 10, 24)).floor.intake.devices;
const calm = { ...lanes[2]!, clockOffsetMs: 100 };

test('lanes keep their places: benches, machines, sensors, readers', () => {
  const order = inLaneOrder(lanes.toReversed()).map(({ device }) => device);
  expect(order.slice(0, 3)).toEqual(['bench-1', 'bench-2', 'machine-01']);
  expect(order.at(-1)).toBe('andon-lamp');
  expect(inLaneOrder(lanes).map(({ device }) => device)).toEqual(order);
});

test('what is the matter, in words', () => {
  expect(matterOf(calm)).toEqual({ standing: 'in-family', words: [] });
  expect(matterOf({ ...calm, rejected: 1, sequenceGaps: 2 })).toEqual({
    standing: 'watch',
    words: ['1 message not read', '2 numbers missing, of which some may have been refused'],
  });
  expect(matterOf({ ...calm, sequenceGaps: 2 }).words).toEqual(['2 gaps']);
  expect(matterOf({ ...calm, rejected: 4, sequenceGaps: 1 }).words[1]).toBe(
    '1 number missing, which may have been refused',
  );
  const odd = { ...calm, clockNotBelieved: true as const };
  expect(matterOf(odd)).toEqual({ standing: 'watch', words: ['time not believed: is the clock set?'] });
  expect(matterOf({ ...calm, clockOffsetMs: -94_000 }).words).toEqual(['clock 1 min slow']);
  expect(matterOf({ ...calm, state: 'silent' })).toEqual({ standing: 'no-data', words: ['silent'] });
  expect(matterOf({ ...calm, connected: false }).words).toEqual(['not connected']);
  expect(clockWords(900)).toBe('clock right');
});

test('a clock’s offset stays on its strip, rises with the offset, and is in the middle at none', () => {
  expect(offsetShare(0)).toBe(0.5);
  const offsets = fc.integer({ min: -1e9, max: 1e9 });
  fc.assert(
    fc.property(offsets, offsets, (a, b) => {
      expect(offsetShare(a)).toBeGreaterThanOrEqual(0);
      expect(offsetShare(a)).toBeLessThanOrEqual(1);
      expect(offsetShare(Math.min(a, b))).toBeLessThanOrEqual(offsetShare(Math.max(a, b)));
    }),
  );
});
