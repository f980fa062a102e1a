// The check of the chain in hand: one runs at a time, in a thread of its own; what the last one found is kept for those who ask.
import { Worker } from 'node:worker_threads';
import { say } from '../../shared/language/index.ts';
import type { VerificationView } from '../../shared/record.ts';
import type { Clock } from '../../shared/time.ts';
import type { JournalSettings } from '../journal/index.ts';
import type { FromVerifying, VerifyingWork } from './protocol.ts';

/** A stretch and a page of links at a time: a thread that needs more ends as failed, and nothing else with it. */
const OLD_MIB = 128;
const YOUNG_MIB = 16;

export class Verifying {
  readonly #journal: JournalSettings;
  readonly #clock: Clock;
  #view: VerificationView = { state: 'none', percent: 0 };
  #worker: Worker | undefined;

  constructor({ onFull: _onFull, ...journal }: JournalSettings, clock: Clock) {
    // A function cannot go over to a thread, and this one writes nothing that could be full.
    this.#journal = journal;
    this.#clock = clock;
  }

  view(): VerificationView {
    return this.#view;
  }

  /** Undefined while another runs. */
  start(by: string, noted: string | undefined): VerificationView | undefined {
    if (this.#worker !== undefined) return undefined;
    const workerData: VerifyingWork = { journal: this.#journal, noted };
    const worker = new Worker(new URL('./thread.js', import.meta.url), {
      workerData,
      resourceLimits: { maxOldGenerationSizeMb: OLD_MIB, maxYoungGenerationSizeMb: YOUNG_MIB },
    });
    const startedAt = this.#clock.now();
    this.#view = { state: 'running', percent: 0, by, startedAt, ...(noted === undefined ? {} : { noted }) };
    this.#worker = worker;
    worker.on('message', (message: FromVerifying) => this.#told(worker, message));
    worker.on('error', (failure) => this.#told(worker, { kind: 'failed', message: failure.message }));
    worker.on('exit', (code) => this.#told(worker, { kind: 'failed', message: say`its thread ended with ${code}` }));
    return this.#view;
  }

  /** What has ended already stays as it is. */
  async cancel(): Promise<VerificationView> {
    const worker = this.#worker;
    if (worker === undefined) return this.#view;
    this.#end({ state: 'cancelled' });
    await worker.terminate();
    return this.#view;
  }

  async close(): Promise<void> {
    await this.cancel();
  }

  #told(worker: Worker, message: FromVerifying): void {
    // The thread ends after its verdict, and after it was given up; neither is a failure.
    if (this.#worker !== worker) return;
    switch (message.kind) {
      case 'progress':
        this.#view = { ...this.#view, percent: Math.floor(100 * message.share) };
        return;
      case 'verdict':
        this.#end({ state: 'done', percent: 100, verdict: message.verdict });
        return;
      case 'failed':
        this.#end({ state: 'failed', why: message.message });
    }
  }

  #end(ended: Partial<VerificationView>): void {
    this.#worker = undefined;
    this.#view = { ...this.#view, ...ended, endedAt: this.#clock.now() };
  }
}
