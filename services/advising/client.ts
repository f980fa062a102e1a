// The main thread's end of the advising: a bounded queue; what is stuck is given up and never takes others with it.
import { Worker } from 'node:worker_threads';
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import { ADVISING_LIMITS, type AdvisingLimits } from './limits.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

export type AdviceTold =
  | { readonly kind: 'advice'; readonly advice: Advice }
  /** Too many questions wait already. */
  | { readonly kind: 'full' }
  | { readonly kind: 'failed'; readonly why: string };

export interface Advising {
  advise(question: CorrectionQuestion): Promise<AdviceTold>;
  close(): Promise<void>;
}

interface Waiting {
  readonly question: CorrectionQuestion;
  readonly told: (told: AdviceTold) => void;
}

export function openAdvising(limits: Partial<AdvisingLimits> = {}): Advising {
  return new AdvisingClient({ ...ADVISING_LIMITS, ...limits });
}

class AdvisingClient implements Advising {
  readonly #limits: AdvisingLimits;
  readonly #waiting: Waiting[] = [];
  #worker: Worker | undefined;
  #underWay: Waiting | undefined;
  #watch: NodeJS.Timeout | undefined;
  #number = 0;
  #closed = false;

  constructor(limits: AdvisingLimits) {
    this.#limits = limits;
    this.#worker = this.#start();
  }

  advise(question: CorrectionQuestion): Promise<AdviceTold> {
    const asked = this.#waiting.length + (this.#underWay === undefined ? 0 : 1);
    if (this.#closed || asked >= this.#limits.questionsMax) return Promise.resolve({ kind: 'full' });
    return new Promise((told) => {
      this.#waiting.push({ question, told });
      this.#next();
    });
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#finish({ kind: 'failed', why: 'the service stops' });
    for (const { told } of this.#waiting.splice(0)) told({ kind: 'failed', why: 'the service stops' });
    await this.#worker?.terminate();
  }

  #start(): Worker {
    const worker = new Worker(new URL('./thread.js', import.meta.url));
    worker.on('message', (message: FromAdvising) => this.#take(message));
    worker.on('error', (failure) => {
      if (worker === this.#worker) this.#startAnew(failure.message);
    });
    return worker;
  }

  #next(): void {
    if (this.#underWay !== undefined || this.#closed) return;
    const next = this.#waiting.shift();
    if (next === undefined) return;
    this.#underWay = next;
    this.#number += 1;
    this.#watch = setTimeout(() => this.#startAnew('it took too long'), this.#limits.stuckMs);
    const { question } = next;
    this.#worker?.postMessage({ number: this.#number, question } satisfies ToAdvising);
  }

  #take(message: FromAdvising): void {
    if (message.number !== this.#number) return;
    if ('advice' in message) this.#finish({ kind: 'advice', advice: message.advice });
    else this.#finish({ kind: 'failed', why: message.failure });
    this.#next();
  }

  #finish(told: AdviceTold): void {
    clearTimeout(this.#watch);
    const done = this.#underWay;
    this.#underWay = undefined;
    done?.told(told);
  }

  #startAnew(why: string): void {
    if (this.#closed) return;
    const lost = this.#worker;
    this.#worker = this.#start();
    void lost?.terminate();
    this.#finish({ kind: 'failed', why });
    this.#next();
  }
}
