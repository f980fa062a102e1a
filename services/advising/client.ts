// The main thread's end of the advising: a bounded queue; what is stuck is given up and never takes others with it.
import { Worker } from 'node:worker_threads';
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import { say } from '../../shared/language/index.ts';
import { ADVISING_LIMITS, type AdvisingLimits } from './limits.ts';
import { Proofs } from './proofs.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

export type AdviceTold =
  | { readonly kind: 'advice'; readonly advice: Advice }
  /** Too many questions wait already. */
  | { readonly kind: 'full' }
  | { readonly kind: 'failed'; readonly why: string };

export interface Advising {
  /** Somebody will ask soon: the thread is started, which a plant without benches is spared. */
  wake(): void;
  /** A page leaves room for benches, which wait with somebody beside them. */
  advise(question: CorrectionQuestion, from: 'bench' | 'page'): Promise<AdviceTold>;
  /** The same advice with what was only a first answer proven; undefined where there is no room or time for it. */
  prove(question: CorrectionQuestion): Promise<Advice | undefined>;
  close(): Promise<void>;
}

/** Room for young objects: one search makes few that live long. */
const YOUNG_MIB = 8;

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
  readonly #proofs: Proofs;
  #worker: Worker | undefined;
  #underWay: Waiting | undefined;
  #watch: NodeJS.Timeout | undefined;
  #number = 0;
  #closed = false;

  constructor(limits: AdvisingLimits) {
    this.#limits = limits;
    this.#proofs = new Proofs(limits);
  }

  wake(): void {
    if (!this.#closed) this.#worker ??= this.#start();
  }

  advise(question: CorrectionQuestion, from: 'bench' | 'page'): Promise<AdviceTold> {
    const asked = this.#waiting.length + (this.#underWay === undefined ? 0 : 1);
    const { questionsMax, pageQuestionsMax } = this.#limits;
    if (this.#closed || asked >= (from === 'page' ? pageQuestionsMax : questionsMax))
      return Promise.resolve({ kind: 'full' });
    return new Promise((told) => {
      this.#waiting.push({ question, told });
      this.#next();
    });
  }

  prove(question: CorrectionQuestion): Promise<Advice | undefined> {
    return this.#proofs.prove(question);
  }

  async close(): Promise<void> {
    this.#closed = true;
    const stopped = { kind: 'failed', why: say`the service stops` } as const;
    this.#finish(stopped);
    for (const { told } of this.#waiting.splice(0)) told(stopped);
    await Promise.all([this.#worker?.terminate(), this.#proofs.close()]);
  }

  #start(): Worker {
    const worker = new Worker(new URL('./thread.js', import.meta.url), {
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MIB },
    });
    worker.on('message', (message: FromAdvising) => {
      if (worker === this.#worker) this.#take(message);
    });
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
    this.#watch = setTimeout(() => this.#startAnew(say`it took too long`), this.#limits.stuckMs);
    const { question } = next;
    this.wake();
    this.#worker?.postMessage({ number: this.#number, question, prove: false } satisfies ToAdvising);
  }

  #take(message: FromAdvising): void {
    if (message.number !== this.#number) return;
    this.#finish(message);
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
    // The next question starts another, so that a thread that cannot start does not start for ever.
    this.#worker = undefined;
    void lost?.terminate();
    this.#finish({ kind: 'failed', why });
    this.#next();
  }
}
