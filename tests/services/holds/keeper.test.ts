// The keeper over a journal: decided within the commit, the same floor after a restart, changes and retained subjects told once.
import { expect, test } from 'vitest';
import { openJournal } from '../../../services/journal/index.ts';
import { openKeeper } from '../../../services/holds/index.ts';
import { act, build, declare, load, reading, result, running, SETTINGS, START, unload } from './invented-floor.ts';

const DAY = [
  [declare('S-1'), declare('S-2'), build('A-1'), result('A-1', 3.8), build('A-2'), result('A-2', 0.4)],
  [load('A-1', 'S-1'), load('A-2', 'S-2')],
  ...[5, 5.1, 5.2, 5.3, 5.4, 5.5].map((value) => [reading('S-2', value)]),
  [act('take', 'H-4-1'), unload('S-1'), result('A-1', 0.5), load('A-1', 'S-1')],
] as const;

test('a restart finds the floor of deciding live: from a snapshot and its tail, or from the first entry on', async () => {
  const one = await running();
  for (const [index, drafts] of DAY.entries()) {
    await one.append(drafts);
    // A snapshot in the middle; what follows is the tail.
    if (index === 3) await one.journal.saveSnapshot(await one.keeper.snapshot());
  }
  const live = one.keeper.floorView(START, noIntake);
  const fromSnapshot = await openKeeper({ journal: one.journal, ...SETTINGS });
  const fromFirst = await openKeeper({
    journal: {
      read: (from, to) => one.journal.read(from, to),
      latestSnapshot: () => Promise.resolve(undefined),
    },
    ...SETTINGS,
  });
  for (const keeper of [fromSnapshot, fromFirst]) {
    expect(keeper.floorView(START, noIntake)).toEqual(live);
    expect(keeper.allHolds()).toEqual(one.keeper.allHolds());
    expect(keeper.spindleView('S-2')).toEqual(one.keeper.spindleView('S-2'));
    expect(keeper.assemblyView('A-1')).toEqual(one.keeper.assemblyView('A-1'));
    expect(keeper.allPublications()).toEqual(one.keeper.allPublications());
  }
  expect(one.keeper.allHolds().map(({ holdId, state }) => [holdId, state])).toEqual([
    ['H-4-1', 'released'],
    ['H-7-1', 'released'],
    ['H-13-1', 'raised'],
  ]);
});

test('a snapshot is of the moment at which it was asked for, though more comes while it is written', async () => {
  const one = await running();
  for (const drafts of DAY.slice(0, 4)) await one.append(drafts);
  const writing = one.keeper.snapshot();
  for (const drafts of DAY.slice(4)) await one.append(drafts);
  const snapshot = await writing;
  expect(snapshot.position).toBe(DAY.slice(0, 4).flat().length);
  await one.journal.saveSnapshot(snapshot);
  const again = await openKeeper({ journal: one.journal, ...SETTINGS });
  expect(again.snapshotPosition).toBe(snapshot.position);
  expect(again.floorView(START, noIntake)).toEqual(one.keeper.floorView(START, noIntake));
  expect(again.allHolds()).toEqual(one.keeper.allHolds());
});

test('a snapshot of other rules is not used', async () => {
  const { journal, append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8)]);
  await journal.saveSnapshot({ ...(await keeper.snapshot()), version: 'rules-0', body: new Uint8Array([1, 2, 3]) });
  const again = await openKeeper({ journal, ...SETTINGS });
  expect(again.allHolds()).toEqual(keeper.allHolds());
});

test('changes are told once: whole rows of what changed and nothing else', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), declare('S-2'), build('A-1'), result('A-1', 3.8)]);
  const first = keeper.changes();
  expect(first.spindles.map((row) => row.spindleId)).toEqual(['S-1', 'S-2']);
  expect(first.holds.map((hold) => hold.reason)).toEqual(['residual-exceeds']);
  expect(keeper.changes()).toEqual({ spindles: [], holds: [] });
  await append([reading('S-2', 1)]);
  expect(keeper.changes().spindles.map((row) => [row.spindleId, row.overallMmS])).toEqual([['S-2', 1]]);
  await append([load('A-1', 'S-1')]);
  const loaded = keeper.changes();
  expect(loaded.spindles.map((row) => row.spindleId)).toEqual(['S-1']);
  expect(loaded.holds.map(({ reason, priority }) => [reason, priority?.word])).toEqual([
    ['held-assembly-loaded', 'this-shift'],
    ['residual-exceeds', 'this-shift'],
  ]);
  await append([result('A-1', 0.5)]);
  const released = keeper.changes();
  expect(released.holds.map((hold) => hold.state)).toEqual(['released', 'released']);
  expect(released.spindles.map((row) => row.standing)).toEqual(['no-data']);
});

test('how soon a hold wants an answer is told anew as loads and time change it, and only then', async () => {
  const { append, keeper } = await running();
  const told = (): unknown[] => keeper.changes().holds.map(({ holdId, priority }) => [holdId, priority?.why]);
  await append([declare('S-1'), build('A-1'), result('A-1', 3.8)]);
  expect(told()).toEqual([['H-3-1', 'it is in no spindle']]);
  const tick = { kind: 'tick' };
  await append([tick]);
  expect(told()).toEqual([]);
  await append([load('A-1', 'S-1')]);
  expect(told()).toContainEqual(['H-3-1', 'A-1 is in S-1, which does not turn now']);
  await append([reading('S-1', 1)]);
  expect(told()).toContainEqual(['H-3-1', 'S-1 turns now; it was held at 2.4 times the limit']);
  await append([tick, tick]);
  expect(told()).toEqual([]);
  await append([tick], 15 * 60_000);
  expect(told()).toContainEqual(['H-3-1', 'A-1 is in S-1, which does not turn now']);
  await append([unload('S-1')]);
  expect(told()).toContainEqual(['H-3-1', 'it is in no spindle']);
});

