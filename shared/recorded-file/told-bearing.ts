// A bearing as one writes it in a line: "front: 19 7.9 57 15" is its place, rolling elements, their diameter, pitch diameter, angle.
// Checked by hand: the browser does without schemas, which would be the largest thing that it loads.
import { say } from '../language/index.ts';
import type { Bearing } from '../bearing.ts';
import { BEARING_GEOMETRY, BEARING_NAME_CHARACTERS_MAX } from '../bearing-limits.ts';

export const BEARING_LINE_FORM = say`a name, the count of rolling elements, their diameter and the pitch diameter in mm, and the contact angle in degrees, such as "front: 19 7.9 57 15"`;

/** The bearing, or what is wrong with the line. */
export function bearingIn(text: string, source: string): Bearing | string {
  const [head = '', sizes = '', ...more] = text.split(':');
  const name = head.trim();
  const numbers = sizes
    .trim()
    .split(/\s+/u)
    .map((word) => Number(word.replace(',', '.')));
  const [elements = 0, elementDiameterMm = 0, pitchDiameterMm = 0, contactAngleDeg = 0] = numbers;
  if (name === '' || more.length > 0 || numbers.length < 3 || numbers.length > 4 || numbers.some(Number.isNaN))
    return say`expected ${BEARING_LINE_FORM}; came ${JSON.stringify(text)}`;
  const geometry = { elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg };
  return wrongWith(name, geometry) ?? { name, source, geometry };
}

type Geometry = NonNullable<Bearing['geometry']>;

function outOfRange(name: string, key: keyof Geometry, came: number): string {
  const { min, max } = BEARING_GEOMETRY[key];
  switch (key) {
    case 'elements':
      return say`${name}: expected a count of rolling elements from ${min} to ${max}, came ${came}`;
    case 'elementDiameterMm':
      return say`${name}: expected a diameter of a rolling element in mm from ${min} to ${max}, came ${came}`;
    case 'pitchDiameterMm':
      return say`${name}: expected a pitch diameter in mm from ${min} to ${max}, came ${came}`;
    case 'contactAngleDeg':
      return say`${name}: expected a contact angle in degrees from ${min} to ${max}, came ${came}`;
  }
}

function wrongWith(name: string, geometry: Geometry): string | undefined {
  if (name.length > BEARING_NAME_CHARACTERS_MAX)
    return say`expected a name of at most ${BEARING_NAME_CHARACTERS_MAX} characters`;
  if (!Number.isInteger(geometry.elements))
    return say`${name}: expected a whole count of rolling elements, came ${geometry.elements}`;
  for (const key of ['elements', 'elementDiameterMm', 'pitchDiameterMm', 'contactAngleDeg'] as const) {
    const { min, max } = BEARING_GEOMETRY[key];
    if (!(geometry[key] >= min && geometry[key] <= max)) return outOfRange(name, key, geometry[key]);
  }
  if (geometry.elementDiameterMm < geometry.pitchDiameterMm) return undefined;
  return say`${name}: expected the diameter of a rolling element below the pitch diameter, came ${geometry.elementDiameterMm} and ${geometry.pitchDiameterMm} mm`;
}
