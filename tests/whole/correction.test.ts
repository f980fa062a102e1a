// From raw readings to a correction that works: over MQTT, answered with advice, measured again, and the hold goes.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { AssemblyView } from '../../shared/assembly-views.ts';
import { sumUnbalance, turnUnbalance, type UnbalanceVector } from '../../shared/balance/index.ts';
import { BALANCE_ANSWER_TYPE, BalanceAnswer } from '../../shared/balance-answer.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import type { Problem } from '../../shared/problem.ts';
import { ReferenceView } from '../../shared/reference-view.ts';
import { BenchView, ToolRoomView } from '../../shared/tool-room.ts';
import { backTopic } from '../../shared/topics.ts';
import { waitFor } from '../environment/wait-for.ts';
import { Person } from './person.ts';
import { BUILD, SPINDLES } from './plant.ts';
import { PLANT, sealed, startStand, type Stand, type StandClient } from './stand.ts';

let stand: Stand;
let bench: StandClient;
let machine: StandClient;
let tess: Person;
let eva: Person;

const FEATURES = [
  {
    kind: 'radial-holes',
    featureId: 'collar',
    radiusMm: 31,
    densityGCm3: 7.85,
    depthMaxMm: 8,
    diametersMm: [4, 5],
    keepClear: [{ fromDeg: 350, toDeg: 10, why: 'drive slot' }],
    source: "holder maker's sheet (invented)",
  },
];

/** 6 g·mm at 30°, 1.2 kg at 18,000 rpm in G 2.5: 1.59 g·mm are permissible (ISO 21940-11). */
const UNBALANCE: UnbalanceVector = { gmm: 6, angleDeg: 30 };
/** Bench spindle and adapter. */
const OWN_PART: UnbalanceVector = { gmm: 3, angleDeg: 200 };

/** What a bench reads with the assembly at 0° and turned by 180°, in its own frame (ISO 21940-14). */
function readings(unbalance: UnbalanceVector) {
  return [0, 180].map((indexDeg) => {
    const { gmm, angleDeg } = sumUnbalance([turnUnbalance(unbalance, indexDeg), OWN_PART]);
    return { indexDeg, planes: [{ amountGmm: gmm, angleDeg }] };
  });
}

const raw = (unbalance: UnbalanceVector, more: object = {}): Record<string, unknown> => ({
  assemblyId: 'A-1',
  buildId: 'B-1',
  measuredAtRpm: 1100,
  readings: readings(unbalance),
  error: { smallestAchievableGmm: 0.1 },
  ...more,
});

interface Told {
  readonly id: string;
  readonly type: string;
  readonly data: unknown;
}

const answers = (device: string, to: StandClient): readonly Told[] =>
  to.messages
    .filter(({ topic }) => topic === backTopic(PLANT, device, 'answer'))
    .map(({ payload }) => JSON.parse(payload) as Told);

/** With its advice: on a busy machine the first message may have to go without. */
async function measured(message: string): Promise<BalanceAnswer> {
  const before = answers('bench-1', bench).length;
  const { id } = JSON.parse(message) as { readonly id: string };
  await bench.publish('result', message);
  return waitFor('an answer to the result', () => {
    const told = answers('bench-1', bench).slice(before);
    expect(told.every(({ type }) => type === BALANCE_ANSWER_TYPE)).toBe(true);
    return told
      .map(({ data }) => BalanceAnswer.parse(data))
      .find((answer) => answer.for === id && answer.advice !== undefined);
  });
}

async function atTheGate(): Promise<GateAnswer> {
  const before = answers('machine-1', machine).length;
  const question = { assemblyId: 'A-1', spindleId: 'S-1', speedRpm: 18_000 };
  await machine.publish('query', sealed('machine-1', 'query', question));
  const told = await waitFor('an answer at the gate', () => answers('machine-1', machine)[before]);
  return told.data as GateAnswer;
}

const assembly = async (who: Person): Promise<AssemblyView> =>
  AssemblyView.parse((await who.get('/api/assemblies/A-1')).body);
const toolRoom = async (who: Person): Promise<ToolRoomView> =>
  ToolRoomView.parse((await who.get('/api/tool-room')).body);

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'machine-1', kind: 'machine', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  bench = await stand.device('bench-1');
  machine = await stand.device('machine-1');
  const admin = await Person.join(() => stand.url, 'ada', stand.firstToken());
  tess = await admin.invite('tess', 'tool-room');
  eva = await admin.invite('eva', 'engineer');
}, 90_000);
afterAll(async () => {
  await bench?.stop();
  await machine?.stop();
  await stand?.stop();
});

