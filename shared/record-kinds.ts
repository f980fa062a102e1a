// What the record has lines of; apart from the schemas, so that a browser learns it without a validator.

/** What people did, and the service in their stead. */
export const RECORD_ACTS = [
  'hold-act',
  'correction-recorded',
  'doubt-lifted',
  'work-planned',
  'spindle-declared',
  'rules-declared',
  'answering-declared',
  'reference-declared',
  'rates-declared',
  'ask-wave',
  'retried',
  'notice-try',
] as const;

/** What the rules decided; readings, what is made of each load, and causes weighed anew are none. */
export const RECORD_DECISIONS = [
  'hold-raised',
  'hold-stepped',
  'hold-ended',
  'hold-handed-on',
  'hold-escalated',
  'act-refused',
  'limit-ahead',
] as const;

export const RECORD_KINDS = [...RECORD_ACTS, ...RECORD_DECISIONS] as const;
export type RecordKind = (typeof RECORD_KINDS)[number];

export const isRecordKind = (text: string | null): text is RecordKind =>
  text !== null && (RECORD_KINDS as readonly string[]).includes(text);

/** What a line is about; each can be asked for by its id. */
export const RECORD_ABOUT = ['hold', 'spindle', 'assembly', 'bench', 'plant'] as const;
export type RecordAboutKind = (typeof RECORD_ABOUT)[number];

/** Lines in one answer. */
export const RECORD_LINES_MAX = 200;
export const RECORD_LINES_WHEN_NOT_SAID = 50;
