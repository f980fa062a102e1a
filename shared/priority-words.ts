// How soon, in words; apart from the schemas, so that a browser reads them without a validator.
import { say } from './language/index.ts';
/** How soon a hold wants an answer, the most urgent first. */
export const PRIORITIES = ['at-once', 'this-shift', 'when-planned'] as const;
export type Priority = (typeof PRIORITIES)[number];

export const PRIORITY_WORDS: Readonly<Record<Priority, string>> = {
  'at-once': say`at once`,
  'this-shift': say`this shift`,
  'when-planned': say`when it is planned`,
};
