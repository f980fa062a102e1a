// Raw windows through the whole service: kept and acknowledged, analysed beside it once, made readings of, asked for, given back.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { backTopic } from '../../shared/topics.ts';
import type { SeriesView, SpindleView } from '../../shared/views.ts';
import type { WaveRow, WavesView } from '../../shared/wave-views.ts';
import { waitFor } from '../environment/wait-for.ts';
import { Person } from './person.ts';
import { SPINDLES } from './plant.ts';
import { PLANT, startStand, type Stand } from './stand.ts';
import {
  cborWave,
  jsonWave,
  OVERALL_MMS,
  SAMPLE_RATE_HZ,
  SAMPLES,
  SCALE_MS2,
  sineCounts,
  SPEED_RPM,
} from './windows.ts';

let stand: Stand;
let person: Person;

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'sensor-1', kind: 'sensor', serves: ['S-1'] },
      { device: 'sensor-2', kind: 'sensor', serves: ['S-2'] },
      { device: 'sensor-3', kind: 'sensor', serves: ['S-3'] },
      { device: 'sensor-4', kind: 'sensor', serves: ['S-4'] },
    ],
    spindles: SPINDLES,
  });
  const admin = await Person.join(() => stand.url, 'Ada', stand.firstToken());
  person = await admin.invite('Mia', 'maintenance');
}, 90_000);
afterAll(() => stand?.stop());

async function waves(spindleId: string): Promise<readonly WaveRow[]> {
  return (await person.get<WavesView>(`/api/spindles/${spindleId}/waves?limit=500`)).body.waves;
}

/** Once none of a spindle's windows waits any more. */
function settled(spindleId: string, count: number): Promise<readonly WaveRow[]> {
  return waitFor(`${count} windows of ${spindleId}`, async () => {
    const rows = await waves(spindleId);
    return rows.length === count && rows.every(({ state }) => state !== 'waiting') ? rows : undefined;
  });
}

async function readings(spindleId: string): Promise<number> {
  const stretch = `from=${Date.now() - 3_600_000}&to=${Date.now() + 3_600_000}&points=10&quantity=overallMmS`;
  const { body } = await person.get<SeriesView>(`/api/spindles/${spindleId}/series?${stretch}`);
  return body.count.reduce((sum, count) => sum + count, 0);
}

test.each([
  ['JSON', 'sensor-1', 'S-1', jsonWave],
  ['CBOR', 'sensor-3', 'S-3', cborWave],
] as const)(
  'a window in %s: a receipt, a reading in the trend, what was made of it, and the samples as they were',
  async (_how, device, spindleId, waveOf) => {
    const sensor = await stand.device(device);
    const counts = sineCounts();
    expect(await sensor.send('wave', waveOf(device, counts))).toMatchObject({ outcome: 'kept' });
    const [wave] = await settled(spindleId, 1);
    expect(wave).toMatchObject({ state: 'analysed', device, samples: SAMPLES, kept: true, pinnedBy: [] });
    expect(wave?.analysis?.overallMmS).toBeCloseTo(OVERALL_MMS, 2);
    expect(wave?.analysis?.orders[0]).toMatchObject({ order: 1 });
    expect(wave?.analysis?.orders[0]?.velocityMmS).toBeCloseTo(OVERALL_MMS, 2);
    const { row } = (await person.get<SpindleView>(`/api/spindles/${spindleId}`)).body;
    expect(row).toMatchObject({ speedRpm: SPEED_RPM });
    expect(row.overallMmS).toBeCloseTo(OVERALL_MMS, 2);
    await waitFor('the reading in the trend', async () => (await readings(spindleId)) === 1);
    const samples = await person.bytes(`/api/waves/${wave?.waveId}/samples`);
    expect(samples.headers.get('x-sample-rate-hz')).toBe(String(SAMPLE_RATE_HZ));
    const back = new Float32Array(samples.bytes);
    expect(back).toHaveLength(SAMPLES);
    expect(back.every((value, n) => value === Math.fround((counts[n] ?? 0) * SCALE_MS2))).toBe(true);
    await sensor.stop();
  },
);

