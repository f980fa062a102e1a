// Raw windows through the plant: jobs with what is known of the spindle, one reading of each, and nothing twice.
import { describe, expect, test } from 'vitest';
import { jobsWaiting, samplesOf } from '../../../services/plant/windows.ts';
import type { Actor } from '../../../shared/acts.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES, type Summary } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { inTopic, type InChannel } from '../../../shared/topics.ts';
import type { WaveAnalysis } from '../../../shared/wave-analysis.ts';
import type { WaveJob } from '../../../shared/wave-job.ts';
import { contentOf, PLANT, RunningPlant } from '../recording/running-plant.ts';
import { SOME_ANALYSIS } from './some-analysis.ts';

const EVA: Actor = { name: 'eva', roles: ['engineer'] };
const COUNTS = Int16Array.from({ length: 256 }, (_, n) => n * 3 - 300);
const BASE64 = Buffer.from(COUNTS.buffer).toString('base64');
const WAVE = { channel: 'radial-x', sampleRateHz: 25_600, encoding: 'int16', scaleMS2: 0.01, samples: BASE64 };
const DEVICE: Partial<Record<InChannel, string>> = { wave: 'sensor-1', summary: 'sensor-1', build: 'bench-1' };

const open = (): Promise<RunningPlant> =>
  RunningPlant.open({
    'bench-1': { kind: 'bench', serves: [] },
    'machine-1': { kind: 'machine', serves: ['S-1'] },
    'sensor-1': { kind: 'sensor', serves: ['S-1'] },
  });

let ids = 0;

/** Sends one message a second later; gives back the jobs. */
async function send(
  ran: RunningPlant,
  channel: InChannel,
  data: object,
  more: object = {},
): Promise<readonly WaveJob[]> {
  const device = DEVICE[channel] ?? 'machine-1';
  ran.now += 1000;
  const about = { specversion: '1.0', id: `m-${(ids += 1)}`, source: deviceSource(PLANT, device) };
  const message = { ...about, type: MESSAGE_TYPES[channel], time: rfc3339Of(ran.now - 200), data, ...more };
  const payload = Buffer.from(JSON.stringify(message));
  const delivered = { topic: inTopic(PLANT, device, channel), payload, at: ran.now, connection: 1, dup: false };
  return (await ran.plant.admit([delivered])).waves;
}

async function entriesOf(ran: RunningPlant, ...kinds: readonly string[]): Promise<readonly unknown[]> {
  return (await contentOf(ran.journal)).entries.filter(({ kind }) => kinds.includes(kind));
}

describe('a job', () => {
  test('has the counts as they were sent and what the machine, the build and the declaration say', async () => {
    const ran = await open();
    const bearings = [{ name: 'front', source: 'our sheet', multiples: { cage: 0.4, outer: 4, inner: 6, rolling: 3 } }];
    const declared = { spindleId: 'S-1', machine: 'M', cell: 'C', bearings, velocityBandHz: [10, 2000] };
    await ran.plant.act(EVA, 'spindle-declared', declared);
    const parts = [{ role: 'holder', name: 'holder of our own invention' }];
    const build = { assemblyId: 'A-1', buildId: 'B-1', massKg: 1.2, serviceSpeedRpm: 18_000, gradeMmS: 2.5, parts };
    await send(ran, 'build', { ...build, teeth: 4 });
    await send(ran, 'load', { spindleId: 'S-1', action: 'load', assemblyId: 'A-1', buildId: 'B-1' });
    await send(ran, 'machine', { spindleId: 'S-1', actualSpeedRpm: 11_950, cutting: true });
    const [job, ...more] = await send(ran, 'wave', WAVE);
    expect(more).toEqual([]);
    expect(job).toMatchObject({
      waveId: 5,
      device: 'sensor-1',
      spindleId: 'S-1',
      at: ran.now - 200,
      wave: { channel: 'radial-x', speedRpm: 11_950, cutting: true, spindleId: 'S-1' },
      bearings,
      teeth: 4,
      velocityBandHz: [10, 2000],
      makesReading: true,
    });
    expect(job?.wave).not.toHaveProperty('samples');
    expect(new Int16Array(job?.counts.buffer ?? new ArrayBuffer(0))).toEqual(COUNTS);
  });

  test('what the sensor itself says comes first; what the machine said an hour ago says nothing', async () => {
    const ran = await open();
    await send(ran, 'machine', { spindleId: 'S-1', actualSpeedRpm: 11_950, cutting: true });
    const [told] = await send(ran, 'wave', { ...WAVE, speedRpm: 8000, cutting: false });
    expect(told?.wave).toMatchObject({ speedRpm: 8000, cutting: false });
    ran.now += 3_600_000;
    const [later] = await send(ran, 'wave', WAVE);
    expect(later?.wave).not.toHaveProperty('speedRpm');
  });

  test('a repeat makes none', async () => {
    const ran = await open();
    const counted = { bootid: 'b', sequence: '7' };
    expect(await send(ran, 'wave', WAVE, counted)).toHaveLength(1);
    expect(await send(ran, 'wave', WAVE, counted)).toEqual([]);
  });

  test('those that wait are there again after a start, without what was only known since', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    await send(ran, 'machine', { spindleId: 'S-1', actualSpeedRpm: 3000 });
    await ran.restart();
    const [job, ...more] = await jobsWaiting(ran.journal, ran.keeper, { after: 0, limit: 9 });
    expect(more).toEqual([]);
    expect(job).toMatchObject({ waveId: 1, makesReading: true });
    expect(job?.wave).not.toHaveProperty('speedRpm');
    expect(Buffer.from(job?.counts ?? []).toString('base64')).toBe(BASE64);
  });
});

