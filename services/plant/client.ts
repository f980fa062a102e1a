// The main thread's end of the plant: collects what arrives, hands it over as a batch, calls back in order of arrival.
import { Worker } from 'node:worker_threads';
import type { Position } from '../../shared/entries.ts';
import type { Delivered } from '../intake/index.ts';
import { packDeliveries } from './packets.ts';
import type { Told } from './plant.ts';
import type { FromPlant, PlantCallName, PlantCalls, PlantSettings, ToPlant } from './protocol.ts';

export interface PlantEvents {
  /** What a commit asks to be told: receipts, retained subjects, answers. */
  told(told: Told): void;
  /** The journal can't be written: nothing more is acknowledged. */
  broken(message: string): void;
}

export type PlantAnswer<N extends PlantCallName> = Promise<ReturnType<PlantCalls[N]>>;

/** A batch is at most this large; more waits for the next commit. */
export const BATCH_DELIVERIES_MAX = 4000;
export const BATCH_BYTES_MAX = 8 * 1024 * 1024;

interface Waiting {
  readonly delivered: Delivered;
  readonly done: (failure?: Error) => void;
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
  #pending: Waiting[] = [];
  #underWay: readonly Waiting[] | undefined;
  #calls = 0;
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
    this.#worker = new Worker(new URL('./thread.js', import.meta.url), { workerData: settings });
    this.#worker.on('message', (message: FromPlant) => this.#take(message));
    this.#worker.on('error', (failure) => this.#break(failure));
    this.#worker.on('exit', (code) => {
      if (code !== 0 && !this.#closing) this.#break(new Error(`the plant's thread ended with ${code}`));
    });
  }

  /** `done` comes after the commit, in order of arrival. */
  admit(delivered: Delivered, done: (failure?: Error) => void): void {
    if (this.#broken !== undefined) return done(this.#broken);
    this.#pending.push({ delivered, done });
    // The rest of this turn's arrivals join the batch; under load the last commit's end sends the next one.
    if (this.#underWay === undefined && this.#pending.length === 1) setImmediate(() => this.#handOver());
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
    return this.#pending.length + (this.#underWay?.length ?? 0);
  }

  async close(): Promise<void> {
    if (this.#broken === undefined) await this.call('close');
    this.#closing = true;
    await this.#worker.terminate();
  }

  #handOver(): void {
    if (this.#underWay !== undefined || this.#pending.length === 0 || this.#broken !== undefined) return;
    const batch = this.#nextBatch();
    this.#underWay = batch;
    const buffer = packDeliveries(batch.map((waiting) => waiting.delivered));
    this.#post({ kind: 'packets', buffer }, [buffer]);
  }

  #nextBatch(): readonly Waiting[] {
    let bytes = 0;
    let count = 0;
    for (const { delivered } of this.#pending) {
      bytes += delivered.payload.length;
      if (count > 0 && (count >= BATCH_DELIVERIES_MAX || bytes > BATCH_BYTES_MAX)) break;
      count += 1;
    }
    const batch = this.#pending;
    this.#pending = count === batch.length ? [] : batch.splice(count);
    return batch;
  }

  #take(message: FromPlant): void {
    switch (message.kind) {
      case 'ready':
        this.#ready({ position: message.position, seconds: message.seconds });
        return;
      case 'admitted': {
        const done = this.#underWay ?? [];
        this.#underWay = undefined;
        // The next commit runs while this one is acknowledged.
        this.#handOver();
        for (const waiting of done) waiting.done();
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
    for (const waiting of [...(this.#underWay ?? []), ...this.#pending]) waiting.done(failure);
    this.#underWay = undefined;
    this.#pending = [];
    this.#events.broken(failure.message);
  }

  #post(message: ToPlant, transfer: readonly ArrayBuffer[] = []): void {
    this.#worker.postMessage(message, transfer);
  }
}
