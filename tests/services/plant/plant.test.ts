// One order of events: what is told of each message, what is one message and what is two, and what a retry does.
import { describe, expect, test } from 'vitest';
import { Plant } from '../../../services/plant/index.ts';
import type { Actor } from '../../../shared/acts.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import type { Receipt } from '../../../shared/receipts.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { backTopic, inTopic, type InChannel } from '../../../shared/topics.ts';
import { PLANT, RunningPlant } from '../recording/running-plant.ts';

const EVA: Actor = { name: 'eva', roles: ['engineer'] };
const BUILD = { assemblyId: 'A-1', buildId: 'B-1', massKg: 1.2, serviceSpeedRpm: 18_000, gradeMmS: 2.5 };
const PARTS = [{ role: 'holder', name: 'holder of our own invention' }];
const RESULT = { assemblyId: 'A-1', buildId: 'B-1', planes: [{ name: 'A', residualGmm: 6, angleDeg: 30 }] };

const open = (): Promise<RunningPlant> =>
  RunningPlant.open({ 'bench-1': { kind: 'bench', serves: [] }, 'sensor-1': { kind: 'sensor', serves: ['S-1'] } });

function sealed(ran: RunningPlant, id: string, channel: InChannel, data: unknown): Record<string, unknown> {
  const device = channel === 'summary' ? 'sensor-1' : 'bench-1';
  const time = rfc3339Of(ran.now);
  return { specversion: '1.0', id, source: deviceSource(PLANT, device), type: MESSAGE_TYPES[channel], time, data };
}

interface Sent {
  readonly channel: InChannel;
  readonly message: unknown;
  readonly packetId?: number;
  readonly dup?: boolean;
}

/** Sends a batch and gives back the receipts. */
async function send(ran: RunningPlant, ...batch: readonly Sent[]): Promise<Receipt[]> {
  ran.now += 1000;
  const { publications } = await ran.plant.admit(
    batch.map(({ channel, message, packetId, dup = false }) => ({
      topic: inTopic(PLANT, channel === 'summary' ? 'sensor-1' : 'bench-1', channel),
      payload: Buffer.from(typeof message === 'string' ? message : JSON.stringify(message)),
      at: ran.now,
      connection: 1,
      dup,
      ...(packetId === undefined ? {} : { packetId }),
    })),
  );
  const receiptTopics = ['bench-1', 'sensor-1'].map((device) => backTopic(PLANT, device, 'receipt'));
  const receipts = publications.filter(({ topic }) => receiptTopics.includes(topic));
  return receipts.map(({ payload }) => (JSON.parse(payload) as { data: Receipt }).data);
}

const outcomes = (receipts: readonly Receipt[]): string[] => receipts.map(({ outcome }) => outcome);

describe('receipts', () => {
  test('kept, a repeat, kept with remarks, rejected: in the order of what came', async () => {
    const ran = await open();
    const build = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS });
    const receipts = await send(
      ran,
      { channel: 'build', message: build },
      { channel: 'build', message: build },
      { channel: 'build', message: sealed(ran, 'm-2', 'build', { ...BUILD, parts: PARTS, color: 'blue' }) },
      { channel: 'build', message: 'no JSON' },
    );
    expect(outcomes(receipts)).toEqual(['kept', 'duplicate', 'kept-with-remarks', 'rejected']);
    expect(receipts.map(({ journal }) => journal)).toEqual([1, 1, 2, 3]);
    expect(receipts[2]?.remarks).toMatchObject([{ pointer: '/data/color' }]);
    expect(receipts[3]?.problem?.type).toBe('urn:counterpoise:problem:not-json');
  });

  test('what comes often is answered for all at once, every few seconds', async () => {
    const ran = await open();
    const reading = { speedRpm: 12_000, overallMmS: 0.4 };
    const told: Receipt[] = [];
    for (let sequence = 1; sequence <= 12; sequence += 1) {
      const message = { ...sealed(ran, `m-${sequence}`, 'summary', reading), bootid: 'b', sequence: String(sequence) };
      told.push(...(await send(ran, { channel: 'summary', message })));
    }
    expect(told.map(({ throughSequence }) => throughSequence)).toEqual(['1', '6', '11']);
  });

  test('nobody is told of what is long past', async () => {
    const ran = await open();
    const payload = Buffer.from(JSON.stringify(sealed(ran, 'm-1', 'result', RESULT)));
    const topic = inTopic(PLANT, 'bench-1', 'result');
    const told: unknown = await ran.plant.record([{ topic, payload, at: ran.now, connection: 0, dup: false }]);
    expect(told).toBeUndefined();
    expect(await ran.plant.position()).toBe(1);
  });
});

