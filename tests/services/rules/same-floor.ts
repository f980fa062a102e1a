// Two floors compared: the thousands of figures of relating as a whole, for to compare them one by one takes minutes.
import { isDeepStrictEqual } from 'node:util';
import { expect } from 'vitest';
import type { Floor } from '../../../services/rules/index.ts';

/** The same in every part and type; where not, what differs is looked for. */
export function expectSameFloor(floor: Floor | undefined, other: Floor | undefined): void {
  if (!isDeepStrictEqual(floor, other)) expect(floor).toStrictEqual(other);
}

/** The same but for what is undefined in the one and missing in the other. */
export function expectEqualFloor(floor: Floor, other: Floor): void {
  const { relating, ...rest } = floor;
  const { relating: otherRelating, ...otherRest } = other;
  if (!isDeepStrictEqual(relating, otherRelating)) expect(relating).toEqual(otherRelating);
  expect(rest).toEqual(otherRest);
}
