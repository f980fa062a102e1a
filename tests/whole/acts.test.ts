// What people do about holds, from HTTP to the rules and back: who may, what is refused and in which words.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Problem } from '../../shared/problem.ts';
import type { HoldActName } from '../../shared/rights.ts';
import { rfc3339Of } from '../../shared/time.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import type { HoldView, SpindleView } from '../../shared/views.ts';
import { Person, type Answer } from './person.ts';
import { BUILD, result, SPINDLES } from './plant.ts';
import { sealed, startStand, type Stand, type StandClient } from './stand.ts';

let stand: Stand;
let bench: StandClient;
let sensor: StandClient;
/** Who looks, who looks after spindles, who answers for exceptions. */
let vera: Person;
let max: Person;
let eva: Person;

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'sensor-1', kind: 'sensor', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  bench = await stand.device('bench-1');
  sensor = await stand.device('sensor-1');
  const admin = await Person.join(() => stand.url, 'ada', stand.firstToken());
  vera = await admin.invite('vera', 'viewer');
  max = await admin.invite('max', 'maintenance');
  eva = await admin.invite('eva', 'engineer');
}, 90_000);
afterAll(async () => {
  await bench?.stop();
  await sensor?.stop();
  await stand?.stop();
});

async function heldAssembly(assemblyId: string): Promise<HoldView> {
  const buildId = `B-${assemblyId}`;
  await bench.send('build', sealed('bench-1', 'build', { ...BUILD, assemblyId, buildId }));
  await bench.send('result', sealed('bench-1', 'result', result(6, { assemblyId, buildId })));
  return vera.hold(`a hold on ${assemblyId}`, ({ subject }) => subject.id === assemblyId);
}

function act(who: Person, { holdId }: HoldView, name: HoldActName, note?: string): Promise<Answer<HoldView & Problem>> {
  return who.post(`/api/holds/${holdId}/acts`, { act: name, ...(note === undefined ? {} : { note }) });
}

test('taken and checked by who may, each on record with name and words', async () => {
  const hold = await heldAssembly('A-10');
  const denied = await act(vera, hold, 'take');
  expect(denied).toMatchObject({ status: 403, body: {} });
  expect(JSON.stringify(denied.body)).toMatch(/maintenance/);
  const taken = await act(max, hold, 'take');
  expect(taken).toMatchObject({ status: 200, body: { state: 'taken', takenBy: 'max' } });
  const checked = await act(max, hold, 'check', 'a chip under the seat');
  expect(checked.body.state).toBe('checked');
  expect(checked.body.steps.map(({ state, by, note }) => [state, by, note])).toEqual([
    ['raised', 'bench-1', undefined],
    ['taken', 'max', undefined],
    ['checked', 'max', 'a chip under the seat'],
  ]);
});

test('a finding without words is nothing', async () => {
  const hold = await heldAssembly('A-11');
  const silent = await act(max, hold, 'check');
  expect(silent).toMatchObject({ status: 400, body: { errors: [{ pointer: '/note' }] } });
  expect((await vera.holds()).find(({ holdId }) => holdId === hold.holdId)?.state).toBe('raised');
});

test('nobody releases what has not been measured; the refusal says what would', async () => {
  const hold = await heldAssembly('A-12');
  const refused = await act(max, hold, 'release', 'it looks fine');
  expect(refused).toMatchObject({ status: 409, body: { type: 'urn:counterpoise:problem:not-accepted' } });
  expect(refused.body.detail).toMatch(/^none of its conditions has come about/);
  await bench.send(
    'result',
    sealed('bench-1', 'result', result(0.4, { assemblyId: 'A-12', buildId: 'B-A-12', stage: 'after-correction' })),
  );
  const released = await vera.hold(
    'the release',
    ({ holdId, state }) => holdId === hold.holdId && state === 'released',
  );
  expect(released.steps.at(-1)).toMatchObject({ by: 'bench-1' });
  const late = await act(max, hold, 'take');
  expect(late).toMatchObject({ status: 409, body: { detail: 'the hold has ended already: released' } });
});

test('a deviation is an engineer’s, with a reason and a second name, and stands as one', async () => {
  const hold = await heldAssembly('A-13');
  expect((await act(max, hold, 'deviate', 'one more part')).status).toBe(403);
  expect((await act(eva, hold, 'deviate')).status).toBe(400);
  const deviated = await act(eva, hold, 'deviate', 'last part of the lot, roughing only');
  expect(deviated).toMatchObject({ status: 200, body: { state: 'taken', secondName: { askedBy: 'eva' } } });
  const alone = await act(eva, hold, 'confirm');
  expect(alone).toMatchObject({ status: 409, body: { detail: 'another person than eva confirms it' } });
  const confirmed = await act(max, hold, 'confirm');
  expect(confirmed).toMatchObject({ status: 200, body: { state: 'released' } });
  expect(confirmed.body.steps.at(-1)).toMatchObject({
    by: 'max',
    askedBy: 'eva',
    deviation: true,
    note: 'last part of the lot, roughing only',
  });
});

test('raised in error: void, with the reason', async () => {
  const hold = await heldAssembly('A-14');
  const voided = await act(eva, hold, 'void', 'a test piece was on the bench');
  expect(voided).toMatchObject({ status: 200, body: { state: 'void' } });
});

