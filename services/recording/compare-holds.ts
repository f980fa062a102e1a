// Two lists of holds of the same time, beside each other: what both raised, what only one did, how long each was held, what people found.
import type { Found } from '../../shared/causes.ts';
import type { Hold, HoldStep } from '../../shared/holds.ts';
import { subjectKey } from '../rules/index.ts';
import type { Instant } from '../../shared/time.ts';

/**
 * What people put on record of a hold, their last word: `confirmed` where a check or a release names what it was,
 * `nothing-found` where they looked and found nothing, `in-error` where it was voided. Words alone, a measurement or a deviation say
 * nothing that could be counted.
 */
export interface PeoplesWord {
  readonly said: 'confirmed' | 'nothing-found' | 'in-error';
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

export interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

/**
 * `onRecord` and `now` in any order, `span` the time that both tell of, ms UTC. A hold of one list is that of the other where the id,
 * subject and reason are the same; else where subject and reason are, and one stood while the other did, the earliest first. Each is
 * paired once. What people found of a hold counts for what it is paired with too.
 */
export function compareHolds(onRecord: readonly Hold[], now: readonly Hold[], span: Span): HoldComparison {
  const left = inOrder(onRecord);
  const right = inOrder(now);
  const partners = new Map<Hold, Hold>();
  const taken = new Set<Hold>();
  const pair = (one: Hold, other: Hold | undefined): void => {
    if (other === undefined) return;
    partners.set(one, other);
    taken.add(other);
  };
  const byId = new Map(right.map((hold) => [hold.holdId, hold]));
  for (const one of left) {
    const other = byId.get(one.holdId);
    if (other !== undefined && aboutOf(other) === aboutOf(one)) pair(one, other);
  }
  const others = new Map<string, Hold[]>();
  for (const hold of right) {
    if (taken.has(hold)) continue;
    const about = others.get(aboutOf(hold));
    if (about === undefined) others.set(aboutOf(hold), [hold]);
    else about.push(hold);
  }
  for (const one of left) {
    if (partners.has(one)) continue;
    const open = others.get(aboutOf(one)) ?? [];
    pair(
      one,
      open.find((other) => !taken.has(other) && overlap(one, other, span)),
    );
  }
  return {
    both: [...partners].map(([one, other]) => pairOf(one, other, span)),
    onlyOnRecord: left.filter((hold) => !partners.has(hold)).map((hold) => stayOf(hold, span)),
    onlyNow: right.filter((hold) => !taken.has(hold)).map((hold) => stayOf(hold, span)),
  };
}

function pairOf(recorded: Hold, now: Hold, span: Span): HoldPair {
  const same = JSON.stringify(recorded) === JSON.stringify(now);
  const stay = stayOf(recorded, span);
  return { onRecord: stay, now: stayOf(now, span, stay.word), same };
}

function stayOf(hold: Hold, span: Span, otherwise?: PeoplesWord): HoldStay {
  const { from, to } = standing(hold, span);
  const word = wordOf(hold.steps) ?? otherwise;
  return { hold, heldMs: Math.max(0, to - from), ...(word === undefined ? {} : { word }) };
}

function wordOf(steps: readonly HoldStep[]): PeoplesWord | undefined {
  for (const { state, found, by, at } of steps.toReversed()) {
    if (state === 'void') return { said: 'in-error', by, at };
    if (found !== undefined) return { said: found === 'nothing' ? 'nothing-found' : 'confirmed', found, by, at };
  }
  return undefined;
}

function standing({ raisedAt, state, steps }: Hold, { from, to }: Span): Span {
  const ended = state === 'released' || state === 'void' ? steps.at(-1)?.at : undefined;
  return { from: Math.max(from, raisedAt), to: Math.min(to, ended ?? to) };
}

function overlap(one: Hold, other: Hold, span: Span): boolean {
  const a = standing(one, span);
  const b = standing(other, span);
  return a.from <= b.to && b.from <= a.to;
}

const aboutOf = ({ subject, reason }: Hold): string => `${reason} ${subjectKey(subject)}`;

function inOrder(holds: readonly Hold[]): readonly Hold[] {
  return holds.toSorted((a, b) => a.raisedAt - b.raisedAt || (a.holdId < b.holdId ? -1 : 1));
}
