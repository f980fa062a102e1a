import { expect, test } from 'vitest';
import { fold } from '../../../dashboard/feed-fold.ts';
import { scanned } from '../../../dashboard/gate/gate-scan.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const folded = fold(undefined, { frame: 'snapshot', number: 1, floor: inventedPlant(12, 0).floor });
const picture = folded.kind === 'picture' ? folded.picture : undefined;

test('a scanner types one id after the other, in either order and in any case', () => {
  expect(scanned(' a-0108 ', picture)).toEqual({ kind: 'named', filled: { assemblyId: 'A-0108' } });
  expect(scanned('s-03', picture)).toEqual({ kind: 'named', filled: { spindleId: 'S-03' } });
  expect(scanned('X-9', picture)).toEqual({ kind: 'named', filled: { assemblyId: 'X-9' } });
  expect(scanned('  ', picture)).toEqual({ kind: 'nothing' });
});

test.each([
  ['https://plant.invalid:8443/assembly/A-0108', { assemblyId: 'A-0108' }],
  ['HTTP://192.0.2.7/assembly/a-0108', { assemblyId: 'A-0108' }],
  ['/assembly/X%209', { assemblyId: 'X 9' }],
  ['https://elsewhere.invalid/spindle/s-03?from=2026-11-01', { spindleId: 'S-03' }],
  ['/spindle/S-99', { spindleId: 'S-99' }],
])('out of the address %s comes the id', (text, filled) => {
  expect(scanned(text, picture)).toEqual({ kind: 'named', filled });
});

test.each(['https://plant.invalid/holds/H-4711-1', '/holds/H-4711-1/tag', 'h-4711-1'])(
  '%s is the tag of a hold on an assembly, which is filled in',
  (text) => {
    expect(scanned(text, picture)).toEqual({ kind: 'tag', holdId: 'H-4711-1', filled: { assemblyId: 'A-0108' } });
  },
);

test('what a hold on a spindle holds is a spindle; of one that is not open nothing is filled in', () => {
  const spindleId = picture?.holds.get('H-4377-1')?.subject.id;
  expect(scanned('H-4377-1', picture)).toEqual({ kind: 'tag', holdId: 'H-4377-1', filled: { spindleId } });
  expect(scanned('/holds/H-1-1', picture)).toEqual({ kind: 'tag', holdId: 'H-1-1', filled: {} });
  expect(scanned('H-4711-1', undefined)).toEqual({ kind: 'tag', holdId: 'H-4711-1', filled: {} });
});

test.each(['https://plant.invalid/floor', 'https://elsewhere.invalid/some/thing/else', '/headroom'])(
  '%s is no assembly of that name',
  (text) => {
    expect(scanned(text, picture)).toEqual({ kind: 'no-use', text });
  },
);