describe('a question that comes again', () => {
  const answersIn = ({ publications }: Awaited<ReturnType<Plant['admit']>>): { id: string; data: unknown }[] =>
    publications
      .filter(({ topic }) => topic === backTopic(PLANT, 'bench-1', 'answer'))
      .map(({ payload }) => JSON.parse(payload) as { id: string; data: unknown });
  const ask = (ran: RunningPlant, message: unknown): ReturnType<Plant['admit']> =>
    ran.plant.admit([
      {
        topic: inTopic(PLANT, 'bench-1', 'query'),
        payload: Buffer.from(JSON.stringify(message)),
        at: (ran.now += 1000),
        connection: 1,
        dup: false,
      },
    ]);

  test('is answered again under the same id, and is on record once', async () => {
    const ran = await open();
    const question = sealed(ran, 'q-1', 'query', { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 9000 });
    const first = answersIn(await ask(ran, question));
    const again = answersIn(await ask(ran, question));
    expect(first).toMatchObject([{ data: { word: 'MEASURE FIRST' } }]);
    expect(again).toEqual(first);
    expect(await ran.plant.position()).toBe(1);
  });

  test('is answered as things stand now', async () => {
    const ran = await open();
    await send(ran, { channel: 'build', message: sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS }) });
    const question = sealed(ran, 'q-1', 'query', { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 9000 });
    await ask(ran, question);
    await send(ran, { channel: 'result', message: sealed(ran, 'm-2', 'result', RESULT) });
    expect(answersIn(await ask(ran, question))).toMatchObject([{ data: { word: 'HOLD BACK', assemblyId: 'A-1' } }]);
  });

  test('with another question under the same id is refused, and not answered', async () => {
    const ran = await open();
    await ask(ran, sealed(ran, 'q-1', 'query', { spindleId: 'S-1', assemblyId: 'A-1' }));
    expect(answersIn(await ask(ran, sealed(ran, 'q-1', 'query', { spindleId: 'S-1', assemblyId: 'A-2' })))).toEqual([]);
  });
});

describe('one message or two', () => {
  test('an id that comes again with other content: the first stands, the other’s bytes are kept', async () => {
    const ran = await open();
    const first = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS });
    const other = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS, massKg: 9 });
    const receipts = await send(ran, { channel: 'build', message: first }, { channel: 'build', message: other });
    expect(outcomes(receipts)).toEqual(['kept', 'rejected']);
    const [row] = await ran.journal.rejected({ limit: 5 });
    expect(row?.problem).toEqual(receipts[1]?.problem);
    expect(JSON.parse(Buffer.from(row?.bytes ?? []).toString())).toEqual(other);
  });

  test('a bare payload: only DUP with the same packet id on the same connection is a repeat', async () => {
    const ran = await open();
    const message = { ...BUILD, parts: PARTS };
    await send(ran, { channel: 'build', message, packetId: 7 });
    await send(ran, { channel: 'build', message, packetId: 7, dup: true });
    expect(await ran.plant.position()).toBe(1);
    await send(ran, { channel: 'build', message, packetId: 8, dup: true }, { channel: 'build', message, packetId: 7 });
    expect(await ran.plant.position()).toBe(3);
  });
});

describe('acts', () => {
  test('what cannot be put on record is said by field, and is not', async () => {
    const ran = await open();
    const done = await ran.plant.act(EVA, 'hold-act', { act: 'deviate', holdId: 'H-1-1', note: '' });
    expect(done).toMatchObject({ kind: 'invalid', problem: { errors: [{ pointer: '/note', got: '""' }] } });
    expect(await ran.plant.position()).toBe(0);
  });

  test('a source dated with a day to come is refused', async () => {
    const ran = await open();
    const dated = { source: 'sheet (invented)', sourceDate: '2126-03-12T00:00:00Z' };
    const limits = [{ quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, ...dated }];
    const declared = { spindleId: 'S-1', machine: 'machine of our own invention', cell: 'cell 1', limits };
    const done = await ran.plant.act(EVA, 'spindle-declared', declared);
    expect(done).toMatchObject({ kind: 'invalid', problem: { errors: [{ pointer: '/limits/0/sourceDate' }] } });
    expect(await ran.plant.position()).toBe(0);
  });

  test('limits that contradict each other are said by field, unless another journal has them on record already', async () => {
    const ran = await open();
    const limit = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'invented' };
    const limits = [limit, { ...limit, toSpeedRpm: 12_000, limitMmS: 4.5 }];
    const declared = { spindleId: 'S-1', machine: 'machine of our own invention', cell: 'cell 1', limits };
    const done = await ran.plant.act(EVA, 'spindle-declared', declared);
    expect(done).toMatchObject({ kind: 'invalid', problem: { errors: [{ pointer: '/limits/1/fromSpeedRpm' }] } });
    expect(await ran.plant.position()).toBe(0);
    const past = { at: ran.now, id: 'of-old', asNew: true };
    expect(await ran.plant.act(EVA, 'spindle-declared', declared, past)).toMatchObject({ kind: 'done' });
  });

  test('what the rules refuse is on record, with their words', async () => {
    const ran = await open();
    const done = await ran.plant.act(EVA, 'hold-act', { act: 'take', holdId: 'H-1-1' });
    expect(done).toMatchObject({ kind: 'refused', why: 'there is no such hold' });
    expect(await ran.plant.position()).toBe(1);
  });

  test('a past act with an id counts once', async () => {
    const ran = await open();
    const past = { at: ran.now, id: 'act-1' };
    for (let time = 1; time <= 2; time += 1)
      await ran.plant.act(EVA, 'hold-act', { act: 'take', holdId: 'H-1-1' }, past);
    expect(await ran.plant.position()).toBe(1);
  });
});

