// Holds followed through their outcomes alone, so that what was recorded and what is decided now are told in the same way.
import { isOpen, type Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { holdAfter, holdIdOf, isOfHold, type Floor } from '../rules/index.ts';

/** Holds that are compared; of those beyond it is only counted how many there were. Ten years of ten a day. */
export const HOLDS_COMPARED_MAX = 40_000;

export class HoldBook {
  readonly #holds = new Map<string, Hold>();
  #beyond = 0;

  /** Begins with those that are open on a floor. */
  constructor(floor: Floor) {
    for (const hold of floor.holds.values()) if (isOpen(hold)) this.#holds.set(hold.holdId, hold);
  }

  /** Raised after there was no more room. */
  get beyond(): number {
    return this.#beyond;
  }

  get(holdId: string): Hold | undefined {
    return this.#holds.get(holdId);
  }

  take(outcome: Outcome): void {
    if (!isOfHold(outcome)) return;
    if (outcome.kind === 'hold-raised' && this.#holds.size >= HOLDS_COMPARED_MAX) {
      this.#beyond += 1;
      return;
    }
    const holdId = holdIdOf(outcome);
    const after = holdAfter(this.#holds.get(holdId), outcome);
    if (after !== undefined) this.#holds.set(holdId, after);
  }

  all(): readonly Hold[] {
    return [...this.#holds.values()];
  }
}
