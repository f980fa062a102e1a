// The advising's thread: one question after another, and between them, piece by piece, the proof of a first answer.
import { setImmediate as breath } from 'node:timers/promises';
import { parentPort } from 'node:worker_threads';
import type { Advice } from '../../shared/advice.ts';
import { adviseCorrection, proveScrews, type CorrectionQuestion } from '../../shared/correction/index.ts';
import type { FromAdvising, ToAdvising } from './protocol.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openAdvising, as a worker');
const send = (message: FromAdvising): void => port.postMessage(message);

port.on('message', (message: ToAdvising) => {
  switch (message.kind) {
    case 'advise':
      send(answerTo(message.number, message.question));
      return;
    case 'prove':
      void proven(message.question, message.withinMs).then(
        (advice) => send({ kind: 'proven', advice }),
        () => send({ kind: 'proven', advice: undefined }),
      );
  }
});

function answerTo(number: number, question: CorrectionQuestion): FromAdvising {
  try {
    return { kind: 'advice', number, advice: adviseCorrection(question) };
  } catch (failure) {
    return { kind: 'failed', number, why: failure instanceof Error ? failure.message : String(failure) };
  }
}

async function proven(question: CorrectionQuestion, withinMs: number): Promise<Advice | undefined> {
  const begun = performance.now();
  const search = proveScrews(question);
  for (let step = search.next(); ; step = search.next()) {
    if (step.done === true) return step.value;
    if (performance.now() - begun > withinMs) return undefined;
    await breath();
  }
}