test('a spindle that turns slower than the usual band begins: its overall value holds 1×, and its sensor is not accused', async () => {
  const sensor = await stand.device('sensor-4');
  const speedRpm = 580;
  for (let n = 1; n <= 4; n += 1) {
    // A slow sine alone stands still at its crests, as no housing does.
    const counts = sineCounts(n / 10, speedRpm).map((count, i) => count + Math.round(30 * Math.sin(1.3 * i + n)));
    await sensor.publish('wave', jsonWave('sensor-4', counts, { speedRpm }));
    await settled('S-4', n);
  }
  for (const { analysis } of await waves('S-4')) {
    expect(analysis?.bandHz[0]).toBe(2);
    // A line between two lines leaks to where velocity weighs it most: a second of 9.7 turns reads up to four percent too much.
    const ratio = (analysis?.overallMmS ?? 0) / (analysis?.orders[0]?.velocityMmS ?? 0);
    expect(ratio).toBeGreaterThan(1);
    expect(ratio).toBeLessThan(1.05);
  }
  await waitFor('its readings', async () => (await readings('S-4')) === 4);
  const { row } = (await person.get<SpindleView>('/api/spindles/S-4')).body;
  expect(row).toMatchObject({ state: 'reporting' });
  await sensor.stop();
}, 60_000);

test('more windows than can be analysed are all acknowledged and kept; which were skipped is said', async () => {
  const sensor = await stand.device('sensor-2');
  const sent = 60;
  await Promise.all(
    Array.from({ length: sent }, (_, n) => sensor.publish('wave', jsonWave('sensor-2', sineCounts(n / 10)))),
  );
  const rows = await settled('S-2', sent);
  const skipped = rows.filter(({ state }) => state === 'skipped');
  const analysed = rows.filter(({ state }) => state === 'analysed');
  expect(skipped.length).toBeGreaterThan(0);
  expect(analysed.length).toBe(sent - skipped.length);
  expect(analysed.length).toBeGreaterThan(0);
  expect(skipped[0]?.why).toMatch(/more windows came/);
  expect((await person.bytes(`/api/waves/${skipped[0]?.waveId}/samples`)).bytes.byteLength).toBe(4 * SAMPLES);
  await sensor.stop();
});

test('asked for by a person, told to the sensor, and answered', async () => {
  const sensor = await stand.device('sensor-1');
  await sensor.client.subscribeAsync(backTopic(PLANT, 'sensor-1', 'ask'), { qos: 1 });
  const asked = await person.post<{ asked: string }>('/api/spindles/S-1/ask-wave', {});
  expect(asked.status).toBe(202);
  const told = await sensor.next(({ topic }) => topic === backTopic(PLANT, 'sensor-1', 'ask'));
  const { data } = JSON.parse(told.payload) as { data: object };
  expect(data).toEqual({ ask: 'wave', id: asked.body.asked, spindleId: 'S-1' });
  const waiting = (await person.get<SpindleView>('/api/spindles/S-1')).body.windows;
  expect(waiting?.asked).toMatchObject({ id: asked.body.asked, by: 'Mia' });
  await sensor.publish('wave', jsonWave('sensor-1', sineCounts(1), { asked: asked.body.asked }));
  const view = await waitFor('the answer', async () => {
    const { windows } = (await person.get<SpindleView>('/api/spindles/S-1')).body;
    return windows?.asked === undefined ? windows : undefined;
  });
  expect(view.waveId).toBe((await settled('S-1', 2))[0]?.waveId);
  await sensor.stop();
});

test('what a stop left waiting is analysed by the next start, once', async () => {
  const sensor = await stand.device('sensor-1');
  // So many as wait for one channel without any being skipped.
  await Promise.all(
    [1, 2, 3, 4, 5, 6].map((n) => sensor.publish('wave', jsonWave('sensor-1', sineCounts(2 + n / 10)))),
  );
  await sensor.client.endAsync(true);
  stand.program.kill('SIGKILL');
  await stand.program.ended;
  await stand.restart();
  const rows = await settled('S-1', 8);
  expect(rows.every(({ state }) => state === 'analysed')).toBe(true);
  expect(new Set(rows.map(({ summary }) => summary)).size).toBe(8);
  await waitFor('each reading once in the trend', async () => (await readings('S-1')) === 8);
}, 60_000);
