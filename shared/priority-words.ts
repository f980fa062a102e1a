// How soon, in words; apart from the schemas, so that a browser reads them without a validator.
/** How soon a hold wants an answer, the most urgent first. */
export const PRIORITIES = ['at-once', 'this-shift', 'when-planned'] as const;
export type Priority = (typeof PRIORITIES)[number];

export const PRIORITY_WORDS: Readonly<Record<Priority, string>> = {
  'at-once': 'at once',
  'this-shift': 'this shift',
  'when-planned': 'when it is planned',
};
