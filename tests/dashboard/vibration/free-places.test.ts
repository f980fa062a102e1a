import { expect, test } from 'vitest';
import { freePlace } from '../../../dashboard/vibration/free-places.ts';

const size = { width: 60, height: 14 };

test('a name stands right of its point, level with it', () => {
  expect(freePlace({ x: 0, y: 0 }, size, [{ x: 0, y: 0 }], [])).toEqual({ left: 9, top: -7, ...size });
});

test('on the other side where a point is in the way, higher where one is on both', () => {
  const right = { x: 30, y: 0 };
  const left = { x: -30, y: 2 };
  expect(freePlace({ x: 0, y: 0 }, size, [right], [])?.left).toBe(-69);
  expect(freePlace({ x: 0, y: 0 }, size, [right, left], [])).toMatchObject({ left: 9, top: -21 });
});

test('at the edge of the paper it stands inwards', () => {
  expect(freePlace({ x: 170, y: 0 }, size, [], [], 200)?.left).toBe(101);
});

test('names do not lie on one another, and none is forced in', () => {
  const first = freePlace({ x: 0, y: 0 }, size, [], [])!;
  const second = freePlace({ x: 2, y: 0 }, size, [], [first])!;
  expect(second.left).toBe(-67);
  const crowd = Array.from({ length: 400 }, (_, i) => ({ x: ((i % 20) - 10) * 8, y: (Math.floor(i / 20) - 10) * 8 }));
  expect(freePlace({ x: 0, y: 0 }, size, crowd, [])).toBeUndefined();
});
