import { expect, test } from 'vitest';
import { fold } from '../../../dashboard/feed-fold.ts';
import { sameIn, whatIsNamed } from '../../../dashboard/shell/find.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const folded = fold(undefined, { frame: 'snapshot', number: 1, floor: inventedPlant(12, 0).floor });
const picture = folded.kind === 'picture' ? folded.picture : undefined;

test.each([
  ['s-03', { page: 'spindle', spindleId: 'S-03' }],
  [' A-0108\n', { page: 'assembly', assemblyId: 'A-0108' }],
  ['a 0108', { page: 'assembly', assemblyId: 'A-0108' }],
  ['h-4711-1', { page: 'hold', holdId: 'H-4711-1' }],
  ['never-seen', { page: 'assembly', assemblyId: 'never-seen' }],
  ['http://other-host:8470/holds/H-4711-1', { page: 'hold', holdId: 'H-4711-1' }],
  ['https://x.invalid/gate?spindle=S-03', { page: 'gate', spindleId: 'S-03' }],
])('%s opens what it names', (text, route) => {
  expect(whatIsNamed(text, picture)).toEqual(route);
});

test('an id in the same case comes before one in another', () => {
  expect(sameIn(['A-1', 'a-1'], 'a-1')).toBe('a-1');
  expect(sameIn(['A-1', 'A-2'], ' a-2 ')).toBe('A-2');
  expect(sameIn(['A-1'], 'A-11')).toBeUndefined();
});

test('nothing names nothing, and an id can be looked up before the picture is there', () => {
  expect(whatIsNamed('   ', picture)).toBeUndefined();
  expect(whatIsNamed('S-03', undefined)).toEqual({ page: 'assembly', assemblyId: 'S-03' });
});
