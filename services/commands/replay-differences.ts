// In what a hold is otherwise on record than now, each in a few words: nothing is listed as otherwise without saying what is.
import type { Clause, Hold, HoldStep } from '../../shared/holds.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { amountWords, spanWords } from '../../shared/wording.ts';
import type { HoldStay } from '../recording/index.ts';

/** What a person sees first comes first. Empty where nothing but its number is otherwise. */
export function differenceWords(onRecord: HoldStay, now: HoldStay): readonly string[] {
  const [was, is] = [onRecord.hold, now.hold];
  return [
    ...(was.raisedAt === is.raisedAt ? [] : [`raised ${rfc3339Of(was.raisedAt)}`]),
    ...heldWords(onRecord.heldMs, now.heldMs),
    ...evidenceWords(was, is),
    ...stepWords(was.steps, is.steps),
    ...OTHER_PARTS.filter((part) => !isSame(was[part], is[part])).map((part) => OTHER_WORDS[part]),
  ];
}

type Told = 'holdId' | 'subject' | 'reason' | 'state' | 'raisedAt' | 'evidence' | 'steps';
type OtherPart = Exclude<keyof Hold, Told>;

/** A part of a hold that is not told above does not compile unless it has its words here. */
const OTHER_WORDS: Readonly<Record<OtherPart, string>> = {
  conditions: 'released by other things',
  findings: 'its cause weighed otherwise',
  dependents: 'said again by other messages',
  escalations: 'others told of it',
  rules: 'raised by another release of the rules',
};
const OTHER_PARTS = Object.keys(OTHER_WORDS) as readonly OtherPart[];

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** Two that would look the same are told by how much they differ. */
function heldWords(wasMs: number, isMs: number): readonly string[] {
  if (wasMs === isMs) return [];
  const words = spanWords(wasMs);
  if (words !== spanWords(isMs)) return [`held ${words}`];
  const byMs = Math.abs(wasMs - isMs);
  return [`held ${byMs < 1000 ? `${byMs} ms` : spanWords(byMs)} ${wasMs > isMs ? 'longer' : 'shorter'}`];
}

/** Raised at another time, its messages are others in any case. */
function evidenceWords(was: Hold, is: Hold): readonly string[] {
  const [one, other] = [was.evidence.clauses, is.evidence.clauses];
  const clauses = one.length === other.length ? one.flatMap((clause, nth) => clauseWords(clause, other[nth])) : [];
  if (clauses.length > 0) return clauses;
  return was.raisedAt !== is.raisedAt || isSame(was.evidence, is.evidence) ? [] : ['with other evidence'];
}

function clauseWords(was: Clause, is: Clause | undefined): readonly string[] {
  if (is === undefined || was.what !== is.what || was.unit !== is.unit) return [];
  return [
    ...(was.limit === is.limit ? [] : [`limit ${figuresWords(was.limit, is.limit, was.unit)}`]),
    ...(was.source === is.source ? [] : [`limit from “${was.source}”`]),
    ...(was.measured === is.measured ? [] : [`measured ${figuresWords(was.measured, is.measured, was.unit)}`]),
  ];
}

/** Rounded as elsewhere, unless they would look the same then. */
function figuresWords(was: number, is: number, unit: string): string {
  const isRounded = amountWords(was) !== amountWords(is);
  const [one, other] = [was, is].map((value) => (isRounded ? amountWords(value) : String(value)));
  return `${one}, now ${other}${unit === 'mm/s' ? ' mm/s' : ''}`;
}

/** When it was raised is told apart. */
function stepWords(was: readonly HoldStep[], is: readonly HoldStep[]): readonly string[] {
  const [raising, ...steps] = was;
  const [raisingNow, ...stepsNow] = is;
  if (isSame(steps, stepsNow)) {
    return raising?.at !== raisingNow?.at || isSame(raising, raisingNow) ? [] : ['raised by another message'];
  }
  const [last, lastNow] = [was.at(-1), is.at(-1)];
  if (last === undefined || last.state !== lastNow?.state) return [`${last?.state ?? 'nothing'} at the end`];
  return last.at === lastNow.at ? ['with other steps'] : [`${last.state} ${rfc3339Of(last.at)}`];
}
