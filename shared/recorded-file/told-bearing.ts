// A bearing as one writes it in a line: "front: 19 7.9 57 15" is its place, rolling elements, their diameter, pitch diameter, angle.
import { Bearing } from '../bearing.ts';
import { PLAIN } from '../fault-words.ts';

export const BEARING_LINE_FORM =
  'a name, the count of rolling elements, their diameter and the pitch diameter in mm, and the contact angle in degrees, such as "front: 19 7.9 57 15"';

/** The bearing, or what is wrong with the line. */
export function bearingIn(text: string, source: string): Bearing | string {
  const [name = '', sizes = '', ...more] = text.split(':');
  const numbers = sizes
    .trim()
    .split(/\s+/u)
    .map((word) => Number(word.replace(',', '.')));
  const [elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg = 0] = numbers;
  if (more.length > 0 || numbers.length < 3 || numbers.length > 4 || numbers.some(Number.isNaN))
    return `expected ${BEARING_LINE_FORM}; came ${JSON.stringify(text)}`;
  const geometry = { elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg };
  const parsed = Bearing.safeParse({ name, source, geometry }, PLAIN);
  if (parsed.success) return parsed.data;
  return parsed.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`).join('; ');
}