test('where the plant declares that one name is enough, one is; who declares it and why is on record', async () => {
  const { levels, deviationNames } = (await vera.get<AnsweringView>('/api/answering')).body;
  expect([levels.length, deviationNames]).toEqual([2, 2]);
  expect((await max.put('/api/answering', { levels, deviationNames: 1, note: 'night shift' })).status).toBe(403);
  const backwards = await eva.put<Problem>('/api/answering', { levels: levels.toReversed(), note: 'wrong way round' });
  expect(backwards).toMatchObject({ status: 400, body: { errors: [{ pointer: '/levels' }] } });
  const declared = await eva.put('/api/answering', { levels, deviationNames: 1, note: 'one person at night' });
  expect(declared).toMatchObject({
    status: 200,
    body: { deviationNames: 1, declaredBy: 'eva', note: 'one person at night' },
  });
  const hold = await heldAssembly('A-15');
  expect(await act(eva, hold, 'deviate', 'roughing only')).toMatchObject({ status: 200, body: { state: 'released' } });
  await eva.put('/api/answering', { levels, note: 'two again' });
});

test('work on a spindle is declared by maintenance, bounded, and shown until it is over', async () => {
  const hour = (hours: number) => rfc3339Of(Date.now() + hours * 3_600_000);
  const work = { workId: 'W-1', from: hour(1), until: hour(3), note: 'drawbar force' };
  expect((await vera.post('/api/spindles/S-2/work', work)).status).toBe(403);
  expect((await max.post('/api/spindles/S-9/work', work)).status).toBe(404);
  const long = await max.post<Problem>('/api/spindles/S-2/work', { ...work, until: hour(200) });
  expect(long).toMatchObject({ status: 400, body: { errors: [{ pointer: '/until' }] } });
  const past = await max.post<Problem>('/api/spindles/S-2/work', { ...work, from: hour(-4), until: hour(-2) });
  expect(past).toMatchObject({ status: 409, body: { detail: expect.stringContaining('lies in the past') as unknown } });
  const planned = await max.post<SpindleView>('/api/spindles/S-2/work', work);
  expect(planned.body.work).toMatchObject([{ workId: 'W-1', by: 'max', now: false, note: 'drawbar force' }]);
  const off = await max.post<SpindleView>('/api/spindles/S-2/work', { ...work, calledOff: true });
  expect(off.body.work).toBeUndefined();
});

test('a spindle over its limit is released by maintenance, by name, and waits for the run that verifies it', async () => {
  // Its clock is seen to be right first; then it empties its spool.
  await sensor.send('state', sealed('sensor-1', 'state', { online: true }));
  const now = Date.now();
  for (let nth = 0; nth < 8; nth += 1) {
    const time = rfc3339Of(now - (8 - nth) * 15_000);
    const more = { time, bootid: 'b', sequence: String(nth + 1) };
    await sensor.publish('summary', sealed('sensor-1', 'summary', { speedRpm: 12_000, overallMmS: 4.1 }, more));
  }
  const hold = await vera.hold('a hold on S-1', ({ subject }) => subject.id === 'S-1');
  expect(hold.reason).toBe('overall-over-limit');
  expect((await act(vera, hold, 'release', 'bearing preload set')).status).toBe(403);
  const released = await act(max, hold, 'release', 'bearing preload set, run in for ten minutes');
  expect(released).toMatchObject({ status: 200, body: { state: 'checked', open: true } });
  expect(released.body.steps.at(-1)).toMatchObject({ by: 'max', awaits: 'verification-run' });
  const [condition] = released.body.conditions;
  expect(condition?.parts?.map(({ done }) => done)).toEqual([true, false, false]);
  expect((await vera.get(`/api/holds/${hold.holdId}/travels`)).body).toMatchObject({ spindles: ['S-1'], cells: [] });
  expect((await act(max, hold, 'release', 'again')).status).toBe(409);
});

test('what is not there is said to be so', async () => {
  const nothing = await max.post('/api/holds/H-999999-1/acts', { act: 'take' });
  expect(nothing.status).toBe(404);
});

test('all of it is there after a restart, bit for bit', async () => {
  const before = await vera.holds('all');
  await stand.restart();
  expect(await vera.holds('all')).toEqual(before);
});

test('limits that contradict each other: a problem that names the field, what was expected and what came', async () => {
  const limit = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'invented' };
  const declared = (more: object) => ({ machine: 'Mill 1', cell: 'North', limits: [limit, { ...limit, ...more }] });
  const put = (more: object) => eva.put<Problem>('/api/spindles/S-1', declared(more));
  expect(await put({ fromSpeedRpm: 24_000, toSpeedRpm: 12_000 })).toMatchObject({
    status: 400,
    body: {
      errors: [
        {
          pointer: '/limits/1/toSpeedRpm',
          want: expect.stringMatching(/24,000 rpm or more/) as string,
          got: '12,000 rpm',
        },
      ],
    },
  });
  expect(await put({ fromSpeedRpm: 12_000 })).toMatchObject({
    status: 400,
    body: {
      errors: [
        { pointer: '/limits/1/fromSpeedRpm', want: expect.stringMatching(/one overall limit at each speed/) as string },
      ],
    },
  });
  expect(await put({ fromSpeedRpm: 24_000, toSpeedRpm: 30_000 })).toMatchObject({ status: 200 });
});
