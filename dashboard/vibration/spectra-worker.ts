// Reckons long windows beside the page, so that it goes on answering to whoever uses it.
import { reckon } from './spectra.ts';
import type { WorkAnswer, WorkAsked } from './spectra-work.ts';

addEventListener('message', (event: MessageEvent<WorkAsked>) => {
  const { number, asked } = event.data;
  let answer: WorkAnswer;
  try {
    answer = { number, answered: reckon(asked) };
  } catch (fault) {
    answer = { number, fault: fault instanceof Error ? fault.message : String(fault) };
  }
  self.postMessage(answer);
});
