// A bearing in one line: read, or refused in words; whatever is read is a bearing by its schema too.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import { bearingIn } from '../../../shared/recorded-file/index.ts';

test('its place, rolling elements, diameters and angle; a decimal comma is one too; no angle is 0°', () => {
  const geometry = { elements: 19, elementDiameterMm: 7.9, pitchDiameterMm: 57, contactAngleDeg: 15 };
  expect(bearingIn(' front :  19 7,9 57 15 ', 'invented')).toEqual({ name: 'front', source: 'invented', geometry });
  expect(bearingIn('front: 19 7.9 57', 'invented')).toMatchObject({ geometry: { contactAngleDeg: 0 } });
});

test.each([
  ['front', 'expected a name, the count of rolling elements'],
  [': 8 2 12', 'expected a name, the count'],
  ['front: 8 2', 'expected a name, the count'],
  ['front: 8 2 twelve', 'came "front: 8 2 twelve"'],
  ['front: 8 2 12 0 0', 'expected a name, the count'],
  ['front: 8.5 2 12', 'front: expected a whole count of rolling elements, came 8.5'],
  ['front: 2 2 12', 'front: expected a count of rolling elements from 3 to 200, came 2'],
  ['front: 8 2 12 90', 'front: expected a contact angle in degrees from 0 to 89, came 90'],
  ['front: 8 12 2', 'expected the diameter of a rolling element below the pitch diameter, came 12 and 2 mm'],
])('%s', (line, words) => expect(bearingIn(line, 'invented')).toContain(words));

test('it and the schema agree', () => {
  const numbers = fc.oneof(fc.integer({ min: 0, max: 6000 }), fc.double({ min: 0, max: 200, noNaN: true }));
  fc.assert(
    fc.property(fc.string({ maxLength: 80 }), fc.tuple(numbers, numbers, numbers, numbers), (name, sizes) => {
      const [elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg] = sizes;
      const geometry = { elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg };
      const told = bearingIn(`${name}: ${sizes.join(' ')}`, 'invented');
      const { success } = Bearing.safeParse({ name, source: 'invented', geometry });
      expect(typeof told === 'object').toBe(success && !name.includes(':'));
    }),
    { numRuns: 500 },
  );
});
