// Holds of the same time beside each other, on record and under other rules: which are one, how long each was held, what people said.
import type { Position } from './entries.ts';
import type { HoldStep } from './holds.ts';
import type { Instant } from './time.ts';

/** A hold as far as it is compared. */
export interface HeldStay {
  /** What is held, and why: two that differ in it are never one. */
  readonly about: string;
  /** The entry that raised it: of one `about` it raises one at most. */
  readonly raisedBy: Position;
  readonly raisedAt: Instant;
  /** Undefined as long as it stands. */
  readonly endedAt?: Instant | undefined;
}

/** From the arrival of the first entry that is looked at to that of the last, ms UTC. */
export interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

export interface PairedHolds<A extends HeldStay, B extends HeldStay> {
  readonly both: readonly (readonly [onRecord: A, now: B])[];
  readonly onlyOnRecord: readonly A[];
  readonly onlyNow: readonly B[];
}

/**
 * Lists in any order. A hold of one is that of the other where they are about the same and the same entry raised them; else where one
 * stood while the other did, the earliest first. Each is paired once. Within `span` alone: what stands at its end stands until then.
 */
export function pairHolds<A extends HeldStay, B extends HeldStay>(
  onRecord: readonly A[],
  now: readonly B[],
  span: Span,
): PairedHolds<A, B> {
  const left = inOrder(onRecord);
  const right = inOrder(now);
  const partners = new Map<A, B>();
  const free = new Map<string, Set<B>>();
  for (const one of right) {
    const alike = free.get(one.about);
    if (alike === undefined) free.set(one.about, new Set([one]));
    else alike.add(one);
  }
  const pairWhere = (is: (one: A, other: B) => boolean): void => {
    for (const one of left) {
      const others = free.get(one.about);
      if (others === undefined || partners.has(one)) continue;
      for (const other of others) {
        if (!is(one, other)) continue;
        partners.set(one, other);
        others.delete(other);
        break;
      }
    }
  };
  pairWhere((one, other) => one.raisedBy === other.raisedBy);
  pairWhere((one, other) => overlap(standing(one, span), standing(other, span)));
  return {
    both: [...partners],
    onlyOnRecord: left.filter((one) => !partners.has(one)),
    onlyNow: right.filter((one) => free.get(one.about)?.has(one) === true),
  };
}

/** Within the time that is looked at, ms; up to its end where it stood then still. */
export function heldMsOf(stay: Pick<HeldStay, 'raisedAt' | 'endedAt'>, span: Span): number {
  const { from, to } = standing(stay, span);
  return Math.max(0, to - from);
}

export type PeopleSaid = 'confirmed' | 'nothing-found' | 'in-error';

/** What a step says of the hold that could be counted; undefined: nothing. Of several the last one counts. */
export function saidWith({ state, found }: Pick<HoldStep, 'state' | 'found'>): PeopleSaid | undefined {
  if (state === 'void') return 'in-error';
  if (found === undefined) return undefined;
  return found === 'nothing' ? 'nothing-found' : 'confirmed';
}

function standing({ raisedAt, endedAt }: Pick<HeldStay, 'raisedAt' | 'endedAt'>, { from, to }: Span): Span {
  return { from: Math.max(from, raisedAt), to: Math.min(to, endedAt ?? to) };
}

const overlap = (one: Span, other: Span): boolean => one.from <= other.to && other.from <= one.to;

const inOrder = <T extends HeldStay>(stays: readonly T[]): readonly T[] =>
  stays.toSorted((a, b) => a.raisedAt - b.raisedAt || a.raisedBy - b.raisedBy);
