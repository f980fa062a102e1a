// The main thread's end of the plant: collects what arrives, hands it over as a batch, calls back in order of arrival.
import { Worker } from 'node:worker_threads';
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { WaitingForRoom } from '../journal/index.ts';
import { Packer, TopicNumbers, type Arriving } from './packets.ts';
import type { Told } from './plant.ts';
import type { FromPlant, PlantCallName, PlantCalls, PlantSettings, ToPlant } from './protocol.ts';

export interface PlantEvents {
  /** What a commit asks to be told: receipts, retained subjects, answers. */
  told(told: Told): void;
  /** The disk is full: a commit waits for room and is tried again after so long. With nothing: there is room again. */
  full(waiting: WaitingForRoom | undefined): void;
  /** The journal can't be written: nothing more is acknowledged. */
  broken(message: string): void;
}

export type PlantAnswer<N extends PlantCallName> = Promise<ReturnType<PlantCalls[N]>>;

/**
 * A batch is at most this large; more waits for the next commit. Small enough that under full load one batch is
 * acknowledged and read again while the next is stored; large enough that the disk is seldom asked.
 */
export const BATCH_DELIVERIES_MAX = 500;
export const BATCH_BYTES_MAX = 8 * 1024 * 1024;

/** Buffers that came back from the plant's thread and are filled again, and the largest that is kept for that. */
const SPARE_BUFFERS_MAX = 4;
const SPARE_BYTES_MAX = 1024 * 1024;

/** Room for young objects in the plant's thread. More is filled with what nobody needs any more before it is cleared. */
const YOUNG_MIB = 12;

type Done = (failure?: Error) => void;

/** Packed at once: while it waits, only who is to be called back is remembered of each message. */
interface Batch {
  readonly packer: Packer;
  readonly done: Done[];
}

export interface PlantStarted {
  readonly position: Position;
  readonly seconds: number;
}

export class PlantClient {
  readonly #worker: Worker;
  readonly #events: PlantEvents;
  readonly #answers = new Map<number, { resolve: (value: never) => void; reject: (failure: Error) => void }>();
  readonly #watchers = new Set<(json: string) => void>();
  /** Oldest first; the last one is being filled. */
  readonly #pending: Batch[] = [];
  #underWay: readonly Done[] | undefined;
  readonly #topics = new TopicNumbers();
  readonly #spare: ArrayBuffer[] = [];
  #calls = 0;
  #batches = 0;
  #deliveries = 0;
  #broken: Error | undefined;
  #closing = false;
  #ready: (started: PlantStarted) => void = () => undefined;
  #failed: (failure: Error) => void = () => undefined;
  readonly started: Promise<PlantStarted>;

