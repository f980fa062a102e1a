// Try-outs in hand: one runs at a time, each in a thread of its own; what the last few found is kept for those who ask.
import { randomUUID } from 'node:crypto';
import { Worker } from 'node:worker_threads';
import { say } from '../../shared/language/index.ts';
import type { TryOutView } from '../../shared/try-out.ts';
import type { JournalSettings } from '../journal/index.ts';
import type { FromTryOut, TryOutWork } from './protocol.ts';
import type { RunAsked } from './run.ts';

/** Answers kept; the oldest goes first. */
const KEPT_MAX = 5;
/** A thread that needs more memory than this ends as failed, and nothing else with it. */
const OLD_MIB = 256;
/** Columns of readings live for one stretch: with less room many are moved before they are let go, at a fifth more of the time. */
const YOUNG_MIB = 64;

interface InHand {
  view: TryOutView;
  worker: Worker | undefined;
}

export class TryOuts {
  readonly #journal: JournalSettings;
  readonly #kept = new Map<string, InHand>();

  constructor({ onFull: _onFull, ...journal }: JournalSettings) {
    // A function cannot go over to a thread, and this one writes nothing that could be full.
    this.#journal = journal;
  }

  /** Undefined while another runs. */
  start(asked: RunAsked): TryOutView | undefined {
    if ([...this.#kept.values()].some(({ worker }) => worker !== undefined)) return undefined;
    const id = randomUUID();
    const workerData: TryOutWork = { journal: this.#journal, asked };
    const worker = new Worker(new URL('./thread.js', import.meta.url), {
      workerData,
      resourceLimits: { maxOldGenerationSizeMb: OLD_MIB, maxYoungGenerationSizeMb: YOUNG_MIB },
    });
    const inHand: InHand = { view: { id, state: 'running', percent: 0 }, worker };
    this.#kept.set(id, inHand);
    const oldest = this.#kept.size > KEPT_MAX ? this.#kept.keys().next().value : undefined;
    if (oldest !== undefined) this.#kept.delete(oldest);
    worker.on('message', (message: FromTryOut) => this.#told(inHand, message));
    worker.on('error', (failure) => this.#told(inHand, { kind: 'failed', message: failure.message }));
    worker.on('exit', (code) => this.#told(inHand, { kind: 'failed', message: say`its thread ended with ${code}` }));
    return inHand.view;
  }

  view(id: string): TryOutView | undefined {
    return this.#kept.get(id)?.view;
  }

  /** What has ended already stays as it is. */
  async cancel(id: string): Promise<TryOutView | undefined> {
    const inHand = this.#kept.get(id);
    if (inHand?.worker === undefined) return inHand?.view;
    const { worker } = inHand;
    inHand.worker = undefined;
    inHand.view = { ...inHand.view, state: 'cancelled' };
    await worker.terminate();
    return inHand.view;
  }

  async close(): Promise<void> {
    for (const id of this.#kept.keys()) await this.cancel(id);
  }

  #told(inHand: InHand, message: FromTryOut): void {
    // The thread ends after its answer, and after it was cancelled; neither is a failure.
    if (inHand.worker === undefined) return;
    const { view } = inHand;
    switch (message.kind) {
      case 'progress':
        inHand.view = { ...view, percent: Math.floor(100 * message.share) };
        return;
      case 'answer':
        inHand.worker = undefined;
        inHand.view = { ...view, state: 'done', percent: 100, answer: message.answer };
        return;
      case 'failed':
        inHand.worker = undefined;
        inHand.view = { ...view, state: 'failed', why: message.message };
    }
  }
}
