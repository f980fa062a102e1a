// The thread that analyses: one window after another, giving way to the threads that acknowledge.
import { getPriority, setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { analysedWindow } from './analysed-window.ts';
import { THREAD_NICENESS } from './limits.ts';
import type { FromAnalysis, ToAnalysis } from './protocol.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openAnalysis, as a worker');

/** setpriority(2) knows no more. */
const NICEST = 19;

giveWay();
port.on('message', ({ job }: ToAnalysis) => {
  const done = analysedWindow(job);
  const { packed } = done;
  const buffer = packed?.buffer;
  const transfer = buffer instanceof ArrayBuffer && buffer.byteLength === packed?.byteLength ? [buffer] : [];
  port.postMessage({ done } satisfies FromAnalysis, transfer);
});

/** Linux keeps the niceness of each thread (setpriority(2)); elsewhere it would be that of the whole process. */
function giveWay(): void {
  if (process.platform !== 'linux') return;
  try {
    setPriority(0, Math.min(NICEST, getPriority(0) + THREAD_NICENESS));
  } catch {
    // Where it is not permitted it analyses all the same.
  }
}
