import { expect, test } from 'vitest';
import { fold, type Picture } from '../../../dashboard/feed-fold.ts';
import { needsOf, whoHas } from '../../../dashboard/floor/needs.ts';
import { exceedingHold, heldLoadedHold, overLimitHold } from '../fixtures/invented-holds.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const NOW = Date.UTC(2026, 10, 24, 7, 31);

function pictureOf(spindles: number, quiet = false): Picture {
  const folded = fold(undefined, { frame: 'snapshot', number: 1, floor: inventedPlant(spindles, NOW, quiet).floor });
  if (folded.kind === 'gap') throw new Error('gap');
  return folded.picture;
}

test('nobody is needed when all is well', () => {
  expect(needsOf(pictureOf(12, true))).toEqual([]);
});

test('what nobody has comes first, then what somebody has, then what only wants a look', () => {
  const needs = needsOf(pictureOf(12));
  expect(needs.map(({ subject, word }) => `${subject} ${word}`)).toEqual([
    'A-0108 hold',
    'S-07 hold',
    'S-10 watch',
    'S-05 cannot be judged',
    'Intake not read',
  ]);
  expect(needs[0]?.who).toBe('tool room: nobody has it, 14 min');
  expect(needs[1]?.who).toBe('m-rask has it, 1 h 11 min');
});

test('of those that nobody has, the one that waits longest comes first', () => {
  const picture = pictureOf(12);
  (picture.holds as Map<string, unknown>).set('H-4802-1', heldLoadedHold(NOW, 'S-03'));
  expect(
    needsOf(picture)
      .map(({ key }) => key)
      .slice(0, 3),
  ).toEqual(['H-4711-1', 'H-4802-1', 'H-4377-1']);
});

test('a hold that more than one thing can end says all of them', () => {
  const picture = pictureOf(12);
  (picture.holds as Map<string, unknown>).set('H-4802-1', heldLoadedHold(NOW, 'S-03'));
  expect(needsOf(picture).find(({ key }) => key === 'H-4802-1')?.next).toBe(
    'Ends when A-0108 is taken out of S-03, or when the hold H-4711-1 of A-0108 has ended.',
  );
});

test('every need says who and what next', () => {
  for (const need of needsOf(pictureOf(2000))) {
    expect(need.who).not.toBe('');
    expect(need.next).toBeTruthy();
    expect(need.href).toMatch(/^\//);
  }
});

test('who has a hold, and since when', () => {
  const picture = { zone: 'UTC', now: NOW };
  expect(whoHas(exceedingHold(NOW), picture)).toBe('nobody has it, 14 min');
  const taken = overLimitHold(NOW);
  const step = { state: 'checked' as const, at: NOW - 120_000, by: 'e-saar', cause: 4500 };
  const checked = { ...taken, state: 'checked' as const, steps: [...taken.steps, step] };
  expect(whoHas(checked, picture)).toBe('checked by e-saar, 2 min ago');
});

test('an override that was kept down asks for the plant engineer, and is no standing', () => {
  const picture = pictureOf(12, true);
  const row = picture.spindles.get('S-04');
  if (row === undefined) throw new Error('a spindle of the plant');
  const overrideKept = 'The override was turned down from 100 % to 75 %.';
  (picture.spindles as Map<string, unknown>).set('S-04', { ...row, overrideKept });
  const needs = needsOf(picture);
  expect(needs).toHaveLength(1);
  expect(needs[0]).toMatchObject({
    subject: 'S-04',
    word: 'slowed',
    href: '/headroom',
    sentence: overrideKept,
    alone: false,
  });
  expect(row.standing).toBe('in-family');
});
