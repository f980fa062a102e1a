// What to tell a person whose question or act got no answer, or a refusal.
import { retell, say } from '../shared/language/index.ts';
import type { Answer } from './api.ts';
import { asSentence } from './wording/standing-words.ts';

/** Said of a request to a program; whoever filled in a form sees no body and no query. */
const WHICH_PART = /^Look at the \w+\.$/;

/** What to tell the person who asked. */
export function whyNot(answer: Exclude<Answer<unknown>, { kind: 'answer' }>): string {
  if (answer.kind === 'unreachable') return say`The service did not answer. Nothing was changed here; try again.`;
  const { title, detail, errors } = answer.problem;
  const first = errors?.[0];
  const field = first === undefined ? '' : ` ${asSentence(retell(first.want))}`;
  const more = detail === undefined || detail === title || WHICH_PART.test(detail) ? '' : ` ${retell(detail)}`;
  return `${retell(title)}${more}${field}`;
}
