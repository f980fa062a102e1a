// Holds in words: what a state means, who is expected to answer, what each act is called and asks for.
import { retell, say } from '../../shared/language/index.ts';
import type { DeviationNames } from '../../shared/answering-limits.ts';
import { REASON_WORDS_THEN, type HoldReason, type HoldState } from '../../shared/holds.ts';
import type { SubjectKind } from '../../shared/ids.ts';
import type { HoldActName, Role } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';
import { COUNTED, amount, speed, SPEED, whole, withUnit } from './figures.ts';

export { REASON_WORDS, REASON_WORDS_THEN } from '../../shared/holds.ts';

export const HOLD_STATE_WORDS: Readonly<Record<HoldState, string>> = {
  raised: say`raised`,
  taken: say`taken`,
  checked: say`checked`,
  released: say`released`,
  void: say`void, raised in error`,
};

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  viewer: say`viewer`,
  operator: say`operator`,
  'tool-room': say`tool room`,
  maintenance: say`maintenance`,
  engineer: say`plant engineer`,
  admin: say`administrator`,
};

/** What a hold is about. */
export const SUBJECT_WORDS: Readonly<Record<SubjectKind, string>> = {
  spindle: say`spindle`,
  assembly: say`assembly`,
  bench: say`bench`,
  plant: say`plant`,
};

/** Who is expected to answer, in the words of the shop. */
export const ANSWERED_BY: Readonly<Record<HoldReason, string>> = {
  'residual-exceeds': say`tool room`,
  'not-measured-since-build': say`tool room`,
  'speed-above-balanced': say`operator, tool room`,
  'speed-above-marked': say`operator, tool room`,
  'held-assembly-loaded': say`operator, tool room`,
  'overall-over-limit': say`maintenance`,
  'synchronous-over-limit': say`maintenance`,
  'vibration-unexplained': say`maintenance, tool room`,
  'bench-in-doubt': say`tool room`,
  'sensor-cannot-judge': say`maintenance`,
};

export interface ActWords {
  readonly press: string;
  /** What the second press is asked to confirm. */
  readonly asks: string;
  /** The label of the field for words; absent where none are needed. */
  readonly field?: string;
}

export const ACT_WORDS: Readonly<Record<HoldActName, ActWords>> = {
  take: { press: say`I have it`, asks: say`Everybody sees that you have this hold.` },
  check: { press: say`Checked`, asks: say`What you found goes on record; the hold stays.`, field: say`What I found` },
  release: {
    press: say`Maintenance release`,
    asks: say`The hold ends on your name.`,
    field: say`What was done, and what shows that it helped`,
  },
  deviate: {
    press: say`Ask for a deviation`,
    asks: say`It goes on although its condition is not met: once another person has put a name to it as well, or at once where this plant has declared that one name is enough. Names and reason stand beside it for good.`,
    field: say`Why this is acceptable`,
  },
  confirm: {
    press: say`Second name`,
    asks: say`The hold ends as a deviation on your name beside the first. Read the reason and the evidence before you press.`,
  },
  void: {
    press: say`Raised in error`,
    asks: say`The hold ends as void: only where what raised it was wrong. A limit that is still exceeded raises no other hold until it has come down.`,
    field: say`What was wrong with it`,
  },
};

/** Of a hold that a run verifies: the release alone does not end it. */
export const RELEASE_THEN_RUN = say`Your name stands for it that it was mended. The hold stays until a run verifies that, with an assembly that nothing speaks against.`;

/** What a deviation does here; `ACT_WORDS` says both while it is not known how many names are asked for. */
export const DEVIATION_ASKS: Readonly<Record<DeviationNames, string>> = {
  1: say`The hold ends at once, on your name alone, although its condition is not met: this plant has declared that one name is enough. Your name and your reason stand beside it for good.`,
  2: say`It goes on although its condition is not met, once another person has put a name to it as well; both names and your reason stand beside it for good.`,
};

export function actPress(act: HoldActName, hold: Pick<HoldView, 'state' | 'takenBy'>): string {
  return act === 'take' && hold.takenBy !== undefined ? say`Take over from ${hold.takenBy}` : ACT_WORDS[act].press;
}

/** Everything that would end it, none left out; what is said beside a condition stands on the hold's own page. */
export function endsWhen({ conditions }: Pick<HoldView, 'conditions'>): string | undefined {
  return conditions.length === 0
    ? undefined
    : conditions.map(({ words }) => retell(firstSentence(words))).join(say`, or when `);
}

function firstSentence(words: string): string {
  return words.split(/\. (?=[A-Z])/)[0] ?? words;
}

/** What a person reads first: while it is open in the rules' own words, afterwards in the past. */
export function holdSentence(hold: HoldView): string {
  if (hold.open) return retell(hold.sentence);
  const { subject, reason, evidence } = hold;
  const where =
    evidence.spindleId === undefined || subject.kind === 'spindle' ? '' : say`, loaded in ${evidence.spindleId}`;
  return say`${subject.id} was on hold: ${REASON_WORDS_THEN[reason]}${amounts(evidence)}${where}.`;
}

function amounts({ clauses, speedRpm }: HoldView['evidence']): string {
  const [clause] = clauses;
  if (clause === undefined || clause.unit === COUNTED) return '';
  const isSpeed = clause.unit === SPEED;
  const at = speedRpm === undefined || isSpeed ? '' : say` at ${speed(speedRpm)}`;
  const measured = isSpeed ? whole(clause.measured) : amount(clause.measured, clause.unit);
  return say`${at}, ${measured} against ${withUnit(clause.limit, clause.unit)}`;
}

/** How and by whom it ended; undefined while it is open. */
export function endedBy({ open, steps }: Pick<HoldView, 'open' | 'steps'>): string | undefined {
  const last = steps.at(-1);
  if (open || last === undefined) return undefined;
  if (last.movedTo !== undefined) return say`handed over to ${last.movedTo}`;
  if (last.state === 'void') return say`ended by ${last.by}: raised in error`;
  return last.deviation === true ? say`ended by ${last.by} as a named deviation` : say`ended by ${last.by}`;
}

/** What stands beside a step: in the words of the rules where they wrote it, and as it is where a person did. */
export function noteTold(
  { steps, conditions }: Pick<HoldView, 'steps' | 'conditions'>,
  step: HoldView['steps'][number],
): string | undefined {
  const { note, state, movedTo, deviation } = step;
  if (note === undefined) return undefined;
  const isByCondition =
    state === 'released' &&
    deviation !== true &&
    step === steps.at(-1) &&
    conditions.some(({ kind, met }) => met && kind !== 'maintenance-release');
  return isByCondition || state === 'raised' || movedTo !== undefined ? retell(note) : note;
}
