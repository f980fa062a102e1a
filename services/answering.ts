// Answers to benches: what the commit already knows, joined by the advice that a thread of its own makes of it in time.
import type { BalanceAnswer } from '../shared/balance-answer.ts';
import type { AdviceTold, Advising } from './advising/index.ts';
import type { BenchAnswer, Publication } from './holds/index.ts';

/** A bench waits this long for advice; then it is told without, and the advice follows when it comes. */
export const ADVICE_WITHIN_MS = 60;

/** Every answer is told, with advice or with a remark why there is none. */
export async function answerBench(
  advising: Pick<Advising, 'advise'>,
  publish: (publication: Publication) => void,
  asked: BenchAnswer,
): Promise<void> {
  const { question } = asked;
  if (question === undefined) return publish(told(asked, 1, asked.answer));
  const advice = advising.advise(question);
  const inTime = await within(advice, ADVICE_WITHIN_MS);
  if (inTime !== undefined) return publish(told(asked, 1, withAdvice(asked.answer, inTime)));
  publish(told(asked, 1, remarked(asked.answer, `advice takes longer than ${ADVICE_WITHIN_MS} ms: it follows`)));
  publish(told(asked, 2, withAdvice(asked.answer, await advice)));
}

async function within(advice: Promise<AdviceTold>, ms: number): Promise<AdviceTold | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), ms);
  });
  const first = await Promise.race([advice, late]);
  clearTimeout(timer);
  return first;
}

function withAdvice(answer: BalanceAnswer, said: AdviceTold): BalanceAnswer {
  switch (said.kind) {
    case 'advice':
      return { ...answer, advice: said.advice };
    case 'full':
      return remarked(answer, 'no advice now: too many ask for it; the page of the assembly gives it');
    case 'failed':
      return remarked(answer, `no advice: ${said.why}`);
  }
}

const remarked = (answer: BalanceAnswer, remark: string): BalanceAnswer => ({
  ...answer,
  remarks: [...answer.remarks, remark],
});

function told({ topic, envelope }: BenchAnswer, nth: number, data: BalanceAnswer): Publication {
  const id = `${String(envelope['id'])}${nth === 1 ? '' : `-${nth}`}`;
  return { topic, payload: JSON.stringify({ ...envelope, id, data }), retain: false };
}
