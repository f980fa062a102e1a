// What a schema finds wrong, in words that whoever sent it can act on; given to each parse of what comes from outside.
import type * as z from 'zod';

type RawIssue = z.core.$ZodRawIssue;

/**
 * The error map of a parse, as in `schema.safeParse(value, PLAIN)`. Where a schema has words of its own they count. All say
 * what was expected; what came stands beside it.
 */
export const PLAIN = { error: faultWords } as const;

export function faultWords(issue: RawIssue): string {
  return `expected ${wanted(issue)}`;
}

function wanted(issue: RawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `${TYPE_WORDS[issue.expected] ?? issue.expected}${issue.input === undefined ? '; it is missing' : ''}`;
    case 'too_small':
      return atLeast(issue);
    case 'too_big':
      return atMost(issue);
    case 'not_multiple_of':
      return `a multiple of ${issue.divisor}`;
    case 'invalid_format':
      return FORMAT_WORDS[issue.format] ?? 'text of another form';
    case 'invalid_value':
      return valuesWords(issue.values, issue.input === undefined);
    case 'unrecognized_keys':
      return `no field named ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return issue.discriminator !== undefined && Array.isArray(issue.options)
        ? formWords(issue.discriminator, issue.options, issue.input)
        : eitherWords(issue.errors, issue.input === undefined);
    case 'invalid_key':
      return 'other names of fields';
    case 'invalid_element':
      return 'other entries';
    case 'custom':
      return 'something else';
  }
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
  null: 'null',
  undefined: 'nothing',
  never: 'nothing',
  nonoptional: 'a value',
};

const FORMAT_WORDS: Readonly<Record<string, string>> = {
  url: 'an address such as https://plant.example/path',
  base64: 'base64',
  datetime: 'an RFC 3339 time such as 2026-11-24T07:31:05.120Z',
};

type Small = Extract<RawIssue, { code: 'too_small' }>;
type Big = Extract<RawIssue, { code: 'too_big' }>;

function atLeast({ origin, minimum, inclusive }: Small): string {
  const unit = COUNTED[origin];
  if (unit !== undefined) return Number(minimum) === 1 ? unit.some : `at least ${minimum} ${unit.many}`;
  return inclusive === false ? `more than ${minimum}` : `at least ${minimum}`;
}

function atMost({ origin, maximum, inclusive }: Big): string {
  const unit = COUNTED[origin];
  if (unit !== undefined) return `at most ${maximum} ${unit.many}`;
  return inclusive === false ? `less than ${maximum}` : `at most ${maximum}`;
}

const COUNTED: Readonly<Record<string, { readonly some: string; readonly many: string }>> = {
  string: { some: 'text that is not empty', many: 'characters' },
  array: { some: 'a list that is not empty', many: 'entries' },
};

function valuesWords(values: readonly unknown[], isMissing: boolean): string {
  const words = values.map(String).join(', ');
  return `${values.length === 1 ? words : `one of ${words}`}${isMissing ? '; it is missing' : ''}`;
}

/** The value that tells the forms apart is none of those known: which are. */
function formWords(discriminator: string, options: readonly unknown[], input: unknown): string {
  const isMissing = typeof input === 'object' && input !== null && !Object.hasOwn(input, discriminator);
  return valuesWords(options, isMissing);
}

/** What each of the allowed forms asks for. */
function eitherWords(errors: readonly (readonly z.core.$ZodIssue[])[], isMissing: boolean): string {
  if (isMissing) return 'a value; it is missing';
  const each = errors.flatMap(([first]) => (first === undefined ? [] : first.message.replace(/^expected /, '')));
  return [...new Set(each)].join(', or ') || 'another form';
}