  constructor(settings: PlantSettings, events: PlantEvents) {
    this.#events = events;
    this.started = new Promise((resolve, reject) => {
      this.#ready = resolve;
      this.#failed = reject;
    });
    this.#worker = new Worker(new URL('./thread.js', import.meta.url), {
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MIB },
      workerData: settings,
    });
    this.#worker.on('message', (message: FromPlant) => this.#take(message));
    this.#worker.on('error', (failure) => this.#break(failure));
    this.#worker.on('exit', (code) => {
      if (code !== 0 && !this.#closing) this.#break(new Error(`the plant's thread ended with ${code}`));
    });
  }

  /** `done` comes after the commit, in order of arrival. The payload is copied before this returns. */
  admit(arriving: Arriving, at: Instant, done: Done): void {
    if (this.#broken !== undefined) return done(this.#broken);
    const batch = this.#batchWithRoom(arriving.payload.length);
    batch.packer.add(arriving, at);
    batch.done.push(done);
    // The rest of this turn's arrivals join the batch; under load the last commit's end sends the next one.
    if (this.#underWay === undefined && this.#pending.length === 1 && batch.done.length === 1) {
      setImmediate(() => this.#handOver());
    }
  }

  call<N extends PlantCallName>(name: N, ...args: Parameters<PlantCalls[N]>): PlantAnswer<N> {
    if (this.#broken !== undefined) return Promise.reject(this.#broken);
    const number = (this.#calls += 1);
    return new Promise((resolve, reject) => {
      this.#answers.set(number, { resolve, reject });
      this.#post({ kind: 'call', number, name, args });
    });
  }

  /** Prepared JSON text of each change frame, the same for all. */
  subscribe(onFrame: (json: string) => void): () => void {
    this.#watchers.add(onFrame);
    if (this.#watchers.size === 1) void this.call('watched', true).catch(() => undefined);
    return () => {
      this.#watchers.delete(onFrame);
      if (this.#watchers.size === 0) void this.call('watched', false).catch(() => undefined);
    };
  }

  get waiting(): number {
    return this.#pending.reduce((sum, { done }) => sum + done.length, this.#underWay?.length ?? 0);
  }

  /** Since the start: commits, and the messages in them. */
  get counts(): { readonly batches: number; readonly deliveries: number } {
    return { batches: this.#batches, deliveries: this.#deliveries };
  }

  async close(): Promise<void> {
    if (this.#broken === undefined) await this.call('close');
    this.#closing = true;
    await this.#worker.terminate();
  }

  #handOver(): void {
    if (this.#underWay !== undefined || this.#broken !== undefined) return;
    const batch = this.#pending.shift();
    if (batch === undefined) return;
    this.#underWay = batch.done;
    const { buffer, length } = batch.packer;
    this.#post({ kind: 'packets', buffer, length }, [buffer]);
  }

  #batchWithRoom(bytes: number): Batch {
    const last = this.#pending.at(-1);
    if (
      last !== undefined &&
      last.done.length < BATCH_DELIVERIES_MAX &&
      last.packer.length + bytes <= BATCH_BYTES_MAX
    ) {
      return last;
    }
    const batch = { packer: new Packer(this.#topics, this.#spare.pop()), done: [] };
    this.#pending.push(batch);
    return batch;
  }

  #take(message: FromPlant): void {
    switch (message.kind) {
      case 'ready':
        this.#ready({ position: message.position, seconds: message.seconds });
        return;
      case 'admitted': {
        const done = this.#underWay ?? [];
        this.#batches += 1;
        this.#deliveries += done.length;
        this.#underWay = undefined;
        if (this.#spare.length < SPARE_BUFFERS_MAX && message.buffer.byteLength <= SPARE_BYTES_MAX) {
          this.#spare.push(message.buffer);
        }
        // The next commit runs while this one is acknowledged.
        this.#handOver();
        for (const acknowledge of done) acknowledge();
        this.#events.told(message.told);
        return;
      }
      case 'answer':
        this.#answers.get(message.number)?.resolve(message.value as never);
        this.#answers.delete(message.number);
        return;
      case 'failed-call':
        this.#answers.get(message.number)?.reject(new Error(message.message));
        this.#answers.delete(message.number);
        return;
      case 'frame':
        for (const watcher of this.#watchers) watcher(message.json);
        return;
      case 'full':
        this.#events.full(message.waiting);
        return;
      case 'broken':
        this.#break(new Error(message.message));
    }
  }

  #break(failure: Error): void {
    if (this.#broken !== undefined) return;
    this.#broken = failure;
    this.#failed(failure);
    for (const { reject } of this.#answers.values()) reject(failure);
    this.#answers.clear();
    // Nobody is acknowledged: what was under way may or may not be stored, and will come again.
    const waiting = [...(this.#underWay ?? []), ...this.#pending.flatMap(({ done }) => done)];
    this.#underWay = undefined;
    this.#pending.length = 0;
    for (const done of waiting) done(failure);
    this.#events.broken(failure.message);
  }

  #post(message: ToPlant, transfer: readonly ArrayBuffer[] = []): void {
    this.#worker.postMessage(message, transfer);
  }
}
