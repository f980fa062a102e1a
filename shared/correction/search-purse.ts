// What all searches of one advice may spend together: each takes an even share of what is left, so that what a quick one
// leaves over goes to those behind it, and none is short because one before it was long.
import type { SearchBudget } from './best-place.ts';
import type { Candidate } from './candidate.ts';

export class SearchPurse {
  #left: number;
  #tasks: number;
  /** A search was broken off before it had found anything. */
  cameToNothing = false;

  constructor(steps: number, tasks: number) {
    this.#left = steps;
    this.#tasks = Math.max(1, tasks);
  }

  spend(search: (budget: SearchBudget) => readonly Candidate[]): readonly Candidate[] {
    const share = Math.max(1, Math.ceil(this.#left / this.#tasks));
    const budget = { left: share };
    const found = search(budget);
    this.#left -= share - budget.left;
    this.cameToNothing ||= budget.left <= 0 && found.length === 0;
    this.#tasks = Math.max(1, this.#tasks - 1);
    return found;
  }
}
