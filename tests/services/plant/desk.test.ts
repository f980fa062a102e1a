// What the desk answers from the floor and the journal, and the numbers of the feed's frames.
import { describe, expect, test } from 'vitest';
import { Desk } from '../../../services/plant/index.ts';
import { createIntake } from '../../../services/intake/index.ts';
import { RULES_VERSION } from '../../../services/rules/index.ts';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import type { FeedFrame } from '../../../shared/feed.ts';
import { inTopic } from '../../../shared/topics.ts';
import { PLANT, RunningPlant, START } from '../recording/running-plant.ts';

const DECLARED = { spindleId: 'S-1', machine: 'machine of our own invention', cell: 'cell 1' };
const ENGINEER = { name: 'eva', roles: ['engineer'] } as const;

async function openDesk(inTheClear = false) {
  const ran = await RunningPlant.open();
  const frames: FeedFrame[] = [];
  const desk = new Desk({
    plant: ran.plant,
    keeper: ran.keeper,
    journal: ran.journal,
    intake: createIntake({ plant: PLANT, boot: 'desk' }),
    clock: { now: () => ran.now },
    inTheClear,
    sendFrame: (json) => void frames.push(JSON.parse(json) as FeedFrame),
  });
  return { ran, desk, frames, declare: (spindleId: string) => declare(ran, spindleId) };
}

async function declare(ran: RunningPlant, spindleId: string): Promise<void> {
  await ran.plant.act({ ...ENGINEER, roles: [...ENGINEER.roles] }, 'spindle-declared', { ...DECLARED, spindleId });
}

async function bench(ran: RunningPlant, channel: 'build' | 'result', data: unknown): Promise<void> {
  ran.now += 1000;
  const payload = Buffer.from(typeof data === 'string' ? data : JSON.stringify(data));
  await ran.plant.admit([
    { topic: inTopic(PLANT, 'bench-1', channel), payload, at: ran.now, connection: 1, dup: false },
  ]);
}

async function exceed(ran: RunningPlant, assemblyId: string, residualGmm: number): Promise<void> {
  const parts = [{ role: 'holder', name: 'holder of our own invention' }];
  const build = { assemblyId, buildId: assemblyId, massKg: 1.2, serviceSpeedRpm: 18_000, gradeMmS: 2.5, parts };
  await bench(ran, 'build', build);
  const error = { smallestAchievableGmm: 0.1 };
  await bench(ran, 'result', {
    assemblyId,
    buildId: assemblyId,
    planes: [{ name: 'A', residualGmm, angleDeg: 30 }],
    error,
    measuredAtRpm: 1100,
  });
}

describe('the feed', () => {
  test('a snapshot and the changes behind it are numbered without a gap', async () => {
    const { desk, frames, declare: add } = await openDesk();
    await desk.calls.watched(true);
    await add('S-1');
    const snapshot = JSON.parse(await desk.calls.snapshotFrame()) as FeedFrame;
    if (snapshot.frame !== 'snapshot') throw new Error(snapshot.frame);
    expect(snapshot.floor.spindles.map(({ spindleId }) => spindleId)).toEqual(['S-1']);
    // What had changed before went out first, so that the snapshot has its number.
    expect(frames.map(({ number }) => number)).toEqual([snapshot.number]);
    await add('S-2');
    desk.sendChanges();
    desk.sendChanges();
    expect(frames.at(-1)).toMatchObject({
      frame: 'change',
      number: snapshot.number + 1,
      spindles: [{ spindleId: 'S-2' }],
    });
    expect(frames).toHaveLength(2);
  });

  test('nothing is made while nobody looks', async () => {
    const { desk, frames, declare: add } = await openDesk();
    await add('S-1');
    desk.sendChanges();
    expect(frames).toEqual([]);
  });

  test('every screen is told what can be heard on the network', async () => {
    const { desk } = await openDesk(true);
    expect((await desk.calls.floor()).inTheClear).toBe(true);
    const quiet = await openDesk();
    expect((await quiet.desk.calls.floor()).inTheClear).toBeUndefined();
  });
});

test('holds for those who tell of them: open ones, and those that ended since', async () => {
  const { ran, desk } = await openDesk();
  for (const assemblyId of ['A-1', 'A-2', 'A-3']) await exceed(ran, assemblyId, 6);
  await exceed(ran, 'A-1', 0.3);
  ran.now += 3 * MILLISECONDS_A_DAY;
  await exceed(ran, 'A-2', 0.3);
  const wanted = await desk.calls.holdsSince(ran.now - MILLISECONDS_A_DAY);
  expect(wanted.map(({ subject, state }) => `${subject.id} ${state}`)).toEqual(['A-2 released', 'A-3 raised']);
});

describe('rejected messages', () => {
  test('text is shown as text, all else byte by byte, and all bytes are given', async () => {
    const { ran, desk } = await openDesk();
    await bench(ran, 'build', 'mass=1.2 µ');
    ran.now += 1000;
    const payload = Uint8Array.of(0xff, 0x41, 0x00, 0x5c);
    const topic = inTopic(PLANT, 'bench-1', 'build');
    await ran.plant.admit([{ topic, payload, at: ran.now, connection: 1, dup: false }]);
    const rows = await desk.calls.rejects({ state: 'open', limit: 10 });
    expect(rows.map(({ excerpt, bytes }) => [excerpt, bytes])).toEqual([
      ['\\xffA\\x00\\', 4],
      ['mass=1.2 µ', 11],
    ]);
    expect((await desk.calls.reject(2))?.base64).toBe(Buffer.from(payload).toString('base64'));
    expect(await desk.calls.reject(77)).toBeUndefined();
    expect((await desk.calls.intake()).rejectsOpen).toBe(2);
  });
});

test('an entry with what was made of it; nothing where there is none', async () => {
  const { ran, desk } = await openDesk();
  await exceed(ran, 'A-1', 6);
  expect(await desk.calls.entry(2)).toMatchObject({
    entry: { position: 2, kind: 'result' },
    outcomes: [{ cause: 2, kind: 'hold-raised' }],
  });
  expect(await desk.calls.entry(99)).toBeUndefined();
});

test('closing leaves a snapshot, so that the next start has nothing to fold', async () => {
  const { ran, desk } = await openDesk();
  await exceed(ran, 'A-1', 6);
  await desk.calls.close();
  expect(await ran.journal.latestSnapshot(RULES_VERSION)).toMatchObject({ position: 2 });
});

test('lines that cannot be used are counted', async () => {
  const { desk } = await openDesk();
  expect(await desk.calls.importLines(`no line\n\n${JSON.stringify({ topic: 'x', at: START })}\n`)).toBe(2);
});
