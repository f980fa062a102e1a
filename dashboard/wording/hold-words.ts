// Holds in words: what a state means, who is expected to answer, what each act is called and asks for.
import type { DeviationNames } from '../../shared/answering-limits.ts';
import { REASON_WORDS_THEN, type HoldReason, type HoldState } from '../../shared/holds.ts';
import type { HoldActName, Role } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';
import { COUNTED, figure, speed, SPEED, whole, withUnit } from './figures.ts';

export { REASON_WORDS, REASON_WORDS_THEN } from '../../shared/holds.ts';

export const HOLD_STATE_WORDS: Readonly<Record<HoldState, string>> = {
  raised: 'raised',
  taken: 'taken',
  checked: 'checked',
  released: 'released',
  void: 'void, raised in error',
};

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  viewer: 'viewer',
  operator: 'operator',
  'tool-room': 'tool room',
  maintenance: 'maintenance',
  engineer: 'plant engineer',
  admin: 'administrator',
};

/** Who is expected to answer, in the words of the shop. */
export const ANSWERED_BY: Readonly<Record<HoldReason, string>> = {
  'residual-exceeds': 'tool room',
  'not-measured-since-build': 'tool room',
  'speed-above-balanced': 'operator, tool room',
  'speed-above-marked': 'operator, tool room',
  'held-assembly-loaded': 'operator, tool room',
  'overall-over-limit': 'maintenance',
  'synchronous-over-limit': 'maintenance',
  'vibration-unexplained': 'maintenance, tool room',
  'bench-in-doubt': 'tool room',
  'sensor-cannot-judge': 'maintenance',
};

export interface ActWords {
  readonly press: string;
  /** What the second press is asked to confirm. */
  readonly asks: string;
  /** The label of the field for words; absent where none are needed. */
  readonly field?: string;
}

export const ACT_WORDS: Readonly<Record<HoldActName, ActWords>> = {
  take: { press: 'I have it', asks: 'Everybody sees that you have this hold.' },
  check: { press: 'Checked', asks: 'What you found goes on record; the hold stays.', field: 'What I found' },
  release: {
    press: 'Maintenance release',
    asks: 'The hold ends on your name.',
    field: 'What was done, and what shows that it helped',
  },
  deviate: {
    press: 'Ask for a deviation',
    asks: 'It goes on although its condition is not met: once another person has put a name to it as well, or at once where this plant has declared that one name is enough. Names and reason stand beside it for good.',
    field: 'Why this is acceptable',
  },
  confirm: {
    press: 'Second name',
    asks: 'The hold ends as a deviation on your name beside the first. Read the reason and the evidence before you press.',
  },
  void: {
    press: 'Raised in error',
    asks: 'The hold ends as void: only where what raised it was wrong. A limit that is still exceeded raises no other hold until it has come down.',
    field: 'What was wrong with it',
  },
};

/** Of a hold that a run verifies: the release alone does not end it. */
export const RELEASE_THEN_RUN =
  'Your name stands for it that it was mended. The hold stays until a run verifies that, with an assembly that nothing speaks against.';

/** What a deviation does here; `ACT_WORDS` says both while it is not known how many names are asked for. */
export const DEVIATION_ASKS: Readonly<Record<DeviationNames, string>> = {
  1: 'The hold ends at once, on your name alone, although its condition is not met: this plant has declared that one name is enough. Your name and your reason stand beside it for good.',
  2: 'It goes on although its condition is not met, once another person has put a name to it as well; both names and your reason stand beside it for good.',
};

export function actPress(act: HoldActName, hold: Pick<HoldView, 'state' | 'takenBy'>): string {
  return act === 'take' && hold.takenBy !== undefined ? `Take over from ${hold.takenBy}` : ACT_WORDS[act].press;
}

/** Everything that would end it, none left out; what is said beside a condition stands on the hold's own page. */
export function endsWhen({ conditions }: Pick<HoldView, 'conditions'>): string | undefined {
  return conditions.length === 0 ? undefined : conditions.map(({ words }) => firstSentence(words)).join(', or when ');
}

function firstSentence(words: string): string {
  return words.split(/\. (?=[A-Z])/)[0] ?? words;
}

/** What a person reads first: while it is open in the rules' own words, afterwards in the past. */
export function holdSentence(hold: HoldView): string {
  if (hold.open) return hold.sentence;
  const { subject, reason, evidence } = hold;
  const where =
    evidence.spindleId === undefined || subject.kind === 'spindle' ? '' : `, loaded in ${evidence.spindleId}`;
  return `${subject.id} was on hold: ${REASON_WORDS_THEN[reason]}${amounts(evidence)}${where}.`;
}

function amounts({ clauses, speedRpm }: HoldView['evidence']): string {
  const [clause] = clauses;
  if (clause === undefined || clause.unit === COUNTED) return '';
  const isSpeed = clause.unit === SPEED;
  const at = speedRpm === undefined || isSpeed ? '' : ` at ${speed(speedRpm)}`;
  const measured = isSpeed ? whole(clause.measured) : figure(clause.measured);
  return `${at}, ${measured} against ${withUnit(clause.limit, clause.unit)}`;
}

/** How and by whom it ended; undefined while it is open. */
export function endedBy({ open, steps }: Pick<HoldView, 'open' | 'steps'>): string | undefined {
  const last = steps.at(-1);
  if (open || last === undefined) return undefined;
  if (last.movedTo !== undefined) return `handed over to ${last.movedTo}`;
  if (last.state === 'void') return `ended by ${last.by}: raised in error`;
  return last.deviation === true ? `ended by ${last.by} as a named deviation` : `ended by ${last.by}`;
}
