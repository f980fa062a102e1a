// What a hold's page is told beside the hold: how soon, how far a verification is, who else is asked, and what stays as it was.
import { expect, test } from 'vitest';
import { act, build, declare, load, reading, result, running } from './invented-floor.ts';

const HELD = [declare('S-1'), build('A-1'), result('A-1', 0.4), build('A-2'), result('A-2', 0.4), load('A-1', 'S-1')];
const OVER = [5, 5.1, 5.2, 5.3, 5.4].map((value) => reading('S-1', value));

test('the parts of a verification fill one by one, with their figures', async () => {
  const { append, keeper } = await running();
  await append([...HELD, ...OVER]);
  const [hold] = keeper.holds({ state: 'open', limit: 1 });
  const id = hold?.holdId ?? '';
  const parts = () => keeper.holdView(id)?.conditions[0]?.parts?.map(({ done, told }) => [done, told]);
  expect(parts()).toEqual([
    [false, 'not yet'],
    [false, 'not yet'],
    [false, 'not yet'],
  ]);
  await append([act('release', id, 'drawbar spring changed')]);
  expect(keeper.holdView(id)).toMatchObject({ state: 'checked', conditions: [{ byHand: false }] });
  expect(keeper.holdView(id)?.sentence).toContain('it waits for the run that verifies this');
  expect(parts()).toEqual([
    [true, 'by Bea'],
    [false, 'A-1 was in it before; clamp it again, or load another'],
    [false, 'none yet'],
  ]);
  await append([load('A-2', 'S-1'), reading('S-1', 2), reading('S-1', 2.25)]);
  expect(parts()?.slice(1)).toEqual([
    [true, 'A-2'],
    [false, expect.stringMatching(/^2 so far over .*, the highest at 0.5 of what is allowed$/)],
  ]);
});

test('a wish for a deviation shows who asked; it is gone with the second name', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8), act('deviate', 'H-2-1', 'roughing only')]);
  expect(keeper.holdView('H-2-1')?.secondName).toMatchObject({ askedBy: 'Bea', note: 'roughing only' });
  await append([act('confirm', 'H-2-1', undefined, 'Cas')]);
  expect(keeper.holdView('H-2-1')?.secondName).toBeUndefined();
});

test('evidence reads the same after the limits were changed, with the rules that raised it', async () => {
  const { append, keeper } = await running();
  await append([...HELD, ...OVER]);
  const [before] = keeper.holds({ state: 'open', limit: 1 });
  await append([{ ...declare('S-1'), data: { spindleId: 'S-1', machine: 'M', cell: 'C', limits: [] } }]);
  const after = keeper.holdView(before?.holdId ?? '');
  expect(after?.evidence).toEqual(before?.evidence);
  expect(after?.sentence).toBe(before?.sentence);
  expect(after?.rules).toMatch(/^rules-\d+$/);
  expect(after?.evidence.clauses[0]).toMatchObject({
    limit: 4.5,
    source: expect.stringContaining('entered by Ada') as unknown,
  });
});

test('how soon: what turns now before what lies on a shelf', async () => {
  const { append, keeper } = await running();
  await append([...HELD, build('A-9'), result('A-9', 3.8), ...OVER]);
  const holds = keeper.holds({ state: 'open', limit: 9 });
  const words = Object.fromEntries(holds.map(({ subject, priority }) => [subject.id, priority]));
  expect(words).toEqual({
    'A-9': { word: 'when-planned', why: 'it is in no spindle' },
    'S-1': { word: 'this-shift', why: 'S-1 turns now' },
  });
});

test('how far over is told of when it was held: it may run quieter now', async () => {
  const { append, keeper } = await running();
  await append([...HELD, ...[9, 9, 9, 9, 9].map((value) => reading('S-1', value))]);
  expect(keeper.holds({ state: 'open', limit: 1 })[0]?.priority).toEqual({
    word: 'at-once',
    why: 'S-1 turns now; it was held at 2.0 times the limit',
  });
});

test('who travelled with whom: pairs that ran, the held ones first; a bench has none', async () => {
  const { append, keeper } = await running();
  await append([declare('S-2'), ...HELD, reading('S-1', 1), load('A-2', 'S-1'), reading('S-1', 1.1)]);
  await append([load('A-2', 'S-2'), reading('S-2', 1), load('A-1', 'S-1'), ...OVER]);
  const [hold] = keeper.holds({ state: 'open', limit: 1 });
  const travels = keeper.travels(hold?.holdId ?? '');
  expect(travels).toMatchObject({
    spindles: ['S-1'],
    assemblies: ['A-1', 'A-2'],
    suspects: { spindles: ['S-1'], assemblies: [] },
  });
  expect(travels?.cells.map(({ spindleId, assemblyId }) => `${assemblyId} in ${spindleId}`)).toContain('A-2 in S-1');
  expect(keeper.travels('H-0-0')).toBeUndefined();
});
