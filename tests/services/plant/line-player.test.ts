// Recorded lines in their own time: where the clock goes on between them, and what an import done twice changes.
import { describe, expect, test } from 'vitest';
import {
  LinePlayer,
  PLAYER_BATCH_LINES_MAX,
  PLAYER_TICKS_IN_A_GAP_MAX,
  type PlayerSettings,
} from '../../../services/plant/index.ts';
import { deviceSource, personSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { actTopic, inTopic } from '../../../shared/topics.ts';
import { contentOf, PLANT, RunningPlant, START } from '../recording/running-plant.ts';

let ids = 0;

function reading(atS: number, more: Record<string, unknown> = {}): string {
  const at = rfc3339Of(START + atS * 1000);
  const envelope = {
    specversion: '1.0',
    id: `m-${(ids += 1)}`,
    source: deviceSource(PLANT, 'sensor-1'),
    type: MESSAGE_TYPES.summary,
    time: at,
    data: { spindleId: 'S-1', speedRpm: 12_000, overallMmS: 0.4 },
  };
  return JSON.stringify({ topic: inTopic(PLANT, 'sensor-1', 'summary'), at, envelope, ...more });
}

function declared(atS: number, id: string): string {
  const data = { spindleId: 'S-1', machine: 'machine of our own invention', cell: 'cell 1' };
  const source = personSource(PLANT, 'eva');
  const envelope = { specversion: '1.0', id, source, type: 'counterpoise.act.spindle.v1', roles: 'engineer', data };
  return JSON.stringify({ topic: actTopic(PLANT, 'eva'), at: rfc3339Of(START + atS * 1000), envelope });
}

async function play(
  ran: RunningPlant,
  lines: readonly string[],
  settings: Partial<PlayerSettings> = {},
): Promise<string[]> {
  const faults: string[] = [];
  const fault = (line: number, why: string): void => void faults.push(`${line}: ${why}`);
  const player = new LinePlayer(ran.plant, { tickMs: 10_000, exact: false, fault, ...settings });
  await player.take(lines);
  await player.flush();
  return faults;
}

const kindsAndSeconds = async (ran: RunningPlant): Promise<string[]> =>
  (await contentOf(ran.journal)).entries.map(({ kind, at }) => `${kind} ${(at - START) / 1000}`);

test('the clock goes on where nobody wrote it down', async () => {
  const ran = await RunningPlant.open();
  await play(ran, [reading(0), reading(4), reading(25), reading(29), reading(30)]);
  expect(await kindsAndSeconds(ran)).toEqual([
    'summary 0',
    'summary 4',
    'tick 10',
    'tick 20',
    'summary 25',
    'summary 29',
    'tick 30',
    'summary 30',
  ]);
});

test('not where it is to be left alone, nor between the lines of an export', async () => {
  const alone = await RunningPlant.open();
  await play(alone, [reading(0), reading(60)], { tickMs: 0 });
  const exported = await RunningPlant.open();
  await play(exported, [reading(0, { position: 8 }), reading(60, { position: 9 })]);
  expect(await kindsAndSeconds(alone)).toEqual(['summary 0', 'summary 60']);
  expect(await kindsAndSeconds(exported)).toEqual(['summary 0', 'summary 60']);
});

test('a silence of a year is seen at its beginning, and is no million ticks', async () => {
  const ran = await RunningPlant.open();
  await play(ran, [reading(0), reading(365 * 86_400)]);
  expect(await ran.plant.position()).toBe(PLAYER_TICKS_IN_A_GAP_MAX + 2);
});

test('time never goes back, whatever the lines say', async () => {
  const ran = await RunningPlant.open();
  await play(ran, [reading(100), reading(50), reading(115)]);
  expect(await kindsAndSeconds(ran)).toEqual(['summary 100', 'summary 100', 'tick 110', 'summary 115']);
});

test('more than a commit holds is several, in order', async () => {
  const ran = await RunningPlant.open();
  const count = PLAYER_BATCH_LINES_MAX * 2 + 1;
  await play(
    ran,
    Array.from({ length: count }, (_, nth) => reading(nth / 1000)),
  );
  expect(await ran.plant.position()).toBe(count);
});

test('an import done twice puts messages and acts on record once', async () => {
  const ran = await RunningPlant.open();
  const lines = [declared(0, 'act-1'), reading(1), reading(2)];
  expect(await play(ran, lines, { tickMs: 0 })).toEqual([]);
  expect(await play(ran, lines, { tickMs: 0 })).toEqual([]);
  expect(await ran.plant.position()).toBe(3);
});

describe('an import done twice adds nothing, whatever its lines are', () => {
  const topic = inTopic(PLANT, 'sensor-1', 'summary');
  const line = (atS: number, more: Record<string, unknown>): string =>
    JSON.stringify({ topic, at: rfc3339Of(START + atS * 1000), ...more });
  const acted = (atS: number, type: string, data: unknown): string =>
    line(atS, { topic: actTopic(PLANT, 'eva'), position: atS, envelope: { specversion: '1.0', type, data } });
  const base64 = Buffer.from('speed=fast').toString('base64');
  const problem = { type: 'urn:counterpoise:problem:not-json', title: 'not JSON' };
  const unloaded = (spindleId: string): string => {
    const source = deviceSource(PLANT, 'machine-1');
    const data = { spindleId, action: 'unload' };
    const envelope = { specversion: '1.0', id: 'the-same', source, type: MESSAGE_TYPES.load, data };
    return line(7, { topic: inTopic(PLANT, 'machine-1', 'load'), envelope });
  };

  test.each<[string, readonly string[], number]>([
    ['ticks', [reading(0), acted(10, 'counterpoise.act.tick.v1', {}), acted(20, 'counterpoise.act.tick.v1', {})], 3],
    ['bytes that no schema takes', [line(1, { base64 }), line(2, { base64 })], 2],
    [
      'what was rejected, and what was read again later',
      [
        line(1, {
          base64: Buffer.from(JSON.stringify({ speedRpm: 1, overallMmS: 1, spindleId: 'S-1' })).toString('base64'),
          problem,
          position: 1,
        }),
        reading(2),
        acted(3, 'counterpoise.act.retried.v1', { rejected: 1 }),
      ],
      3,
    ],
    [
      'bare payloads',
      [
        line(1, { envelope: { speedRpm: 1, overallMmS: 1, spindleId: 'S-1' } }),
        line(2, { envelope: { speedRpm: 1, overallMmS: 1, spindleId: 'S-1' } }),
      ],
      2,
    ],
    ['acts without an id', [declared(1, ''), declared(2, '')], 2],
    ['ids used again for other content', [unloaded('S-1'), unloaded('S-2')], 2],
    [
      'more readings without a sequence than a journal remembers',
      Array.from({ length: 5000 }, (_, nth) => reading(nth)),
      5000,
    ],
  ])('%s', async (_, lines, count) => {
    const ran = await RunningPlant.open();
    for (let round = 1; round <= 2; round += 1) {
      const onceAfter = (await ran.journal.head()).at;
      expect(await play(ran, lines, { tickMs: 0, onceAfter })).toEqual([]);
      expect(await ran.plant.position()).toBe(count);
    }
  });

  test('one that broke off is gone on with, and one with more lines adds those', async () => {
    const ran = await RunningPlant.open();
    const tick = (atS: number): string => acted(atS, 'counterpoise.act.tick.v1', {});
    const lines = [reading(0), tick(10), line(11, { base64 }), tick(20), line(21, { base64 }), tick(30)];
    for (const end of [2, 3, 6]) {
      await play(ran, lines.slice(0, end), { tickMs: 0, onceAfter: (await ran.journal.head()).at });
      expect(await ran.plant.position()).toBe(end);
    }
  });
});

test('another plant’s acts, acts that say nothing, and readings again of what is not here are said by line', async () => {
  const ran = await RunningPlant.open();
  const retried = { type: 'counterpoise.act.retried.v1', data: { rejected: 4 } };
  const faults = await play(ran, [
    declared(0, 'a').replace(`/${PLANT}/act/`, '/p2/act/'),
    declared(0, 'b').replace('"cell 1"', '7'),
    '',
    JSON.stringify({ topic: actTopic(PLANT, 'eva'), at: rfc3339Of(START), envelope: retried }),
  ]);
  expect(faults).toEqual([
    `1: topic: expected plant ${PLANT}`,
    expect.stringMatching(/^2: envelope\.data\/cell: /),
    '4: the rejected message at 4 is not in this recording',
  ]);
});
