// Answers to benches: what the commit already knows, joined by the advice that a thread of its own makes of it in time.
import { isDeepStrictEqual } from 'node:util';
import type { BalanceAnswer } from '../shared/balance-answer.ts';
import type { CorrectionQuestion } from '../shared/correction/index.ts';
import type { AdviceTold, Advising } from './advising/index.ts';
import type { BenchAnswer, Publication } from './holds/index.ts';

/** A bench waits this long for advice; then it is told without, and the advice follows when it comes. */
export const ADVICE_WITHIN_MS = 80;

/** Every answer is told, with advice or with a remark why there is none. */
export async function answerBench(
  advising: Pick<Advising, 'advise' | 'prove'>,
  publish: (publication: Publication) => void,
  asked: BenchAnswer,
): Promise<void> {
  const { question } = asked;
  if (question === undefined) return publish(told(asked, 1, asked.answer));
  const advice = advising.advise(question, 'bench');
  const inTime = await within(advice, ADVICE_WITHIN_MS);
  if (inTime !== undefined) {
    publish(told(asked, 1, withAdvice(asked.answer, inTime)));
    return proveFirstAnswer(advising, publish, { asked, question, said: inTime, nth: 2 });
  }
  publish(told(asked, 1, remarked(asked.answer, `advice takes longer than ${ADVICE_WITHIN_MS} ms: it follows`)));
  const said = await advice;
  publish(told(asked, 2, withAdvice(asked.answer, said)));
  return proveFirstAnswer(advising, publish, { asked, question, said, nth: 3 });
}

interface Said {
  readonly asked: BenchAnswer;
  readonly question: CorrectionQuestion;
  readonly said: AdviceTold;
  /** Which message of the answer comes next. */
  readonly nth: number;
}

/** A search that had to stop at its first answer goes on in the background; told once more where that says something. */
async function proveFirstAnswer(
  advising: Pick<Advising, 'prove'>,
  publish: (publication: Publication) => void,
  { asked, question, said, nth }: Said,
): Promise<void> {
  if (said.kind !== 'advice' || said.advice.plans.every(({ search }) => search === 'exact')) return;
  const advice = await advising.prove(question);
  if (advice === undefined || isDeepStrictEqual(advice, said.advice)) return;
  publish(told(asked, nth, withAdvice(asked.answer, { kind: 'advice', advice })));
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
