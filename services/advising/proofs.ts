// First answers that wait to be proven: one after another, bounded, and lost with the thread that works on them.
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';

interface Waiting {
  readonly question: CorrectionQuestion;
  readonly told: (advice: Advice | undefined) => void;
}

export class Proofs {
  readonly #max: number;
  readonly #begin: (question: CorrectionQuestion) => void;
  readonly #waiting: Waiting[] = [];
  #underWay: Waiting | undefined;

  constructor(max: number, begin: (question: CorrectionQuestion) => void) {
    this.#max = max;
    this.#begin = begin;
  }

  /** Undefined where there was no room or no time for it. */
  prove(question: CorrectionQuestion): Promise<Advice | undefined> {
    if (this.#waiting.length + (this.#underWay === undefined ? 0 : 1) >= this.#max) return Promise.resolve(undefined);
    return new Promise((told) => {
      this.#waiting.push({ question, told });
      this.#next();
    });
  }

  done(advice: Advice | undefined): void {
    const done = this.#underWay;
    this.#underWay = undefined;
    done?.told(advice);
    this.#next();
  }

  close(): void {
    const waiting = this.#waiting.splice(0);
    this.done(undefined);
    for (const { told } of waiting) told(undefined);
  }

  #next(): void {
    if (this.#underWay !== undefined) return;
    this.#underWay = this.#waiting.shift();
    if (this.#underWay !== undefined) this.#begin(this.#underWay.question);
  }
}
