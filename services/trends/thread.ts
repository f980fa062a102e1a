// The trends' thread: reads the journal on a connection of its own, so that neither sockets nor commits wait for history.
import { parentPort, workerData } from 'node:worker_threads';
import { openReader, type JournalReader } from '../journal/index.ts';
import type { FromTrends, ToTrends, TrendCalls, TrendsSettings } from './protocol.ts';
import { Trends } from './trends.ts';

const FOLLOW_MS = 1000;

type AsyncCalls = { readonly [N in keyof TrendCalls]: (...args: Parameters<TrendCalls[N]>) => Promise<unknown> };

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openTrends, as a worker');
const send = (message: FromTrends): void => port.postMessage(message);

async function run({ journal: settings, file, followMs }: TrendsSettings): Promise<void> {
  // Only the thread that commits has to know when the disk is full.
  const journal = await openReader(settings);
  const trends = await Trends.open(journal, file);
  let timer: NodeJS.Timeout | undefined;
  const follow = async (): Promise<void> => {
    try {
      await trends.catchUp();
    } catch (failure) {
      send({ kind: 'trouble', message: wordsOf(failure) });
    }
    timer = setTimeout(() => void follow(), followMs ?? FOLLOW_MS);
  };
  const calls = callsOf(trends, journal, () => clearTimeout(timer));
  port?.on('message', (message: ToTrends) => void answer(calls, message));
  send({ kind: 'ready' });
  void follow();
}

function callsOf(trends: Trends, journal: JournalReader, stopFollowing: () => void): AsyncCalls {
  return {
    series: async (asked) => trends.series(asked),
    ribbons: (asked) => trends.ribbons(asked),
    month: async (asked) => trends.month(asked),
    windows: (asked) => trends.windows(asked),
    window: (id) => trends.window(id),
    spectrogram: async (asked) => trends.spectrogram(asked),
    record: async (asked) => trends.record(asked),
    catchUp: () => trends.catchUp(),
    position: async () => trends.position,
    close: async () => {
      stopFollowing();
      await trends.close();
      // Whoever was following has set the timer once more.
      stopFollowing();
      await journal.close();
    },
  };
}

async function answer(calls: AsyncCalls, { number, name, args }: ToTrends): Promise<void> {
  try {
    const call = calls[name] as (...given: readonly unknown[]) => Promise<unknown>;
    send({ kind: 'answer', number, value: await call(...args) });
    if (name === 'close') port?.close();
  } catch (failure) {
    send({ kind: 'failed-call', number, message: wordsOf(failure) });
  }
}

function wordsOf(failure: unknown): string {
  return failure instanceof Error ? failure.message : String(failure);
}

run(workerData as TrendsSettings).catch((failure: unknown) => {
  // As a message: an error of another module's own class arrives without its words.
  send({ kind: 'failed', message: wordsOf(failure) });
  port.close();
});
