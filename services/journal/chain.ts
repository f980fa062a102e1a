// The chain over what was decided and what people did: each item's SHA-256 holds the one before, so that none can be changed unseen.
import { createHash } from 'node:crypto';
import type { Entry, Position } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { canonicalJson } from './canonical-json.ts';

/** Where the chain stands after a position of the journal: that of the item which it ends with. */
export interface Link {
  readonly position: Position;
  /** SHA-256 (FIPS 180-4), 32 bytes. */
  readonly hash: Uint8Array;
}

/** What a chain begins with: a journal of an earlier release begins where it stood at the upgrade. */
export const FIRST_HASH: Uint8Array = new Uint8Array(32);

/**
 * Whatever bears a person's or the service's name, and everything that the rules said but the features of readings: those are numbers
 * made of readings, which may be thinned one day, and no decision.
 */
export function isChainedEntry(entry: Entry): boolean {
  return 'actor' in entry;
}

function isChainedOutcome(outcome: Outcome): boolean {
  return outcome.kind !== 'reading-features';
}

/**
 * Item by item, so that it says the same wherever one commit ended and the next began: in another store too, or after a rehearsal.
 * hash = SHA-256(hash before ‖ UTF-8 of the item's canonical JSON); an item is {"entry": …} or {"outcome": …}.
 */
export class Chain {
  #hash: Uint8Array;
  #items = 0;
  #position: Position = 0;

  constructor(hash: Uint8Array) {
    this.#hash = hash;
  }

  get hash(): Uint8Array {
    return this.#hash;
  }

  /** Taken so far. */
  get items(): number {
    return this.#items;
  }

  /** Of the last item. */
  get position(): Position {
    return this.#position;
  }

  /** Neighbouring entries with their outcomes, which lie in the order of their causes; of each position the entry first. */
  take(entries: readonly Entry[], outcomes: readonly Outcome[]): void {
    let next = 0;
    for (const entry of entries) {
      if (isChainedEntry(entry)) this.#add({ entry }, entry.position);
      for (let outcome = outcomes[next]; outcome?.cause === entry.position; outcome = outcomes[(next += 1)]) {
        if (isChainedOutcome(outcome)) this.#add({ outcome }, entry.position);
      }
    }
  }

  #add(item: { readonly entry: Entry } | { readonly outcome: Outcome }, position: Position): void {
    this.#hash = createHash('sha256').update(this.#hash).update(canonicalJson(item)).digest();
    this.#items += 1;
    this.#position = position;
  }
}

/** The link of a commit; undefined where nothing of it is chained. */
export function linkOf(before: Uint8Array, entries: readonly Entry[], outcomes: readonly Outcome[]): Link | undefined {
  if (!outcomes.some(isChainedOutcome) && !entries.some(isChainedEntry)) return undefined;
  const chain = new Chain(before);
  chain.take(entries, inOrder(outcomes));
  return { position: chain.position, hash: chain.hash };
}

/** Rules say things in the order of their causes; whoever does not is put in order here, and stays so once it is merged. */
export function inOrder(outcomes: readonly Outcome[]): readonly Outcome[] {
  return outcomes.toSorted((one, other) => one.cause - other.cause);
}
