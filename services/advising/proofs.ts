// First answers that wait to be proven: one after another, each in a thread that lives as long as its proof may take.
import { Worker } from 'node:worker_threads';
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import type { AdvisingLimits } from './limits.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

type Limits = Pick<AdvisingLimits, 'proofsMax' | 'proofMs'>;

export class Proofs {
  readonly #limits: Limits;
  readonly #ended = new AbortController();
  #waiting = 0;
  /** The proof before. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(limits: Limits) {
    this.#limits = limits;
  }

  /** Undefined where there was no room or no time for it. */
  prove(question: CorrectionQuestion): Promise<Advice | undefined> {
    if (this.#ended.signal.aborted || this.#waiting >= this.#limits.proofsMax) return Promise.resolve(undefined);
    this.#waiting += 1;
    const mine = this.#turn
      .then(() => provenIn(question, this.#limits.proofMs, this.#ended.signal))
      .finally(() => (this.#waiting -= 1));
    this.#turn = mine;
    return mine;
  }

  /** Breaks off what is under way; resolves when its thread has ended. */
  async close(): Promise<void> {
    this.#ended.abort();
    await this.#turn;
  }
}

async function provenIn(
  question: CorrectionQuestion,
  withinMs: number,
  ended: AbortSignal,
): Promise<Advice | undefined> {
  if (ended.aborted) return undefined;
  const worker = new Worker(new URL('./thread.js', import.meta.url));
  let timer: NodeJS.Timeout | undefined;
  const advice = await new Promise<Advice | undefined>((resolve) => {
    const giveUp = (): void => resolve(undefined);
    timer = setTimeout(giveUp, withinMs);
    ended.addEventListener('abort', giveUp);
    worker.on('error', giveUp);
    worker.on('message', (message: FromAdvising) => resolve(message.kind === 'advice' ? message.advice : undefined));
    worker.postMessage({ number: 0, question, prove: true } satisfies ToAdvising);
  });
  clearTimeout(timer);
  await worker.terminate();
  return advice;
}
