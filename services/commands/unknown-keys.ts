// Fields of a file that nobody asked for, by name: a misspelt limit must not be taken for one that was left out.
import * as z from 'zod';

/** Names that differ by more letters than this are not what was meant. */
const LETTERS_OFF_MAX = 3;

/** One line for each field of the value that the schema does not know, with those that may be meant. `alsoKnown` are let pass. */
export function unknownKeys(
  schema: z.core.$ZodType,
  value: unknown,
  alsoKnown: readonly string[] = [],
  at: readonly (string | number)[] = [],
): readonly string[] {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault)
    return unknownKeys(schema.unwrap(), value, alsoKnown, at);
  if (schema instanceof z.ZodArray && Array.isArray(value))
    return value.flatMap((one, i) => unknownKeys(schema.element, one, alsoKnown, [...at, i]));
  if (!isFields(value)) return [];
  if (schema instanceof z.ZodDiscriminatedUnion) {
    const option = schema.options.find((one) => one instanceof z.ZodObject && speaksOf(one, value));
    return option === undefined ? [] : unknownKeys(option, value, alsoKnown, at);
  }
  if (!(schema instanceof z.ZodObject)) return [];
  const shape: Readonly<Record<string, z.core.$ZodType>> = schema.shape;
  return Object.entries(value).flatMap(([key, inside]) => {
    const known = Object.hasOwn(shape, key) ? shape[key] : undefined;
    if (known !== undefined) return unknownKeys(known, inside, alsoKnown, [...at, key]);
    if (alsoKnown.includes(key)) return [];
    return [`${[...at, key].join('.')}: no such field; ${hintFor(key, Object.keys(shape))}`];
  });
}

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Whether each fixed value of the schema, such as its kind, is the value's. */
function speaksOf({ shape }: z.ZodObject, value: Fields): boolean {
  return Object.entries(shape).every(
    ([key, known]) => !(known instanceof z.ZodLiteral) || known.safeParse(value[key]).success,
  );
}

function hintFor(key: string, known: readonly string[]): string {
  const near = known.filter((name) => isNear(key.toLowerCase(), name.toLowerCase()));
  return near.length > 0 ? `is ${near.join(' or ')} meant?` : `known are ${known.join(', ')}`;
}

function isNear(a: string, b: string): boolean {
  return b.includes(a) || lettersOff(a, b) <= Math.min(LETTERS_OFF_MAX, a.length / 2);
}

/** How many letters have to be changed, left out or put in to make one of the other. */
function lettersOff(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 0; i < a.length; i += 1) {
    const next = [i + 1];
    for (let j = 0; j < b.length; j += 1) {
      const changed = (row[j] ?? 0) + (a[i] === b[j] ? 0 : 1);
      next.push(Math.min(changed, (row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1));
    }
    row = next;
  }
  return row.at(-1) ?? 0;
}
