// The main thread's end of the trends: asks, and is answered by the thread in its own time.
import { Worker } from 'node:worker_threads';
import type { Position } from '../../shared/entries.ts';
import type { MonthHappened } from '../../shared/month.ts';
import type { RecordPage } from '../../shared/record.ts';
import type { RibbonsView } from '../../shared/ribbons.ts';
import type { SeriesView } from '../../shared/views.ts';
import type { SpectrogramView } from '../../shared/wave-views.ts';
import type { FromTrends, ToTrends, TrendCallName, TrendCalls, TrendsSettings } from './protocol.ts';
import type { MonthAsked, RibbonsAsked, SeriesAsked } from './trends.ts';
import type { RecordAsked } from './record-tables.ts';
import type { SpectrogramAsked, WindowsAsked, WindowsFound } from './window-answers.ts';
import type { FoundWindow } from './window-tables.ts';

export interface TrendsClient {
  series(asked: SeriesAsked): Promise<SeriesView>;
  ribbons(asked: RibbonsAsked): Promise<RibbonsView>;
  month(asked: MonthAsked): Promise<MonthHappened>;
  windows(asked: WindowsAsked): Promise<WindowsFound>;
  window(id: Position): Promise<FoundWindow | undefined>;
  spectrogram(asked: SpectrogramAsked): Promise<SpectrogramView>;
  record(asked: RecordAsked): Promise<RecordPage>;
  /** Resolves when all that the journal has now was read; a question asked then counts it in. */
  catchUp(): Promise<Position>;
  /** How far the journal was read. */
  position(): Promise<Position>;
  close(): Promise<void>;
}

export interface TrendsEvents {
  /** Trends fell behind or their thread ended; nothing else depends on them. */
  trouble?(message: string): void;
}

/** Questions that wait for an answer; more are refused, because each waits for those before it. */
const WAITING_MAX = 1000;
const YOUNG_MIB = 12;

/** Resolves once the thread has opened the journal and its own file; reading the journal goes on behind it. */
export async function openTrends(settings: TrendsSettings, events: TrendsEvents = {}): Promise<TrendsClient> {
  const link = new ThreadLink(settings, events);
  await link.ready;
  return {
    series: (asked) => link.call('series', asked),
    ribbons: (asked) => link.call('ribbons', asked),
    month: (asked) => link.call('month', asked),
    windows: (asked) => link.call('windows', asked),
    window: (id) => link.call('window', id),
    spectrogram: (asked) => link.call('spectrogram', asked),
    record: (asked) => link.call('record', asked),
    catchUp: () => link.call('catchUp'),
    position: () => link.call('position'),
    close: () => link.close(),
  };
}

class ThreadLink {
  readonly ready: Promise<void>;
  readonly #worker: Worker;
  readonly #events: TrendsEvents;
  readonly #answers = new Map<number, { resolve: (value: never) => void; reject: (failure: Error) => void }>();
  #calls = 0;
  #ended: Error | undefined;

  constructor(settings: TrendsSettings, events: TrendsEvents) {
    this.#events = events;
    // A function cannot go over to a thread, and this thread writes nothing that could be full.
    const { onFull: _onFull, ...journal } = settings.journal;
    const workerData = { ...settings, journal };
    this.#worker = new Worker(new URL('./thread.js', import.meta.url), {
      // It has time: little room for young objects costs it little.
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MIB },
      workerData,
    });
    this.ready = new Promise((resolve, reject) => {
      this.#worker.on('message', (message: FromTrends) => {
        if (message.kind === 'ready') resolve();
        else if (message.kind === 'failed') reject(this.#end(new Error(message.message)));
        else this.#take(message);
      });
      this.#worker.on('error', (failure) => {
        reject(this.#end(failure));
      });
      this.#worker.on('exit', (code) => {
        reject(this.#end(new Error(`the trends' thread ended with ${code}`)));
      });
    });
  }

  call<N extends TrendCallName>(name: N, ...args: Parameters<TrendCalls[N]>): Promise<ReturnType<TrendCalls[N]>> {
    if (this.#ended !== undefined) return Promise.reject(this.#ended);
    if (this.#answers.size >= WAITING_MAX) return Promise.reject(new Error('too many questions to the trends'));
    const number = (this.#calls += 1);
    return new Promise((resolve, reject) => {
      this.#answers.set(number, { resolve, reject });
      const message: ToTrends = { number, name, args };
      this.#worker.postMessage(message);
    });
  }

  async close(): Promise<void> {
    if (this.#ended !== undefined) return;
    await this.call('close');
    this.#ended = new Error('the trends are closed');
    await this.#worker.terminate();
  }

  #take(message: Exclude<FromTrends, { kind: 'ready' | 'failed' }>): void {
    switch (message.kind) {
      case 'answer':
        this.#answers.get(message.number)?.resolve(message.value as never);
        this.#answers.delete(message.number);
        return;
      case 'failed-call':
        this.#answers.get(message.number)?.reject(new Error(message.message));
        this.#answers.delete(message.number);
        return;
      case 'trouble':
        this.#events.trouble?.(message.message);
    }
  }

  #end(failure: Error): Error {
    if (this.#ended !== undefined) return this.#ended;
    this.#ended = failure;
    for (const { reject } of this.#answers.values()) reject(failure);
    this.#answers.clear();
    this.#events.trouble?.(failure.message);
    return failure;
  }
}
