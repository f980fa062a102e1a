// Two lists of holds of the same time, beside each other: what both raised, what only one did, how long each was held, what people found.
import type { Found } from '../../shared/causes.ts';
import { heldMsOf, pairHolds, saidWith, type HeldStay, type PeopleSaid, type Span } from '../../shared/hold-pairing.ts';
import { isOpen, type Hold, type HoldStep } from '../../shared/holds.ts';
import { subjectKey } from '../rules/index.ts';
import type { Instant } from '../../shared/time.ts';

/**
 * What people put on record of a hold, their last word: `confirmed` where a check or a release names what it was,
 * `nothing-found` where they looked and found nothing, `in-error` where it was voided. Words alone, a measurement or a deviation say
 * nothing that could be counted.
 */
export interface PeoplesWord {
  readonly said: PeopleSaid;
  readonly found?: Found;
  readonly by: string;
  readonly at: Instant;
}

/** A hold as it stood in the time that is looked at. */
export interface HoldStay {
  readonly hold: Hold;
  /** Within the time that is looked at, ms; up to its end where it stood then still. */
  readonly heldMs: number;
  readonly word?: PeoplesWord;
}

export interface HoldPair {
  readonly onRecord: HoldStay;
  readonly now: HoldStay;
  /** To the last digit: id, evidence, conditions and every step. */
  readonly same: boolean;
}

export interface HoldComparison {
  readonly both: readonly HoldPair[];
  readonly onlyOnRecord: readonly HoldStay[];
  readonly onlyNow: readonly HoldStay[];
}

/** `onRecord` and `now` in any order. What people found of a hold counts for what it is paired with too. */
export function compareHolds(onRecord: readonly Hold[], now: readonly Hold[], span: Span): HoldComparison {
  const paired = pairHolds(comparedOf(onRecord), comparedOf(now), span);
  return {
    both: paired.both.map(([one, other]) => pairOf(one, other, span)),
    onlyOnRecord: paired.onlyOnRecord.map((one) => stayOf(one, span)),
    onlyNow: paired.onlyNow.map((one) => stayOf(one, span)),
  };
}

interface Compared extends HeldStay {
  readonly hold: Hold;
}

/** Of those that one entry raised the first comes first. */
function comparedOf(holds: readonly Hold[]): readonly Compared[] {
  const inOrder = holds.toSorted((a, b) => (a.holdId < b.holdId ? -1 : 1));
  return inOrder.map((hold) => {
    const { subject, reason, raisedAt, steps } = hold;
    const endedAt = isOpen(hold) ? undefined : steps.at(-1)?.at;
    return { hold, about: `${reason} ${subjectKey(subject)}`, raisedBy: steps[0]?.cause ?? 0, raisedAt, endedAt };
  });
}

function pairOf(recorded: Compared, now: Compared, span: Span): HoldPair {
  const same = JSON.stringify(recorded.hold) === JSON.stringify(now.hold);
  const stay = stayOf(recorded, span);
  return { onRecord: stay, now: stayOf(now, span, stay.word), same };
}

function stayOf(compared: Compared, span: Span, otherwise?: PeoplesWord): HoldStay {
  const { hold } = compared;
  const word = wordOf(hold.steps) ?? otherwise;
  return { hold, heldMs: heldMsOf(compared, span), ...(word === undefined ? {} : { word }) };
}

function wordOf(steps: readonly HoldStep[]): PeoplesWord | undefined {
  for (const step of steps.toReversed()) {
    const said = saidWith(step);
    const { found, by, at } = step;
    if (said !== undefined) return { said, ...(said === 'in-error' || found === undefined ? {} : { found }), by, at };
  }
  return undefined;
}
