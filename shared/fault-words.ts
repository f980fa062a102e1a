// What a schema finds wrong, in words that whoever sent it can act on; given to each parse of what comes from outside.
import type * as z from 'zod';
import { say } from './language/index.ts';

type RawIssue = z.core.$ZodRawIssue;

/**
 * The error map of a parse, as in `schema.safeParse(value, PLAIN)`. Where a schema has words of its own they count. All say
 * what was expected; what came stands beside it.
 */
export const PLAIN = { error: faultWords } as const;

export function faultWords(issue: RawIssue): string {
  return say`expected ${wanted(issue)}`;
}

function wanted(issue: RawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return missingToo(TYPE_WORDS[issue.expected] ?? issue.expected, issue.input === undefined);
    case 'too_small':
      return atLeast(issue);
    case 'too_big':
      return atMost(issue);
    case 'not_multiple_of':
      return say`a multiple of ${issue.divisor}`;
    case 'invalid_format':
      return FORMAT_WORDS[issue.format] ?? say`text of another form`;
    case 'invalid_value':
      return valuesWords(issue.values, issue.input === undefined);
    case 'unrecognized_keys':
      return say`no field named ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return issue.discriminator !== undefined && Array.isArray(issue.options)
        ? formWords(issue.discriminator, issue.options, issue.input)
        : eitherWords(issue.errors, issue.input === undefined);
    case 'invalid_key':
      return say`other names of fields`;
    case 'invalid_element':
      return say`other entries`;
    case 'custom':
      return say`something else`;
  }
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: say`text`,
  number: say`a number`,
  int: say`a whole number`,
  boolean: say`true or false`,
  array: say`a list`,
  object: say`an object`,
  record: say`an object`,
  null: 'null',
  undefined: say`nothing`,
  never: say`nothing`,
  nonoptional: say`a value`,
};

const FORMAT_WORDS: Readonly<Record<string, string>> = {
  url: say`an address such as https://plant.example/path`,
  base64: 'base64',
  datetime: say`an RFC 3339 time such as 2026-11-24T07:31:05.120Z`,
};

type Small = Extract<RawIssue, { code: 'too_small' }>;
type Big = Extract<RawIssue, { code: 'too_big' }>;

function atLeast({ origin, minimum, inclusive }: Small): string {
  const counted = COUNTED[origin];
  if (counted !== undefined) return Number(minimum) === 1 ? counted.some : counted.atLeast(String(minimum));
  return inclusive === false ? say`more than ${String(minimum)}` : say`at least ${String(minimum)}`;
}

function atMost({ origin, maximum, inclusive }: Big): string {
  const counted = COUNTED[origin];
  if (counted !== undefined) return counted.atMost(String(maximum));
  return inclusive === false ? say`less than ${String(maximum)}` : say`at most ${String(maximum)}`;
}

interface Counted {
  readonly some: string;
  readonly atLeast: (count: string) => string;
  readonly atMost: (count: string) => string;
}

const COUNTED: Readonly<Record<string, Counted>> = {
  string: {
    some: say`text that is not empty`,
    atLeast: (count) => say`at least ${count} characters`,
    atMost: (count) => say`at most ${count} characters`,
  },
  array: {
    some: say`a list that is not empty`,
    atLeast: (count) => say`at least ${count} entries`,
    atMost: (count) => say`at most ${count} entries`,
  },
};

function valuesWords(values: readonly unknown[], isMissing: boolean): string {
  const words = values.map(String).join(', ');
  return missingToo(values.length === 1 ? words : say`one of ${words}`, isMissing);
}

function missingToo(words: string, isMissing: boolean): string {
  return isMissing ? say`${words}; it is missing` : words;
}

/** The value that tells the forms apart is none of those known: which are. */
function formWords(discriminator: string, options: readonly unknown[], input: unknown): string {
  const isMissing = typeof input === 'object' && input !== null && !Object.hasOwn(input, discriminator);
  return valuesWords(options, isMissing);
}

/** What each of the allowed forms asks for. */
function eitherWords(errors: readonly (readonly z.core.$ZodIssue[])[], isMissing: boolean): string {
  if (isMissing) return missingToo(say`a value`, true);
  const each = errors.flatMap(([first]) => (first === undefined ? [] : first.message.replace(/^expected /, '')));
  const [first = '', ...others] = new Set(each);
  return others.reduce((before, next) => say`${before}, or ${next}`, first) || say`another form`;
}
