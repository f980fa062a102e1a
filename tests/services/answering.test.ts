// What a bench is told when: with advice in time, without it when it is late or refused, and once more where it was proven.
import { expect, test } from 'vitest';
import { ADVICE_WITHIN_MS, answerBench } from '../../services/answering.ts';
import type { AdviceTold } from '../../services/advising/index.ts';
import type { BenchAnswer, Publication } from '../../services/holds/index.ts';
import type { Advice } from '../../shared/advice.ts';
import type { BalanceAnswer } from '../../shared/balance-answer.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';

const ANSWER: BalanceAnswer = {
  for: 'run-1',
  position: 7,
  assemblyId: 'A-1',
  buildId: 'B-1',
  stage: 'check',
  planes: [{ name: 'A', residualGmm: 6, angleDeg: 30 }],
  residualGmm: 6,
  errorGmm: 0.1,
  verdict: 'exceeds',
  sentence: 'A-1 exceeds.',
  remarks: [],
  cautions: [],
};
const QUESTION: CorrectionQuestion = {
  planes: [{ name: 'A', unbalance: { gmm: 6, angleDeg: 30 }, errorGmm: 0.1, permissibleGmm: 1, positionMm: null }],
  wholeErrorGmm: 0.1,
  wholePermissibleGmm: 1,
  centreOfMassMm: null,
  features: [],
};
const ASKED: BenchAnswer = { topic: 'back', envelope: { id: 'balance-7' }, answer: ANSWER, question: QUESTION };

const adviceOf = (search: 'exact' | 'first-answer'): Advice => ({
  needed: true,
  sentence: search,
  plans: [
    {
      planId: 'P-1',
      title: 'set screws',
      steps: [],
      predicted: [],
      whole: { plane: 'whole', residualGmm: 0.2, angleDeg: 0, errorGmm: 0.1, verdict: 'within' },
      removedG: 0,
      addedG: 0.2,
      because: 'it leaves least',
      notes: [],
      search,
    },
  ],
  refusals: [],
  limitsOf: [],
  cautions: [],
});

interface Message {
  readonly id: string;
  readonly data: BalanceAnswer;
}

async function answered(
  advise: (told: readonly Publication[]) => Promise<AdviceTold>,
  proven?: Advice,
  asked: BenchAnswer = ASKED,
): Promise<readonly Message[]> {
  const told: Publication[] = [];
  const advising = { advise: () => advise(told), prove: async () => proven };
  await answerBench(advising, (publication) => told.push(publication), asked);
  expect(told.every(({ topic, retain }) => topic === 'back' && !retain)).toBe(true);
  return told.map(({ payload }) => JSON.parse(payload) as Message);
}

test('with its advice, in one message', async () => {
  const messages = await answered(async () => ({ kind: 'advice', advice: adviceOf('exact') }));
  expect(messages).toEqual([{ id: 'balance-7', data: { ...ANSWER, advice: adviceOf('exact') } }]);
});

test('late advice follows in a message of its own', async () => {
  const messages = await answered(async (told) => {
    // Comes once the bench was told without it.
    while (told.length === 0) await new Promise((resolve) => setTimeout(resolve, 1));
    return { kind: 'advice', advice: adviceOf('exact') };
  });
  expect(messages.map(({ id }) => id)).toEqual(['balance-7', 'balance-7-2']);
  expect(messages[0]?.data).toEqual({
    ...ANSWER,
    remarks: [`advice takes longer than ${ADVICE_WITHIN_MS} ms: it follows`],
  });
  expect(messages[1]?.data).toEqual({ ...ANSWER, advice: adviceOf('exact') });
});

test.each<[AdviceTold, string]>([
  [{ kind: 'full' }, 'no advice now: too many ask for it; the page of the assembly gives it'],
  [{ kind: 'failed', why: 'it took too long' }, 'no advice: it took too long'],
])('without advice, and why: %o', async (said, remark) => {
  const messages = await answered(async () => said);
  expect(messages).toEqual([{ id: 'balance-7', data: { ...ANSWER, remarks: [remark] } }]);
});

test('where nothing could be asked, what was evaluated is told', async () => {
  const messages = await answered(async () => ({ kind: 'full' }), undefined, { ...ASKED, question: undefined });
  expect(messages).toEqual([{ id: 'balance-7', data: ANSWER }]);
});

test('a first answer is told once more when it was proven, and only then', async () => {
  const first = async (): Promise<AdviceTold> => ({ kind: 'advice', advice: adviceOf('first-answer') });
  expect((await answered(first, adviceOf('exact'))).map(({ id, data }) => [id, data.advice?.sentence])).toEqual([
    ['balance-7', 'first-answer'],
    ['balance-7-2', 'exact'],
  ]);
  expect(await answered(first, undefined)).toHaveLength(1);
  expect(await answered(first, adviceOf('first-answer'))).toHaveLength(1);
});
