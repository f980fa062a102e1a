// A hold that went on as another: the other tells it, and somebody has waited since the first.
import { expect, test } from 'vitest';
import { holdView } from '../../../services/holds/views/hold-view.ts';
import { standingOf } from '../../../services/group/index.ts';
import { isOpen } from '../../../shared/holds.ts';
import { unansweredSince } from '../../../shared/unanswered.ts';
import type { FloorView } from '../../../shared/views.ts';
import { MOVED } from '../rules/learned-story.ts';
import { play } from '../rules/play.ts';

test('the hold that stands tells the one before it, and waits since that was raised', () => {
  const { floor } = play(MOVED);
  const [first, second] = [...floor.holds.values()];
  expect(first?.steps.at(-1)?.movedTo).toBe(second?.holdId);
  const views = [...floor.holds.values()].map((hold) => holdView(floor, hold));
  const open = views.filter((view) => view.open);
  expect(open.map(({ inPlaceOf }) => inPlaceOf)).toEqual([[{ holdId: first?.holdId, raisedAt: first?.raisedAt }]]);
  expect(open.map(unansweredSince)).toEqual([first?.raisedAt]);
  expect(views.filter((view) => !view.open).map(({ inPlaceOf }) => inPlaceOf)).toEqual([undefined]);
  expect([...floor.holds.values()].filter(isOpen)).toHaveLength(1);

  const { holds, pressing } = standingOf({
    plant: 'p',
    zone: 'UTC',
    now: 0,
    invented: true,
    spindles: [],
    holds: views,
    intake: { rejectsOpen: 0 },
  } as unknown as FloorView);
  expect(holds.aloneSince).toBe(first?.raisedAt);
  expect(pressing[0]?.raisedAt).toBe(first?.raisedAt);
});

test('what somebody had is told with its name, and nobody waits for longer than since it went on', () => {
  const hold = {
    state: 'raised' as const,
    raisedAt: 50,
    steps: [{ state: 'raised' as const, at: 50, by: 'counterpoise', cause: 9 }],
  };
  expect(unansweredSince({ ...hold, inPlaceOf: [{ holdId: 'H-1-1', raisedAt: 10, takenBy: 'Bea' }] })).toBe(50);
  expect(unansweredSince({ ...hold, inPlaceOf: [{ holdId: 'H-1-1', raisedAt: 10 }] })).toBe(10);
  expect(unansweredSince({ ...hold, state: 'taken', steps: [...hold.steps, { ...hold.steps[0]!, at: 70 }] })).toBe(70);
});
