// The closed list of what can be wrong with a message that was allowed to be sent, and what each asks of the device.
import type * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import { PROBLEM_PREFIX, type FieldFault, type Problem } from '../../shared/problem.ts';

/** Codes are never used again for anything else. */
export const REFUSALS = {
  'not-json': say`The payload is not JSON. Send one JSON object in UTF-8.`,
  'not-cbor': say`The payload begins like CBOR and is none that can be read. Send one map in CBOR, or JSON.`,
  'not-an-object': say`The payload is no object. Send an envelope (CloudEvents 1.0) or the bare data object.`,
  'wrong-shape': say`The message does not have the shape of its channel. Mend the fields named and send it again.`,
  'wrong-samples': say`The samples of the window cannot be used as they are. Send whole, finite samples in the encoding that is named.`,
  'unknown-type': say`The type does not belong to this channel. Send the type that the channel takes.`,
  'unknown-version': say`This version of the type is not known here. Send a version that is.`,
  'unknown-channel': say`There is no such channel. Publish on one of those named.`,
  'not-of-this-kind': say`A device of this kind may not use this channel. Enrol it as the kind that it is.`,
  'not-served': say`This device is not enrolled for that spindle. Enrol it for the spindle, or send its own.`,
  'which-spindle': say`This device serves several spindles or none. Name the spindle in data.spindleId.`,
  'id-already-used': say`This id was used before for other content; the first is kept. Send it again under a new id.`,
} as const;
export type RefusalCode = keyof typeof REFUSALS;

/** More faults than this are counted, not listed: a receipt stays small. */
export const FAULTS_LISTED_MAX = 8;
const GOT_LENGTH_MAX = 80;

export function refusal(code: RefusalCode, errors: readonly FieldFault[] = []): Problem {
  const listed = errors.slice(0, FAULTS_LISTED_MAX);
  const more = errors.length - listed.length;
  return {
    type: `${PROBLEM_PREFIX}${code}`,
    title: REFUSALS[code],
    status: 422,
    ...(listed.length > 0 ? { errors: listed } : {}),
    ...(more > 0 ? { detail: say`and ${more} more` } : {}),
  };
}

/** The same in the receipt and in the rejected list. */
export function idAlreadyUsed(id: string | undefined): Problem {
  return refusal('id-already-used', [{ pointer: '/id', want: say`an id not used before`, got: shown(id) }]);
}

/** What zod found, field by field; `under` is where the value stands in what was sent. */
export function faultsOf(error: z.ZodError, value: unknown, under = ''): FieldFault[] {
  return error.issues.map(({ path, message }) => {
    const steps = path.map(String);
    const pointer = steps.map((step) => `/${step.replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
    return { pointer: `${under}${pointer}`, want: message, got: shown(valueAt(value, steps)) };
  });
}

function valueAt(message: unknown, path: readonly string[]): unknown {
  let value = message;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string, unknown>)[step];
  }
  return value;
}

export const NOTHING = say`nothing`;

/** What came, short enough for a receipt and in a form that a person recognises. */
export function shown(value: unknown): string {
  if (value === undefined) return NOTHING;
  const text = typeof value === 'string' ? JSON.stringify(value) : plain(value);
  return text.length > GOT_LENGTH_MAX ? `${text.slice(0, GOT_LENGTH_MAX)}…` : text;
}

function plain(value: unknown): string {
  if (Array.isArray(value)) return say`an array of ${value.length}`;
  if (typeof value === 'object' && value !== null)
    return say`an object with ${Object.keys(value).slice(0, 5).join(', ') || NOTHING}`;
  return String(value);
}
