// What a person puts on record: what is wrong with it, and how one that comes again is known.
import type { ActData, ActKind, Actor } from '../../shared/acts.ts';
import { personSource } from '../../shared/envelope.ts';
import { say } from '../../shared/language/index.ts';
import { limitRangeFaults } from '../../shared/limit-ranges.ts';
import { PROBLEM_PREFIX, type FieldFault, type Problem } from '../../shared/problem.ts';
import { datedAheadFaults, ratesAheadFaults } from '../../shared/source-dates.ts';
import type { Instant } from '../../shared/time.ts';
import type { Arrival } from '../journal/index.ts';

/** By its id, where it has one, an act is put on record once only: of one that was done some time ago, and of one sent again. */
export interface KnownAct {
  /** When it was done, where that is some time ago. */
  readonly at?: Instant;
  readonly id?: string;
  /** It was new to the journal that it comes from. */
  readonly asNew?: boolean;
}

export function actProblem(errors: FieldFault[]): Problem {
  const title = say`This cannot be put on record as it is.`;
  return { type: `${PROBLEM_PREFIX}wrong-shape`, title, status: 422, errors };
}

/** What no schema sees: between the limits of a declaration, and against the clock; of an act that is long past no clock tells. */
export function declarationFaults(data: ActData[ActKind], now: Instant | undefined): FieldFault[] {
  if ('cutters' in data) return now === undefined ? [] : ratesAheadFaults(data, now);
  if (!('limits' in data)) return [];
  return [...limitRangeFaults(data.limits), ...(now === undefined ? [] : datedAheadFaults(data, now))];
}

export function actIdentity(plant: string, { name }: Actor, { id, asNew }: KnownAct, data: unknown): Partial<Arrival> {
  if (id === undefined) return {};
  const content = Buffer.from(JSON.stringify(data));
  return { repeat: { by: 'id', source: personSource(plant, name), id, content }, asNew: asNew === true };
}
