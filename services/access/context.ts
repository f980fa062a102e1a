// What the parts of access share: the tables, the time, the limits, and how to refuse and to record.
import type { Clock } from '../../shared/time.ts';
import { REFUSALS, type AccessChange, type AccessEvent, type RefusalCode, type Refused } from './faces.ts';
import type { FieldFault } from '../../shared/problem.ts';
import type { AccessLimits } from './limits.ts';
import { statement, type Statement, type Tables } from './tables.ts';

export interface Context {
  readonly tables: Tables;
  readonly clock: Clock;
  readonly limits: AccessLimits;
  readonly tell: (change: AccessChange) => void;
}

export function refuse(code: RefusalCode, faults?: readonly FieldFault[]): Refused {
  return { kind: 'refused', code, why: REFUSALS[code], ...(faults === undefined ? {} : { faults }) };
}

const TEXT_MAX = 200;

/** Written together with what it records, so that neither is there without the other. */
export function logged(
  { clock }: Pick<Context, 'clock'>,
  line: { who: string; what: AccessEvent; subject: string; from: string },
): Statement {
  const { who, what, subject, from } = line;
  return statement(
    'INSERT INTO access_log (at, who, what, subject, come_from) VALUES (?, ?, ?, ?, ?)',
    clock.now(),
    plain(who),
    what,
    plain(subject),
    plain(from),
  );
}

/** One line, no control characters: what strangers type must not be able to write lines of its own into a log. */
function plain(text: string): string {
  return text.replaceAll(/[\p{Cc}\u2028\u2029]/gu, '?').slice(0, TEXT_MAX);
}
