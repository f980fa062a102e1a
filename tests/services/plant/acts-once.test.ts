// The contract of an act that its sender named, over each store: sent again it is one act, with the answer that it had.
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { JournalSettings } from '../../../services/journal/index.ts';
import type { Actor } from '../../../shared/acts.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { inTopic, type InChannel } from '../../../shared/topics.ts';
import { makeFolder } from '../../environment/folder.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { contentOf, expectSameRehearsed, PLANT, RunningPlant } from '../recording/running-plant.ts';

const EVA: Actor = { name: 'eva', roles: ['engineer'] };
const MAX: Actor = { name: 'max', roles: ['engineer'] };
const BUILD = { assemblyId: 'A-1', buildId: 'B-1', massKg: 1.2, serviceSpeedRpm: 18_000, gradeMmS: 2.5 };
const PARTS = [{ role: 'holder', name: 'holder of our own invention' }];
const RESULT = { assemblyId: 'A-1', buildId: 'B-1', planes: [{ name: 'A', residualGmm: 6, angleDeg: 30 }] };
const ID = '4f1c2a9e-invented-0001';

const folder = makeFolder('acts-once');
let server: Postgres;
let url: string;
beforeAll(async () => {
  server = await startPostgres();
  url = await server.freshDatabase('acts');
}, 60_000);
afterAll(async () => {
  await server.stop();
  folder.remove();
});

const STORES: readonly (readonly [string, () => JournalSettings])[] = [
  ['memory', () => ({ store: 'memory' })],
  ['sqlite', () => ({ store: 'sqlite', file: join(folder.path, 'journal.sqlite') })],
  ['postgres', () => ({ store: 'postgres', url, schema: 'acts_once' })],
];

async function tell(ran: RunningPlant, id: string, channel: InChannel, data: unknown): Promise<void> {
  const source = deviceSource(PLANT, 'bench-1');
  const envelope = { specversion: '1.0', id, source, type: MESSAGE_TYPES[channel], time: rfc3339Of(ran.now), data };
  const payload = Buffer.from(JSON.stringify(envelope));
  await ran.plant.admit([
    { topic: inTopic(PLANT, 'bench-1', channel), payload, at: ran.now, connection: 1, dup: false },
  ]);
}

describe.each(STORES)('over %s', (_, settings) => {
  let ran: RunningPlant;
  let holdId: string;
  beforeAll(async () => {
    ran = await RunningPlant.open({ 'bench-1': { kind: 'bench', serves: [] } }, settings());
    await tell(ran, 'm-1', 'build', { ...BUILD, parts: PARTS });
    await tell(ran, 'm-2', 'result', RESULT);
    holdId = ran.keeper.allHolds()[0]?.holdId ?? '';
  });
  afterAll(() => ran.journal.close());

  const steps = (): number => ran.keeper.allHolds()[0]?.steps.length ?? 0;

  test('the same act sent twice is one step, over a restart too, and is answered the same', async () => {
    const before = steps();
    const take = { act: 'take', holdId };
    const first = await ran.plant.act(EVA, 'hold-act', take, { id: ID });
    expect(first).toMatchObject({ kind: 'done', told: { holdIds: [holdId] } });
    const at = await ran.plant.position();
    const again = await ran.plant.act(EVA, 'hold-act', take, { id: ID });
    expect(again).toMatchObject({ kind: 'done', told: { holdIds: [] } });
    await ran.restart();
    const { told: _told, ...later } = { told: undefined, ...(await ran.plant.act(EVA, 'hold-act', take, { id: ID })) };
    expect(later).toEqual({ kind: 'done', position: at });
    expect(await ran.plant.position()).toBe(at);
    expect(steps()).toBe(before + 1);
  });

  test('what was refused is refused again in the same words', async () => {
    const nowhere = { act: 'take', holdId: 'H-none' };
    const first = await ran.plant.act(EVA, 'hold-act', nowhere, { id: `${ID}-refused` });
    const again = await ran.plant.act(EVA, 'hold-act', nowhere, { id: `${ID}-refused` });
    expect(first).toMatchObject({ kind: 'refused', why: 'there is no such hold' });
    expect(again).toEqual(first);
  });

  test('another act under the same id is none; the id of somebody else is another', async () => {
    const at = await ran.plant.position();
    const other = await ran.plant.act(EVA, 'hold-act', { act: 'check', holdId, note: 'a chip' }, { id: ID });
    expect(other).toMatchObject({ kind: 'invalid', problem: { type: 'urn:counterpoise:problem:id-already-used' } });
    expect(await ran.plant.position()).toBe(at);
    await ran.plant.act(MAX, 'hold-act', { act: 'take', holdId }, { id: ID });
    expect(await ran.plant.position()).toBe(at + 1);
  });

  test('a recording of it, rehearsed, is what ran', async () => {
    expect((await contentOf(ran.journal)).entries.filter(({ kind }) => kind === 'hold-act')).toHaveLength(3);
    await expectSameRehearsed(ran);
  });
});
