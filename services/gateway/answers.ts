// The answers of a route in its schema: what comes back when it works, and problem details when not.
import * as z from 'zod';
import { Id } from '../../shared/ids.ts';
import { Problem } from '../../shared/problem.ts';
import { HttpProblem, PROBLEM_TYPE } from './problems.ts';

const PROBLEM_ANSWER = {
  description: 'What was wrong, as RFC 9457 problem details.',
  content: { [PROBLEM_TYPE]: { schema: Problem } },
};

export function answers<S extends z.ZodType>(schema: S) {
  return { 200: schema, '4xx': PROBLEM_ANSWER, '5xx': PROBLEM_ANSWER };
}

export function createdAnswer<S extends z.ZodType>(schema: S) {
  return { 201: schema, '4xx': PROBLEM_ANSWER, '5xx': PROBLEM_ANSWER };
}

export function acceptedAnswer<S extends z.ZodType>(schema: S) {
  return { 202: schema, '4xx': PROBLEM_ANSWER, '5xx': PROBLEM_ANSWER };
}

export const DONE = { 204: z.null().describe('done'), '4xx': PROBLEM_ANSWER, '5xx': PROBLEM_ANSWER };

export const WithId = z.object({ id: Id });
export const WithPosition = z.object({ position: z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER) });

/** What was looked for, or the answer that there is none. */
/** `detail` says what is not known. */
export function found<T>(thing: T | undefined, detail: string): T {
  if (thing === undefined || thing === null) throw new HttpProblem('not-found', { detail });
  return thing;
}
