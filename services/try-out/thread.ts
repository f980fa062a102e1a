// A try-out's thread: reads the journal on a connection of its own, says how far it is, answers once and ends.
import { parentPort, workerData } from 'node:worker_threads';
import { openReader } from '../journal/index.ts';
import { answerOf } from './answer.ts';
import type { FromTryOut, TryOutWork } from './protocol.ts';
import { runOver } from './run.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by a try-out, as a worker');
const send = (message: FromTryOut): void => port.postMessage(message);

const PROGRESS_MS = 100;

async function run({ journal: settings, asked }: TryOutWork): Promise<void> {
  const begun = performance.now();
  const journal = await openReader(settings);
  let told = begun;
  const done = await runOver(journal, asked, (share) => {
    const now = performance.now();
    if (now - told < PROGRESS_MS) return;
    told = now;
    send({ kind: 'progress', share });
  });
  await journal.close();
  send({ kind: 'answer', answer: answerOf(asked, done, performance.now() - begun) });
  port?.close();
}

run(workerData as TryOutWork).catch((failure: unknown) => {
  send({ kind: 'failed', message: failure instanceof Error ? failure.message : String(failure) });
  port.close();
});
