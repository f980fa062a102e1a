// Where a reckoning is done: short windows at once in the page, long ones in a worker of their own.
import { retell, say } from '../../shared/language/index.ts';
import { lengthOf, reckon, type Answered, type Asked } from './spectra.ts';

/** Up to this many samples a reckoning takes less than a few frames of the screen; beyond, the page would be felt to stop. */
export const SAMPLES_IN_PAGE_MAX = 131_072;
/** Questions that wait at once. One more is refused: nobody looks at so many pictures. */
const WAITING_MAX = 16;

export interface WorkAsked {
  readonly number: number;
  readonly asked: Asked;
}

export interface WorkAnswer {
  readonly number: number;
  readonly answered?: Answered;
  readonly fault?: string;
}

interface Waiting {
  readonly resolve: (answered: Answered) => void;
  readonly reject: (fault: Error) => void;
}

let worker: Worker | undefined;
let last = 0;
const waiting = new Map<number, Waiting>();

/** Rejects with the reason in words where the reckoning refuses what it was given. */
export async function answerTo<K extends Asked['kind']>(
  asked: Extract<Asked, { kind: K }>,
): Promise<Extract<Answered, { kind: K }>> {
  // A turn of the page first: what was chosen is seen to be chosen before anything is reckoned.
  await Promise.resolve();
  const answered = lengthOf(asked) <= SAMPLES_IN_PAGE_MAX ? reckon(asked) : await inWorker(asked);
  return answered as Extract<Answered, { kind: K }>;
}

function inWorker(asked: Asked): Promise<Answered> {
  if (waiting.size >= WAITING_MAX)
    return Promise.reject(new Error(say`Too many pictures are being reckoned at once; wait for one of them.`));
  worker ??= started();
  last += 1;
  const number = last;
  return new Promise((resolve, reject) => {
    waiting.set(number, { resolve, reject });
    worker?.postMessage({ number, asked } satisfies WorkAsked);
  });
}

/** A worker knows no language but English. */
function retold(answered: Answered): Answered {
  if (answered.kind !== 'analysis') return answered;
  const { analysis } = answered;
  const health = analysis.health.map((finding) => ({ ...finding, words: retell(finding.words) }));
  return { kind: 'analysis', analysis: { ...analysis, health } };
}

function started(): Worker {
  const made = new Worker(new URL('./spectra-worker.ts', import.meta.url), { type: 'module' });
  made.addEventListener('message', (event: MessageEvent<WorkAnswer>) => {
    const { number, answered, fault } = event.data;
    const asker = waiting.get(number);
    waiting.delete(number);
    if (answered === undefined)
      asker?.reject(new Error(fault === undefined ? say`It could not be reckoned.` : retell(fault)));
    else asker?.resolve(retold(answered));
  });
  made.addEventListener('error', () => {
    // Its piece of the program is gone or would not start: whoever waits is told, and the next question starts another.
    made.terminate();
    worker = undefined;
    for (const asker of waiting.values())
      asker.reject(new Error(say`The part that reckons long windows did not start.`));
    waiting.clear();
  });
  return made;
}
