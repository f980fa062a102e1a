// The operator of a live run does what the answer on the bench's topic advises, and what is measured then is what that left.
import { expect, test } from 'vitest';
import { BALANCE_ANSWER_TYPE } from '../../shared/balance-answer.ts';
import { adviseCorrection, type PlaneToCorrect } from '../../shared/correction/index.ts';
import type { BalanceResult, Correction } from '../../shared/messages/index.ts';
import { eventsOfJob, type BuildJob } from '../../simulators/bench-jobs.ts';
import { createEnveloper, type TimedMessage } from '../../simulators/envelopes.ts';
import { LiveOperator } from '../../simulators/live-operator.ts';
import { rotating } from '../../simulators/physics.ts';
import { makePlant, type Plant } from '../../simulators/plant.ts';

const START = Date.UTC(2026, 10, 24, 7, 31);

function jobOf(plant: Plant): BuildJob {
  const assembly = plant.assemblies.find(({ scene }) => scene === 'to-correct');
  if (assembly === undefined) throw new Error('no assembly waits for correction');
  return {
    assembly,
    buildId: `${assembly.assemblyId}-S1`,
    at: START,
    change: 'cutter exchanged',
    exceeds: true,
    measuredAfterMin: [1, 9],
  };
}

/** As the service would answer: what the bench read before, and advice for it. */
function answerTo(job: BuildJob, gmm: number): { readonly payload: Buffer; readonly planId: string | undefined } {
  const plane: PlaneToCorrect = {
    name: 'A',
    unbalance: { gmm, angleDeg: 20 },
    errorGmm: 0.3,
    permissibleGmm: 5,
    positionMm: null,
  };
  const advice = adviseCorrection({
    planes: [plane],
    wholeErrorGmm: 0.3,
    wholePermissibleGmm: 5,
    centreOfMassMm: null,
    features: job.assembly.features,
  });
  const data = {
    for: 'run-1',
    position: 9,
    assemblyId: job.assembly.assemblyId,
    buildId: job.buildId,
    stage: 'before-correction',
    planes: [{ name: 'A', residualGmm: gmm, angleDeg: 20 }],
    residualGmm: gmm,
    errorGmm: 0.3,
    verdict: 'exceeds',
    sentence: 'it exceeds',
    remarks: [],
    advice,
    cautions: [],
  };
  return {
    payload: Buffer.from(JSON.stringify({ type: BALANCE_ANSWER_TYPE, data })),
    planId: advice.plans[0]?.planId,
  };
}

function planned(plant: Plant, job: BuildJob): readonly TimedMessage[] {
  const enveloper = createEnveloper(plant.plantId, plant.seed, 'test');
  return eventsOfJob(plant, job).map((event) => enveloper.seal(event, event.time));
}

const dataOf = <T>(messages: readonly TimedMessage[], nth: number): T => messages[nth]?.envelope.data as T;

test('the correction is the advised plan, and the measurement after it shows what it left', () => {
  const plant = makePlant(1);
  const job = jobOf(plant);
  const operator = new LiveOperator(plant);
  const messages = planned(plant, job);
  const { payload, planId } = answerTo(job, 40);
  operator.told(payload);
  const done = messages.map((message) => operator.asDone(message));
  expect(done.map(({ envelope }) => envelope.id)).toEqual(messages.map(({ envelope }) => envelope.id));
  expect(done[1]).toEqual(messages[1]);
  expect(dataOf<Correction>(done, 2)).toMatchObject({ buildId: job.buildId, planId });
  const after = dataOf<BalanceResult>(done, 3);
  expect(after).toMatchObject({ stage: 'after-correction', runId: `${job.buildId}-R2` });
  const [first, turned] = after.readings ?? [];
  const half = (one: number, other: number): number => (one - other) / 2;
  const part = (reading: typeof first, of: 'x' | 'y'): number => {
    const [plane] = reading?.planes ?? [];
    const { x, y } = rotating(plane?.amountGmm ?? 0, plane?.angleDeg ?? 0);
    return of === 'x' ? x : y;
  };
  // Half the difference of both positions, per component (ISO 21940-14): what is left of 40 g·mm.
  expect(Math.hypot(half(part(first, 'x'), part(turned, 'x')), half(part(first, 'y'), part(turned, 'y')))).toBeLessThan(
    6,
  );
});

test('a build of the calendar stays as it was planned, for it may be told again', () => {
  const plant = makePlant(1);
  const job = { ...jobOf(plant), buildId: 'A-0116-B7' };
  const operator = new LiveOperator(plant);
  operator.told(answerTo(job, 40).payload);
  const messages = planned(plant, job);
  expect(messages.map((message) => operator.asDone(message))).toEqual(messages);
});

test('without advice, or with none that suffices, what was planned is told', () => {
  const plant = makePlant(1);
  const job = jobOf(plant);
  const operator = new LiveOperator(plant);
  operator.told(Buffer.from('not JSON'));
  operator.told(Buffer.from(JSON.stringify({ type: 'counterpoise.gate.answer.v1', data: {} })));
  // Far more than its places take.
  operator.told(answerTo(job, 4000).payload);
  const messages = planned(plant, job);
  expect(messages.map((message) => operator.asDone(message))).toEqual(messages);
});