test('the retained hold of a subject is gone only when none is open; the gate goes with the load', async () => {
  const { append, keeper } = await running();
  const topic = (rest: string): string => `counterpoise/v1/p1/out/${rest}`;
  await append([declare('S-1'), build('A-1')]);
  const raised = await append([result('A-1', 3.8)]);
  expect(raised.map((one) => [one.topic, one.retain])).toEqual([[topic('assembly/A-1/hold'), true]]);
  const message = JSON.parse(raised[0]?.payload ?? '') as { type: string; data: { holds: Record<string, unknown>[] } };
  expect(message.type).toBe('counterpoise.hold.v1');
  expect(message.data.holds[0]).toMatchObject({
    holdId: 'H-3-1',
    raisedAt: '2026-11-24T06:03:00.000Z',
    sentence:
      'A-1 is on hold: its residual unbalance is 2.4 times what is permissible at 18,000 rpm. Correct and measure again.',
  });
  expect(message.data.holds[0]).not.toHaveProperty('notices');
  const loaded = await append([load('A-1', 'S-1')]);
  expect(loaded.map((one) => one.topic)).toEqual([topic('spindle/S-1/hold'), topic('spindle/S-1/gate')]);
  const taken = await append([act('take', 'H-3-1')]);
  expect(taken[0]?.payload).toContain('"takenBy":"Bea"');
  const out = await append([unload('S-1')]);
  expect(out.map((one) => [one.topic, one.payload])).toEqual([
    [topic('spindle/S-1/hold'), ''],
    [topic('spindle/S-1/gate'), ''],
  ]);
  const passed = await append([result('A-1', 0.5)]);
  expect(passed.map((one) => [one.topic, one.payload])).toEqual([[topic('assembly/A-1/hold'), '']]);
  // After a start everything is told, and what must not linger on a broker that outlived us is cleared.
  expect(keeper.allPublications().map((one) => [one.topic, one.payload === ''])).toEqual([
    [topic('assembly/A-1/hold'), true],
    [topic('spindle/S-1/hold'), true],
    [topic('spindle/S-1/status'), false],
    [topic('spindle/S-1/gate'), true],
    [topic('bench/bench-1/status'), false],
  ]);
});

test('a question at the gate is answered to who asked, and not retained', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4)]);
  const data = { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 };
  const told = await append([{ kind: 'query', device: 'machine-1', data }]);
  expect(told.map((one) => [one.topic, one.retain])).toEqual([['counterpoise/v1/p1/back/machine-1/answer', false]]);
  const answer = JSON.parse(told[0]?.payload ?? '') as { data: unknown };
  expect(answer.data).toEqual(keeper.gate(data));
  expect(answer.data).toMatchObject({ word: 'NO OBJECTION', governedBy: 'marked-maximum', governingSpeedRpm: 22_000 });
});

test('an entry that the rules cannot bear is remarked and does not stop the plant', async () => {
  const { journal, append, keeper } = await running();
  await append([{ ...result('A-1', 1), data: { assemblyId: 'A-1', buildId: 'b1', planes: 'none' } }]);
  await append([build('A-1'), result('A-1', 3.8)]);
  const remarks: string[] = [];
  for await (const { outcomes } of journal.read(1))
    for (const outcome of outcomes) if (outcome.kind === 'remarked') remarks.push(outcome.remark);
  expect(remarks[0]).toContain('the rules failed on result');
  expect(keeper.allHolds()).toHaveLength(1);
});

test('connections and repeats are shown, and are no part of the floor', async () => {
  const { append, keeper, journal } = await running();
  await append([{ kind: 'birth', device: 'sensor-S-1', data: { kind: 'sensor', intervalS: 10 } }, reading('S-1', 1)]);
  keeper.connection('sensor-S-1', true);
  keeper.repeated({ kind: 'tick', at: 0 });
  keeper.repeated({ ...reading('S-1', 1), at: 0, id: 'x' } as never);
  expect(keeper.lanes()[0]).toMatchObject({ device: 'sensor-S-1', connected: true, duplicates: 1, state: 'reporting' });
  expect((await openKeeper({ journal, ...SETTINGS })).lanes()[0]).toMatchObject({ connected: false, duplicates: 0 });
});

test('notices are seen on their hold', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8)]);
  const data = {
    noticeId: 'n1',
    holdId: 'H-2-1',
    channel: 'webhook',
    to: 'https://example.test',
    outcome: 'failed',
    attempt: 1,
  };
  await append([{ kind: 'notice-try', actor: { name: 'service', roles: ['service'] }, data }]);
  expect(keeper.holdView('H-2-1')?.notices).toMatchObject([{ noticeId: 'n1', outcome: 'failed', attempt: 1 }]);
});

const noIntake = { devices: [], rejectsOpen: 0, journal: { position: 0 } };

test('an empty journal makes an empty floor', async () => {
  const journal = await openJournal({ store: 'memory' });
  const keeper = await openKeeper({ journal, ...SETTINGS });
  expect(keeper.floorView(START, noIntake)).toMatchObject({ plant: 'p1', spindles: [], holds: [] });
  expect(keeper.spindleView('S-1')).toBeUndefined();
  expect(keeper.holdView('H-1-1')).toBeUndefined();
});