test('raw readings, advice, correction, measure first, after-measurement within, and the hold goes', async () => {
  await bench.send('build', sealed('bench-1', 'build', { ...BUILD, features: FEATURES }));
  const message = sealed('bench-1', 'result', raw(UNBALANCE, { runId: 'R-1', stage: 'before-correction' }));
  const exceeding = await measured(message);
  expect(exceeding).toMatchObject({ assemblyId: 'A-1', runId: 'R-1', verdict: 'exceeds', remarks: [] });
  expect(exceeding.planes[0]?.residualGmm).toBeCloseTo(6, 9);
  expect(exceeding.planes[0]?.benchGmm).toBeCloseTo(3, 9);
  expect(exceeding.sentence).toMatch(/^A-1 exceeds: 3\.8 times what is permissible; 6 g·mm, measuring error/);
  const advice = exceeding.advice;
  expect(advice).toMatchObject({ needed: true, refusals: [] });
  expect(advice?.limitsOf).toEqual([{ featureId: 'collar', source: "holder maker's sheet (invented)" }]);
  expect(advice?.cautions.join(' ')).toMatch(/holder maker/);
  expect((await atTheGate()).word).toBe('HOLD BACK');

  const again = await measured(message);
  expect(again).toEqual(exceeding);

  const [plan] = advice?.plans ?? [];
  const steps = plan?.steps.map(({ featureId, angleDeg, diameterMm, depthMm }) => ({
    featureId,
    angleDeg,
    diameterMm,
    depthMm,
  }));
  const done = { assemblyId: 'A-1', buildId: 'B-1', planId: plan?.planId, steps, by: 'the test' };
  await bench.send('correction', sealed('bench-1', 'correction', done));
  const waiting = await atTheGate();
  expect(waiting).toMatchObject({ word: 'MEASURE FIRST', reason: 'not-measured-since-build' });
  expect(waiting.why).toMatch(/was corrected and not measured since/);
  expect((await toolRoom(tess)).work).toMatchObject([{ assemblyId: 'A-1', kind: 'measure', onHold: true }]);

  const left = sumUnbalance([UNBALANCE, ...(plan?.steps ?? []).map(({ effect }) => effect)]);
  const within = await measured(sealed('bench-1', 'result', raw(left, { stage: 'after-correction' })));
  expect(within).toMatchObject({ verdict: 'within', remarks: [], advice: { needed: false } });
  await eva.hold('the hold to go', ({ subject, open }) => subject.id === 'A-1' && !open);
  expect((await atTheGate()).word).toBe('NO OBJECTION');

  const { corrections, measurements, features } = await assembly(tess);
  expect(features.map(({ featureId }) => featureId)).toEqual(['collar']);
  expect(measurements).toHaveLength(2);
  const [correction] = corrections;
  expect(correction).toMatchObject({ by: 'the test', bench: 'bench-1', before: measurements[1]?.position });
  const [plane] = correction?.planes ?? [];
  expect(plane?.achievedGmm).toBeCloseTo(plane?.predictedGmm ?? Number.NaN, 6);
  const { achieved } = await toolRoom(tess);
  expect(achieved).toMatchObject([{ bench: 'bench-1', method: 'radial-holes', corrections: 1 }]);
  expect(achieved[0]?.amountRatio).toBeCloseTo(1, 6);
});

test('angles turned full circles, no screws at hand: kept, remarked, and told what would be needed', async () => {
  const screws = { kind: 'set-screws', featureId: 'screws', radiusMm: 20, holesDeg: [0, 90, 180, 270], stock: [] };
  const build = { ...BUILD, assemblyId: 'A-2', buildId: 'B-2', features: [screws] };
  await bench.send('build', sealed('bench-1', 'build', build));
  const planes = [{ name: 'A', residualGmm: 6, angleDeg: 750 }];
  const told = { ...raw(UNBALANCE), assemblyId: 'A-2', buildId: 'B-2', readings: undefined, planes };
  const answer = await measured(sealed('bench-1', 'result', told));
  expect(answer.planes[0]?.angleDeg).toBeCloseTo(30, 9);
  expect(answer.remarks).toEqual(['angles outside 0° to 360° were brought into it: 750°']);
  expect(answer.advice?.plans).toEqual([]);
  const [refusal] = answer.advice?.refusals ?? [];
  expect(refusal?.featureIds).toEqual(['screws']);
  expect(`${refusal?.why}${refusal?.wouldNeed}`).toMatch(/screw/);
});

