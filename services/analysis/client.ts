// The main thread's end of the analysis: a bounded queue; what is too much is skipped and said, what is stuck is given up.
import { Worker } from 'node:worker_threads';
import { say } from '../../shared/language/index.ts';
import type { WaveDone, WaveJob } from '../../shared/wave-job.ts';
import { ANALYSIS_LIMITS, type AnalysisLimits } from './limits.ts';
import type { FromAnalysis, ToAnalysis } from './protocol.ts';
import { WindowQueue } from './window-queue.ts';

export interface AnalysisEvents {
  /** Of every window that was offered, once: analysed, skipped or failed. Resolves when it is on record; none is told meanwhile. */
  done(done: readonly WaveDone[]): Promise<void>;
  /** The thread died or was stuck; it is started anew for the next window. */
  trouble?(why: string): void;
}

export interface AnalysisCounts {
  readonly waiting: number;
  readonly analysed: number;
  readonly skipped: number;
  readonly failed: number;
}

export interface Analysis {
  /** Returns at once, whatever waits already; the counts may be handed over to the thread. */
  offer(job: WaveJob): void;
  readonly counts: AnalysisCounts;
  /** What waits then is not told of: it is offered again at the next start. */
  close(): Promise<void>;
}

interface Untold {
  readonly done: WaveDone;
  readonly told: () => void;
}

/** Room for young objects: an analysis makes few that live long. */
const YOUNG_MIB = 4;

export function openAnalysis(events: AnalysisEvents, limits: Partial<AnalysisLimits> = {}): Analysis {
  return new AnalysisClient(events, { ...ANALYSIS_LIMITS, ...limits });
}

class AnalysisClient implements Analysis {
  readonly #events: AnalysisEvents;
  readonly #limits: AnalysisLimits;
  readonly #queue: WindowQueue;
  readonly #counts = { analysed: 0, skipped: 0, failed: 0 };
  #worker: Worker | undefined;
  #underWay: WaveJob | undefined;
  /** Not told yet: what comes while others are told of is told of together. */
  #untold: Untold[] = [];
  /** Of them, those that were made, not skipped. */
  #untoldMade = 0;
  #telling: Promise<void> | undefined;
  #watch: NodeJS.Timeout | undefined;
  #closed = false;

  constructor(events: AnalysisEvents, limits: AnalysisLimits) {
    this.#events = events;
    this.#limits = limits;
    this.#queue = new WindowQueue(limits);
  }

  get counts(): AnalysisCounts {
    const waiting = this.#queue.length + (this.#underWay === undefined ? 0 : 1) + this.#untoldMade;
    return { waiting, ...this.#counts };
  }

  offer(job: WaveJob): void {
    if (this.#closed) return;
    for (const { waveId } of this.#queue.add(job)) {
      this.#counts.skipped += 1;
      const why = say`more windows came than could be analysed in time; its samples are kept`;
      this.#tell({ waveId, outcome: { kind: 'skipped', why } });
    }
    this.#next();
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#watch);
    this.#queue.clear();
    this.#underWay = undefined;
    await this.#worker?.terminate();
    await this.#telling;
  }

  #next(): void {
    if (this.#underWay !== undefined || this.#untoldMade >= this.#limits.untoldMax || this.#closed) return;
    const job = this.#queue.take();
    if (job === undefined) return;
    this.#underWay = job;
    this.#watch = setTimeout(() => this.#startAnew(say`it took too long`), this.#limits.stuckMs);
    const counts = ownBuffer(job.counts);
    this.#worker ??= this.#start();
    this.#worker.postMessage({ job: { ...job, counts } } satisfies ToAnalysis, [counts.buffer]);
  }

  #start(): Worker {
    const worker = new Worker(new URL('./thread.js', import.meta.url), {
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MIB },
    });
    worker.on('message', ({ done }: FromAnalysis) => {
      if (worker === this.#worker) this.#finish(done);
    });
    worker.on('error', (failure) => {
      if (worker === this.#worker) this.#startAnew(failure.message);
    });
    // A plant that stops need not wait for a thread that has nothing to do.
    worker.unref();
    return worker;
  }

  /** The next windows are begun while some wait to be stored, but only so many: what is not stored yet never piles up. */
  #finish(done: WaveDone): void {
    if (done.waveId !== this.#underWay?.waveId) return;
    clearTimeout(this.#watch);
    if (done.outcome.kind === 'analysed') this.#counts.analysed += 1;
    else this.#counts.failed += 1;
    this.#underWay = undefined;
    this.#untoldMade += 1;
    this.#tell(done, () => {
      this.#untoldMade -= 1;
      this.#next();
    });
    this.#next();
  }

  /** `told` comes when this one is told, however many others come meanwhile. */
  #tell(done: WaveDone, told: () => void = () => undefined): void {
    this.#untold.push({ done, told });
    this.#telling ??= this.#tellAll().finally(() => {
      this.#telling = undefined;
    });
  }

  async #tellAll(): Promise<void> {
    // The rest of this turn's windows join.
    await Promise.resolve();
    while (this.#untold.length > 0) {
      const batch = this.#untold;
      this.#untold = [];
      try {
        await this.#events.done(batch.map(({ done }) => done));
      } catch (failure) {
        this.#events.trouble?.(wordsOf(failure));
      }
      for (const { told } of batch) told();
    }
  }

  #startAnew(why: string): void {
    if (this.#closed) return;
    const lost = this.#worker;
    // The next window starts another, so that a thread that cannot start does not start for ever.
    this.#worker = undefined;
    void lost?.terminate();
    this.#events.trouble?.(why);
    const job = this.#underWay;
    if (job !== undefined) this.#finish({ waveId: job.waveId, outcome: { kind: 'failed', why } });
  }
}

/** A buffer that nothing else lies in, to be handed over whole. */
function ownBuffer(counts: Uint8Array): Uint8Array<ArrayBuffer> {
  const { buffer, byteLength } = counts;
  if (buffer instanceof ArrayBuffer && buffer.byteLength === byteLength) return new Uint8Array(buffer);
  return Uint8Array.from(counts);
}

function wordsOf(failure: unknown): string {
  return failure instanceof Error ? failure.message : String(failure);
}
