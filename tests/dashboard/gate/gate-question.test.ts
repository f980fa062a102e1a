import { expect, test } from 'vitest';
import { fold } from '../../../dashboard/feed-fold.ts';
import { askOf, groundsOf } from '../../../dashboard/gate/gate-question.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const folded = fold(undefined, { frame: 'snapshot', number: 1, floor: inventedPlant(12, 0).floor });
const picture = folded.kind === 'picture' ? folded.picture : undefined;
const empty = { spindleId: '', assemblyId: '', speed: '' };

test.each([
  [empty, 'Scan the spindle and the assembly.'],
  [{ ...empty, assemblyId: 'A-1' }, 'Scan the spindle.'],
  [{ ...empty, spindleId: 'S-1' }, 'Scan the assembly.'],
  [
    { spindleId: 'S-1', assemblyId: 'A-1', speed: 'fast' },
    '“fast” is no speed: it is to be a number from 1 to 500,000 rpm.',
  ],
  [
    { spindleId: 'S-1', assemblyId: 'A-1', speed: '-3' },
    '“-3” is no speed: it is to be a number from 1 to 500,000 rpm.',
  ],
  [{ ...empty, speed: '600,000' }, '“600,000” is no speed: it is to be a number from 1 to 500,000 rpm.'],
])('%o lacks something', (fields, what) => {
  expect(askOf(fields)).toEqual({ kind: 'missing', what });
});

test('without a speed the programmed one is asked about', () => {
  const asked = { kind: 'ask', spindleId: 'S-1', assemblyId: 'A-1' };
  expect(askOf({ spindleId: 'S-1', assemblyId: 'A-1', speed: '' })).toEqual(asked);
  expect(askOf({ spindleId: 'S-1', assemblyId: 'A-1', speed: '18,000' })).toEqual({ ...asked, speedRpm: 18_000 });
});

test.each([
  ['18.000', 18_000],
  ['18 000', 18_000],
  ['18’000', 18_000],
  ['120.000', 120_000],
  ['7500.5', 7500.5],
])('%s is read as it was meant, whoever wrote it: never as a thousandth of it', (speed, speedRpm) => {
  expect(askOf({ spindleId: 'S-1', assemblyId: 'A-1', speed })).toMatchObject({ kind: 'ask', speedRpm });
});

test('with places after a comma it is no speed', () =>
  expect(askOf({ spindleId: 'S-1', assemblyId: 'A-1', speed: '7500,5' }).kind).toBe('missing'));

test('an answer rests on the holds of both and on what the spindle is told to do', () => {
  const ask = { kind: 'ask' as const, spindleId: 'S-03', assemblyId: 'A-0108' };
  const grounds = groundsOf(ask, picture);
  expect(grounds).toContain('H-4711-1 raised');
  expect(groundsOf({ ...ask, assemblyId: 'A-0105' }, picture)).not.toContain('H-4711-1');
});