test('a person records a correction under a right of their own; advice over HTTP is the same', async () => {
  const asked = await tess.get<{ needed: boolean }>('/api/assemblies/A-1/advice');
  expect(asked).toMatchObject({ status: 200, body: { needed: false } });
  const [after, before] = (await assembly(tess)).measurements;
  const earlier = await tess.get(`/api/assemblies/A-1/advice?position=${before?.position ?? 0}`);
  expect(earlier).toMatchObject({ status: 200, body: { needed: true } });
  expect((await tess.get('/api/assemblies/A-9/advice')).status).toBe(404);

  const body = { buildId: 'B-1', steps: [{ featureId: 'collar', angleDeg: 90, diameterMm: 4, depthMm: 1 }] };
  const done = await tess.post<AssemblyView>('/api/assemblies/A-1/corrections', body);
  expect(done).toMatchObject({ status: 200, body: { row: { standing: 'watch' } } });
  expect(done.body.corrections[0]).toMatchObject({ by: 'tess', before: after?.position });
  expect((await tess.get('/api/assemblies/A-1/advice')).status).toBe(404);
  const wrong = await tess.post<Problem>('/api/assemblies/A-1/corrections', { buildId: 'B-1', steps: [] });
  expect(wrong).toMatchObject({ status: 400, body: { errors: [{ pointer: '/steps' }] } });
  const unknown = await tess.post<Problem>('/api/assemblies/A-1/corrections', { ...body, buildId: 'B-9' });
  expect(unknown).toMatchObject({ status: 400, body: { errors: [{ pointer: '/buildId', got: 'B-9' }] } });

  const position = done.body.corrections[0]?.position ?? 0;
  const mended = await tess.post<AssemblyView>('/api/assemblies/A-1/corrections', { ...body, insteadOf: position });
  expect(mended.body.corrections[0]).toMatchObject({ insteadOf: position, before: after?.position });
  expect(mended.body.corrections[1]).toMatchObject({ position, replacedBy: mended.body.corrections[0]?.position });
  const again = await tess.post<Problem>('/api/assemblies/A-1/corrections', { ...body, insteadOf: position });
  expect(again).toMatchObject({ status: 400, body: { errors: [{ pointer: '/insteadOf', got: String(position) }] } });
  await measured(sealed('bench-1', 'result', raw({ gmm: 0.4, angleDeg: 10 })));
});

const proof = (residualGmm: number, angleDeg: number) => ({
  rotorSerial: 'P-1 (invented)',
  planes: [{ name: 'A', residualGmm, angleDeg }],
  expected: [{ name: 'A', residualGmm: 50, angleDeg: 0 }],
  toleranceGmm: 2,
});

test('a proving rotor at the right amount and the wrong angle puts the bench in doubt, until a person lifts it', async () => {
  await bench.send('proof', sealed('bench-1', 'proof', proof(50.4, 359)));
  await measured(sealed('bench-1', 'result', raw({ gmm: 0.4, angleDeg: 10 })));
  expect((await toolRoom(tess)).benches).toMatchObject([{ bench: 'bench-1', trust: 'shown' }]);
  await bench.send('proof', sealed('bench-1', 'proof', proof(50, 12)));
  const [inDoubt] = (await toolRoom(tess)).benches;
  expect(inDoubt).toMatchObject({ trust: 'in-doubt', touched: { assemblies: ['A-1'], spindles: [] } });
  expect(await atTheGate()).toMatchObject({ word: 'MEASURE FIRST', reason: 'measurement-in-doubt' });
  const doubted = await measured(sealed('bench-1', 'result', raw({ gmm: 0.4, angleDeg: 10 })));
  expect(doubted.remarks.join(' ')).toMatch(/in doubt/);

  const denied = await tess.post('/api/benches/bench-1/doubt-lifted', { note: 'the rotor was dirty' });
  expect(denied.status).toBe(403);
  const lifted = await eva.post('/api/benches/bench-1/doubt-lifted', { note: 'the rotor was dirty' });
  expect(BenchView.parse(lifted.body)).toMatchObject({ trust: 'shown', touched: { assemblies: [] } });
  expect((await eva.post('/api/benches/bench-1/doubt-lifted', { note: 'again' })).status).toBe(409);
  expect((await atTheGate()).word).toBe('NO OBJECTION');
});

test("the plant's own reference rows come first, declared by an engineer", async () => {
  const row = { interfaceKind: 'HSK-A63', lowUm: 1, highUm: 1.5, source: 'our own trials (invented)' };
  expect((await tess.put('/api/reference', { interfaces: [row] })).status).toBe(403);
  const upsideDown = await eva.put('/api/reference', { interfaces: [{ ...row, lowUm: 9 }] });
  expect(upsideDown.status).toBe(400);
  const declared = await eva.put('/api/reference', { interfaces: [row] });
  const view = ReferenceView.parse(declared.body);
  expect(view.interfaces[0]).toEqual({ ...row, own: true });
  expect(view.interfaces.some(({ own }) => !own)).toBe(true);
  expect(view.declaredBy).toBe('eva');
  expect(ReferenceView.parse((await tess.get('/api/reference')).body)).toEqual(view);
});
