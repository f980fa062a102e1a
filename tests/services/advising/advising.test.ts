// Advice in a thread of its own: bounded, given up where it is stuck, and a first answer proven behind the questions.
import { afterEach, expect, test } from 'vitest';
import type * as advisingPart from '../../../services/advising/index.ts';
import type { Advice } from '../../../shared/advice.ts';
import { adviseCorrection, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import { CorrectionFeature } from '../../../shared/messages/index.ts';

const BUILT = new URL('../../../build/services/advising/index.js', import.meta.url).href;
const { openAdvising } = (await import(BUILT)) as typeof advisingPart;

const open: advisingPart.Advising[] = [];
afterEach(async () => {
  for (const advising of open.splice(0)) await advising.close();
});

function opened(limits: Partial<advisingPart.AdvisingLimits> = {}): advisingPart.Advising {
  const advising = openAdvising(limits);
  open.push(advising);
  return advising;
}

const evenly = (holes: number): number[] => Array.from({ length: holes }, (_, nth) => (nth * 360) / holes);

function question(holes: number, gmm = 9): CorrectionQuestion {
  const feature = CorrectionFeature.parse({
    kind: 'set-screws',
    featureId: 'screws',
    radiusMm: 21,
    holesDeg: evenly(holes),
    stock: [0.11, 0.23, 0.37, 0.52, 0.81, 1.07].map((massG) => ({ massG })),
  });
  const unbalance = { gmm, angleDeg: 33 };
  return {
    planes: [{ name: 'A', unbalance, errorGmm: 0.01, permissibleGmm: 0.02, positionMm: null }],
    wholeErrorGmm: 0.01,
    wholePermissibleGmm: 0.02,
    centreOfMassMm: null,
    features: [feature],
  };
}

const isProven = ({ plans }: Advice): boolean => plans.every(({ search }) => search === 'exact');

test('the same advice as without a thread', async () => {
  const asked = question(8);
  expect(await opened().advise(asked, 'bench')).toMatchObject({ kind: 'advice', advice: adviseCorrection(asked) });
});

test('more questions than there is room for are told so at once, and the others are answered', async () => {
  const advising = opened({ questionsMax: 2 });
  const asked = [1, 2, 3].map((nth) => advising.advise(question(8, 5 + nth), 'bench'));
  expect((await Promise.all(asked)).map(({ kind }) => kind)).toEqual(['advice', 'advice', 'full']);
  expect((await advising.advise(question(8), 'bench')).kind).toBe('advice');
});

test('a page leaves room for benches', async () => {
  const advising = opened({ questionsMax: 2, pageQuestionsMax: 1 });
  const [first, page] = [advising.advise(question(8), 'bench'), advising.advise(question(8), 'page')];
  expect((await page).kind).toBe('full');
  expect((await first).kind).toBe('advice');
  expect((await advising.advise(question(8), 'page')).kind).toBe('advice');
});

test('a question that cannot be answered says why, and the next one is', async () => {
  const advising = opened();
  const told = await advising.advise(question(8, -1), 'bench');
  expect(told.kind === 'failed' ? told.why : told.kind).toMatch(/-1/);
  expect((await advising.advise(question(8), 'bench')).kind).toBe('advice');
});

test('what takes too long is given up, with the thread that is stuck in it', async () => {
  const advising = opened({ stuckMs: 0 });
  expect(await advising.advise(question(8), 'bench')).toMatchObject({ kind: 'failed', why: 'it took too long' });
  expect(await advising.advise(question(8), 'bench')).toMatchObject({ kind: 'failed', why: 'it took too long' });
});

test('a first answer is proven behind the questions, which do not wait for it', async () => {
  const advising = opened();
  const asked = question(14);
  const first = await advising.advise(asked, 'bench');
  if (first.kind !== 'advice') throw new Error(first.kind);
  expect(isProven(first.advice)).toBe(false);
  const proof = advising.prove(asked);
  expect((await advising.advise(question(8), 'bench')).kind).toBe('advice');
  const proven = await proof;
  expect(proven !== undefined && isProven(proven)).toBe(true);
  const least = first.advice.plans[0]?.whole.residualGmm ?? 0;
  expect(proven?.plans[0]?.whole.residualGmm ?? Infinity).toBeLessThanOrEqual(least);
});

test('a proof without room or time is none; closing ends what waits', async () => {
  const advising = opened({ proofsMax: 1, proofMs: 0 });
  const [first, second] = [advising.prove(question(16)), advising.prove(question(16))];
  expect(await second).toBeUndefined();
  expect(await first).toBeUndefined();
  const closing = opened();
  const waiting = closing.advise(question(8), 'bench');
  await closing.close();
  expect((await waiting).kind).toBe('failed');
  expect((await closing.advise(question(8), 'bench')).kind).toBe('full');
});
