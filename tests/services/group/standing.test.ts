// A plant in a few numbers, counted by hand.
import { expect, test } from 'vitest';
import { PlantStanding } from '../../../shared/group.ts';
import type { FloorView } from '../../../shared/views.ts';
import { standingOf } from '../../../services/group/index.ts';

const row = (standing: string) => ({ standing });
const hold = (holdId: string, state: string, raisedAt: number) => ({
  holdId,
  state,
  raisedAt,
  steps: [],
  sentence: `${holdId} is on hold.`,
  open: state !== 'released' && state !== 'void',
});

test('holds, those that nobody has with the oldest first, spindles by their standing', () => {
  const floor = {
    plant: 'north-1',
    zone: 'Europe/Paris',
    now: 9000,
    invented: true,
    spindles: ['hold', 'watch', 'watch', 'no-data', 'in-family'].map(row),
    holds: [
      hold('H-4', 'raised', 4000),
      hold('H-1', 'taken', 1000),
      hold('H-3', 'raised', 3000),
      hold('H-2', 'released', 500),
      hold('H-6', 'raised', 6000),
      hold('H-5', 'raised', 5000),
    ],
    intake: { rejectsOpen: 7 },
  } as unknown as FloorView;
  const standing = standingOf(floor);
  expect(standing).toEqual({
    plant: 'north-1',
    zone: 'Europe/Paris',
    now: 9000,
    invented: true,
    spindles: { all: 5, hold: 1, watch: 2, noData: 1 },
    holds: { open: 5, alone: 4, aloneSince: 3000 },
    pressing: ['H-3', 'H-4', 'H-5'].map((holdId) => ({
      holdId,
      sentence: `${holdId} is on hold.`,
      raisedAt: Number(holdId.slice(2)) * 1000,
    })),
    rejectsOpen: 7,
  });
  expect(PlantStanding.parse(standing)).toEqual(standing);
});
