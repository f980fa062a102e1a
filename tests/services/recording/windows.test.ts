// Raw windows in a recording: with their samples as long as those are kept, and what was made of them; never analysed again.
import { expect, test } from 'vitest';
import { packCounts } from '../../../services/packing/index.ts';
import { LinePlayer } from '../../../services/plant/index.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { inTopic } from '../../../shared/topics.ts';
import { SOME_ANALYSIS } from '../plant/some-analysis.ts';
import { contentOf, expectSameRehearsed, PLANT, RunningPlant } from './running-plant.ts';

const SENSORS = { 'sensor-1': { kind: 'sensor', serves: ['S-1'] } } as const;
const COUNTS = new Uint8Array(Int16Array.from({ length: 1024 }, (_, n) => n * 3 - 300).buffer);
const BASE64 = Buffer.from(COUNTS).toString('base64');

async function sendWave(ran: RunningPlant, id: string): Promise<number> {
  ran.now += 1000;
  const samples = { encoding: 'int16', scaleMS2: 0.01, samples: BASE64 };
  const message = {
    specversion: '1.0',
    id,
    source: deviceSource(PLANT, 'sensor-1'),
    type: MESSAGE_TYPES.wave,
    time: rfc3339Of(ran.now),
    data: { spindleId: 'S-1', channel: 'radial-x', sampleRateHz: 25_600, ...samples },
  };
  const payload = Buffer.from(JSON.stringify(message));
  const topic = inTopic(PLANT, 'sensor-1', 'wave');
  await ran.plant.admit([{ topic, payload, at: ran.now, connection: 1, dup: false }]);
  return (await ran.journal.head()).position;
}

/** Three windows: analysed and packed, skipped and dropped, still waiting; with ticks between. */
async function withWindows(): Promise<RunningPlant> {
  const ran = await RunningPlant.open(SENSORS);
  await ran.plant.tick();
  const first = await sendWave(ran, 'w-1');
  const packed = packCounts(COUNTS, 'int16') ?? COUNTS;
  await ran.plant.analysed([{ waveId: first, outcome: { kind: 'analysed', analysis: SOME_ANALYSIS }, packed }]);
  const second = await sendWave(ran, 'w-2');
  await ran.plant.analysed([{ waveId: second, outcome: { kind: 'skipped', why: 'too many' } }]);
  await ran.journal.dropWaves([second]);
  await sendWave(ran, 'w-3');
  await ran.plant.tick();
  return ran;
}

test('the export holds the samples that are kept, plain, and a rehearsal of it gives the same', async () => {
  const ran = await withWindows();
  const lines = (await ran.lines()).map((line) => JSON.parse(line) as { envelope: { data: { samples?: string } } });
  expect(lines.map(({ envelope }) => envelope.data.samples)).toEqual([
    undefined,
    BASE64,
    undefined,
    undefined,
    undefined,
    undefined,
    BASE64,
    undefined,
  ]);
  const { faults, kept } = await expectSameRehearsed(ran);
  expect([faults, kept]).toEqual([0, 8]);
});

test('into another journal, which holds something already: what was made of a window finds it, and its reading', async () => {
  const lines = await (await withWindows()).lines();
  const other = await RunningPlant.open(SENSORS);
  await other.plant.tick();
  await other.plant.tick();
  const faults: string[] = [];
  const play = async (): Promise<void> => {
    const { at: onceAfter } = await other.journal.head();
    const fault = (_line: number, why: string): void => void faults.push(why);
    const player = new LinePlayer(other.plant, { tickMs: 0, exact: false, onceAfter: onceAfter - 1, fault });
    await player.take(lines);
    await player.flush();
  };
  await play();
  const { entries } = await contentOf(other.journal);
  const analysed = entries.filter((entry) => entry.kind === 'analysed');
  const [first] = analysed;
  expect(analysed).toHaveLength(2);
  expect(entries.find(({ position }) => position === first?.wave)).toMatchObject({ kind: 'wave', id: 'w-1' });
  expect(entries.find(({ position }) => position === first?.summary)).toMatchObject({ id: 'made-of-wave-2' });
  expect(await other.journal.waveRoom()).toMatchObject({ windows: 2, waiting: 1 });
  // The same lines again: nothing comes on record twice.
  const { length } = entries;
  await play();
  expect((await contentOf(other.journal)).entries.filter(({ kind }) => kind !== 'tick')).toHaveLength(
    length - entries.filter(({ kind }) => kind === 'tick').length,
  );
  expect(faults).toEqual([]);
});

test('what was made of a window that the recording does not hold is a fault of its line', async () => {
  const lines = await (await withWindows()).lines();
  const other = await RunningPlant.open(SENSORS);
  const faults: string[] = [];
  const fault = (_line: number, why: string): void => void faults.push(why);
  const player = new LinePlayer(other.plant, { tickMs: 0, exact: false, fault });
  await player.take([lines[3] ?? '', (lines[3] ?? '').replace('"wave":2', '"wave":"two"')]);
  await player.flush();
  expect(faults).toEqual([
    'the raw window at 2 is not in this recording',
    expect.stringContaining('envelope.data.wave'),
  ]);
});