describe('what the analysis gave', () => {
  const analysed = { kind: 'analysed', analysis: SOME_ANALYSIS } as const;

  test('is put on record with a reading before it, as if the sensor had made it, in one commit', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    const measuredAt = ran.now - 200;
    await ran.plant.analysed([{ waveId: 1, outcome: analysed, packed: Uint8Array.of(1, 2, 3) }]);
    expect(await entriesOf(ran, 'summary', 'analysed')).toEqual([
      {
        position: 2,
        at: ran.now,
        kind: 'summary',
        device: 'sensor-1',
        id: 'made-of-wave-1',
        time: measuredAt,
        data: {
          spindleId: 'S-1',
          speedRpm: 12_000,
          overallMmS: 0.75,
          synchronousMmS: 0.5,
          synchronousPhaseDeg: 30,
          secondOrderMmS: 0.25,
          accelerationRmsMS2: 2.5,
          accelerationPeakMS2: 9,
          kurtosis: 3.125,
          envelopeMS2: 0.5,
          steady: true,
        },
      },
      {
        position: 3,
        at: ran.now,
        kind: 'analysed',
        wave: 1,
        device: 'sensor-1',
        spindleId: 'S-1',
        channel: 'radial-x',
        measuredAt,
        summary: 2,
        outcome: analysed,
      },
    ]);
    expect(await ran.journal.waveAt(1)).toMatchObject({ state: 'analysed', packing: 'packed' });
    expect(ran.keeper.spindleView('S-1')).toMatchObject({ row: { overallMmS: 0.75 } });
  });

  test('said again, or of a window that is not here, changes nothing', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    const twice = { waveId: 1, outcome: analysed };
    await ran.plant.analysed([twice, twice]);
    await ran.plant.analysed([twice]);
    await ran.restart();
    await ran.plant.analysed([{ waveId: 77, outcome: analysed }, twice]);
    expect((await ran.journal.head()).position).toBe(3);
  });

  test('several in one commit: each names its own reading', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    await send(ran, 'wave', WAVE);
    await send(ran, 'wave', WAVE);
    await ran.plant.analysed([
      { waveId: 1, outcome: analysed },
      { waveId: 2, outcome: { kind: 'skipped', why: 'too many' } },
      { waveId: 3, outcome: analysed },
    ]);
    expect(await entriesOf(ran, 'analysed')).toMatchObject([
      { position: 5, wave: 1, summary: 4 },
      { position: 6, wave: 2, outcome: { kind: 'skipped' } },
      { position: 8, wave: 3, summary: 7 },
    ]);
  });

  test('no reading is made of another channel, nor where the sensor makes its own, nor without a speed', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    const [other] = await send(ran, 'wave', { ...WAVE, channel: 'axial' });
    expect(other?.makesReading).toBe(false);
    await ran.plant.analysed([{ waveId: 2, outcome: analysed }]);
    const { speedRpm: _speed, ...unknown } = SOME_ANALYSIS;
    await ran.plant.analysed([{ waveId: 1, outcome: { kind: 'analysed', analysis: unknown } }]);
    await send(ran, 'summary', { speedRpm: 12_000, overallMmS: 0.4 });
    const [own] = await send(ran, 'wave', WAVE);
    expect(own).toMatchObject({ makesReading: false, noReading: 'its sensor sends readings of its own' });
    ran.now += 3_600_001;
    const [later] = await send(ran, 'wave', WAVE);
    expect(later?.makesReading).toBe(true);
    expect(await entriesOf(ran, 'summary')).toHaveLength(1);
    expect(await entriesOf(ran, 'analysed')).toMatchObject([
      {
        wave: 2,
        noReading:
          'readings are made of its channel radial-x, the first that its sensor sent; declare another to change that',
      },
      { wave: 1, noReading: 'the speed is not known, and no order was found that tells it' },
    ]);
  });

  test('its own readings do not make a sensor one that makes them itself', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    await ran.plant.analysed([{ waveId: 1, outcome: analysed }]);
    await ran.restart();
    const [job] = await send(ran, 'wave', WAVE);
    expect(job?.makesReading).toBe(true);
  });

  test('a signal that cannot be used makes a reading with a fault; one of a wrong speed, one without orders', async () => {
    const ran = await open();
    const findings: readonly WaveAnalysis['health'][] = [
      [{ kind: 'mounting', weight: 'doubtful', words: 'loose?' }],
      [{ kind: 'wrong-speed', weight: 'speed', words: 'no line at 1×' }],
      [{ kind: 'speed-unsteady', weight: 'speed', words: '3 %' }],
      [{ kind: 'tacho-missing', weight: 'speed', words: '30 marks are missing' }],
      [{ kind: 'tacho-missing', weight: 'doubtful', words: '1 mark is missing' }],
      [{ kind: 'scale', weight: 'unusable', words: 'a thousand times too large' }],
      [
        { kind: 'wrong-speed', weight: 'speed', words: 'no line at 1×' },
        { kind: 'clipped', weight: 'unusable', words: 'at its end' },
      ],
    ];
    for (const health of findings) {
      await send(ran, 'wave', WAVE);
      const { position: waveId } = await ran.journal.head();
      await ran.plant.analysed([{ waveId, outcome: { kind: 'analysed', analysis: { ...SOME_ANALYSIS, health } } }]);
    }
    const readings = (await entriesOf(ran, 'summary')) as { data: Summary }[];
    expect(
      readings.map(({ data }) => [data.fault, data.synchronousMmS, data.secondOrderMmS, data.synchronousPhaseDeg]),
    ).toEqual([
      [undefined, 0.5, 0.25, 30],
      ['wrong-speed', undefined, undefined, undefined],
      ['speed-unsteady', 0.5, 0.25, 30],
      [undefined, 0.5, 0.25, undefined],
      [undefined, 0.5, 0.25, 30],
      ['implausible', 0.5, 0.25, 30],
      ['clipped', undefined, undefined, undefined],
    ]);
  });
});

