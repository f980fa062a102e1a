// A thread that makes advice: one question after another.
import { parentPort } from 'node:worker_threads';
import type { Advice } from '../../shared/advice.ts';
import { adviseCorrection, proveScrews, type CorrectionQuestion } from '../../shared/correction/index.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openAdvising, as a worker');

port.on('message', (message: ToAdvising) => port.postMessage(answerTo(message)));

function answerTo({ number, question, prove }: ToAdvising): FromAdvising {
  try {
    return { kind: 'advice', number, advice: prove ? proven(question) : adviseCorrection(question) };
  } catch (failure) {
    return { kind: 'failed', number, why: failure instanceof Error ? failure.message : String(failure) };
  }
}

function proven(question: CorrectionQuestion): Advice {
  const search = proveScrews(question);
  for (let step = search.next(); ; step = search.next()) if (step.done === true) return step.value;
}
