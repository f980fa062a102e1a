// What a schema finds wrong is told in plain words, whatever the kind of fault; a schema's own words count first.
import { expect, test } from 'vitest';
import * as z from 'zod';
import { faultWords, PLAIN } from '../../shared/fault-words.ts';
import { CorrectionFeature, MESSAGE_SCHEMAS } from '../../shared/messages/index.ts';

const KINDS = 'rings, radial-holes, axial-holes, flats, set-screws, added-mass';

function told(schema: z.ZodType, value: unknown): string[] {
  return schema.safeParse(value, PLAIN).error?.issues.map(({ message }) => message) ?? [];
}

test.each<[z.ZodType, unknown, string]>([
  [z.string(), undefined, 'expected text; it is missing'],
  [z.string(), 7, 'expected text'],
  [z.number(), Number.NaN, 'expected a number'],
  [z.int(), 1.5, 'expected a whole number'],
  [z.boolean(), 'yes', 'expected true or false'],
  [z.array(z.string()), {}, 'expected a list'],
  [z.object({}), [], 'expected an object'],
  [z.record(z.string(), z.string()), null, 'expected an object'],
  [z.strictObject({}), { colour: 1, size: 2 }, 'expected no field named colour, size'],
  [z.string().min(1), '', 'expected text that is not empty'],
  [z.string().min(12), 'short', 'expected at least 12 characters'],
  [z.string().max(3), 'long', 'expected at most 3 characters'],
  [z.array(z.int()).min(1), [], 'expected a list that is not empty'],
  [z.array(z.int()).max(1), [1, 2], 'expected at most 1 entries'],
  [z.number().min(2), 1, 'expected at least 2'],
  [z.number().gt(2), 2, 'expected more than 2'],
  [z.number().max(2), 3, 'expected at most 2'],
  [z.number().lt(2), 2, 'expected less than 2'],
  [z.number().multipleOf(5), 3, 'expected a multiple of 5'],
  [z.enum(['bench', 'sensor']), 'lamp', 'expected one of bench, sensor'],
  [z.literal('1.0'), undefined, 'expected 1.0; it is missing'],
  [z.url(), 'nowhere', 'expected an address such as https://plant.example/path'],
  [z.base64(), '%', 'expected base64'],
  [z.string().regex(/^a/), 'b', 'expected text of another form'],
  [z.string().or(z.literal(7)), 8, 'expected text, or 7'],
  [z.string().or(z.literal(7)), undefined, 'expected a value; it is missing'],
  [CorrectionFeature, { kind: 'laser' }, `expected one of ${KINDS}`],
  [CorrectionFeature, {}, `expected one of ${KINDS}; it is missing`],
  [z.number().refine((value) => value > 1), 0, 'expected something else'],
  [z.number({ error: 'expected a share of 1' }), 'x', 'expected a share of 1'],
])('%# %s', (schema, value, words) => {
  expect(told(schema, value)).toEqual([words]);
});

test('the words of a kind that no schema here has', () => {
  const issues: [] = [];
  expect(faultWords({ code: 'invalid_key', origin: 'record', issues, input: {} })).toBe(
    'expected other names of fields',
  );
  expect(faultWords({ code: 'invalid_element', origin: 'map', key: 1, issues, input: {} })).toBe(
    'expected other entries',
  );
});

/** Of one object, or of all that a message may be. */
const fieldNames = (schema: (typeof MESSAGE_SCHEMAS)[keyof typeof MESSAGE_SCHEMAS]): readonly string[] =>
  'shape' in schema ? Object.keys(schema.shape) : schema.options.flatMap((option) => Object.keys(option.shape));

test.each(Object.entries(MESSAGE_SCHEMAS))('%s: nothing of a library’s own language', (_, schema) => {
  for (const value of [{}, [], null, undefined, Object.fromEntries(fieldNames(schema).map((key) => [key, {}]))]) {
    for (const words of told(schema, value))
      expect(words).not.toMatch(/Invalid|received|undefined|\b(?:string|number \d)\b/);
  }
});