test('a 1× that the band of the whole leaves out is not told beside it: it would accuse the sensor', async () => {
  const ran = await open();
  await send(ran, 'wave', WAVE);
  const analysis = { ...SOME_ANALYSIS, overallMmS: 0.25 };
  await ran.plant.analysed([{ waveId: 1, outcome: { kind: 'analysed', analysis } }]);
  const [{ data }] = (await entriesOf(ran, 'summary')) as [{ data: Summary }];
  expect(data).toMatchObject({ overallMmS: 0.25, secondOrderMmS: 0.25 });
  expect(data).not.toHaveProperty('synchronousMmS');
});

describe('the samples', () => {
  test('are given as they are kept, until they are dropped', async () => {
    const ran = await open();
    await send(ran, 'wave', WAVE);
    const found = await samplesOf(ran.journal, 1);
    expect(found).toMatchObject({ wave: { channel: 'radial-x', scaleMS2: 0.01 }, packing: 'plain' });
    expect(Buffer.from(found?.bytes ?? []).toString('base64')).toBe(BASE64);
    await ran.journal.dropWaves([1]);
    expect(await samplesOf(ran.journal, 1)).toBeUndefined();
    expect(await samplesOf(ran.journal, 2)).toBeUndefined();
  });

  test('of a journal from before they had a table of their own are read from the entry', async () => {
    const ran = await open();
    const data = { ...WAVE, encoding: 'int16', spindleId: 'S-1' } as const;
    await ran.journal.append([{ draft: { at: 5, kind: 'wave', device: 'sensor-1', id: 'w', data } }], () => []);
    const found = await samplesOf(ran.journal, 1);
    expect(Buffer.from(found?.bytes ?? []).toString('base64')).toBe(BASE64);
    expect(found?.wave).not.toHaveProperty('samples');
  });
});
