// The advising's thread: one question after another.
import { parentPort } from 'node:worker_threads';
import { adviseCorrection } from '../../shared/correction/index.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openAdvising, as a worker');

port.on('message', ({ number, question }: ToAdvising) => port.postMessage(answerTo(number, question)));

function answerTo(number: number, question: ToAdvising['question']): FromAdvising {
  try {
    return { number, advice: adviseCorrection(question) };
  } catch (failure) {
    return { number, failure: failure instanceof Error ? failure.message : String(failure) };
  }
}