describe('reading again what was rejected', () => {
  const other = (ran: RunningPlant) =>
    sealed(ran, 'm-9', 'summary', { spindleId: 'S-2', speedRpm: 9000, overallMmS: 1 });

  test('after its enrolment was mended it is kept, once', async () => {
    const ran = await open();
    await send(ran, { channel: 'summary', message: other(ran) });
    expect(await ran.plant.retry(EVA, 1)).toMatchObject({ kind: 'rejected' });
    await ran.restartWith({ 'sensor-1': { kind: 'sensor', serves: ['S-1', 'S-2'] } });
    expect(await ran.plant.retry(EVA, 1)).toMatchObject({ kind: 'kept', position: 2 });
    expect(await ran.journal.rejectedAt(1)).toMatchObject({ state: 'retried' });
    expect(await ran.plant.retry(EVA, 1)).toEqual({ kind: 'unknown' });
    expect(await ran.plant.position()).toBe(3);
  });

  test('the device had sent it again meanwhile: noted, and no second message', async () => {
    const ran = await open();
    const build = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS });
    await ran.restartWith({ 'bench-1': { kind: 'sensor', serves: [] } });
    await send(ran, { channel: 'build', message: build });
    await ran.restartWith({ 'bench-1': { kind: 'bench', serves: [] } });
    await send(ran, { channel: 'build', message: build });
    expect(await ran.plant.retry(EVA, 1)).toMatchObject({ kind: 'kept', position: 2 });
    expect(await ran.plant.position()).toBe(3);
  });

  test('its id was used for other content: it stays rejected, and open', async () => {
    const ran = await open();
    const first = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS });
    const changed = sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS, massKg: 9 });
    await send(ran, { channel: 'build', message: first }, { channel: 'build', message: changed });
    const done = await ran.plant.retry(EVA, 2);
    expect(done).toMatchObject({ kind: 'rejected', problem: { type: 'urn:counterpoise:problem:id-already-used' } });
    expect(await ran.journal.rejectedAt(2)).toMatchObject({ state: 'open' });
  });

  test('what was never rejected cannot be read again', async () => {
    const ran = await open();
    expect(await ran.plant.retry(EVA, 77)).toEqual({ kind: 'unknown' });
  });
});

test('a store that fails is told to whoever waits, and remembered as the end', async () => {
  const ran = await open();
  const { journal, keeper } = ran;
  const none = (): Promise<undefined> => Promise.resolve(undefined);
  const parts = { head: () => journal.head(), read: () => journal.read(1), rejectedAt: none, waveKnownAt: none };
  const broken = new Plant({
    plant: PLANT,
    journal: { ...parts, append: () => Promise.reject(new Error('the disk is gone')) },
    keeper,
    intake: {
      take: () => ({ arrival: { draft: { kind: 'tick', at: 0 } }, device: 'd', channel: 'c', remarks: [] }),
      enrol: () => undefined,
      born: () => undefined,
    },
    clock: { now: () => 0 },
    freshId: () => 'x',
  });
  expect(broken.failure).toBeUndefined();
  await expect(broken.tick()).rejects.toThrow('the disk is gone');
  expect(broken.failure?.message).toBe('the disk is gone');
});

test('that nobody answered is told by the very tick that sees it', async () => {
  const ran = await open();
  await send(
    ran,
    { channel: 'build', message: sealed(ran, 'm-1', 'build', { ...BUILD, parts: PARTS }) },
    { channel: 'result', message: sealed(ran, 'm-2', 'result', RESULT) },
  );
  ran.now += 60_000;
  expect((await ran.plant.tick()).holdIds).toEqual([]);
  ran.now += 25 * 3_600_000;
  const { holdIds } = await ran.plant.tick();
  expect(holdIds).toEqual([expect.stringMatching(/^H-/)]);
  expect((await ran.plant.tick()).holdIds).toEqual([]);
});
