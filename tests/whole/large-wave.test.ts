// Raw windows in CBOR by MQTT, and one that is too large for it by HTTP: the whole way through the service and out again.
import { encode, Token, Type } from 'cborg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Receipt } from '../../shared/receipts.ts';
import type { IntakeView } from '../../shared/views.ts';
import type { WaveRow, WavesView } from '../../shared/wave-views.ts';
import { waitFor } from '../environment/wait-for.ts';
import { Person } from './person.ts';
import { SPINDLES } from './plant.ts';
import { sealed, startStand, type Stand } from './stand.ts';
import { AMPLITUDE_MS2, OVERALL_MMS, SAMPLE_RATE_HZ, SCALE_MS2, SPEED_RPM } from './windows.ts';

/** Over a minute at 8192 Hz: over a MiB of int16. */
const LARGE_SAMPLES = 600_000;
const INT16 = 77;

let stand: Stand;
let person: Person;

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'sensor-1', kind: 'sensor', serves: ['S-1'] },
      { device: 'sensor-2', kind: 'sensor', serves: ['S-2'] },
    ],
    spindles: SPINDLES,
  });
  const admin = await Person.join(() => stand.url, 'Ada', stand.firstToken());
  person = await admin.invite('Mia', 'maintenance');
}, 90_000);
afterAll(() => stand?.stop());

function sine(samples: number): Int16Array<ArrayBuffer> {
  return Int16Array.from({ length: samples }, (_, n) =>
    Math.round((AMPLITUDE_MS2 / SCALE_MS2) * Math.sin((2 * Math.PI * (SPEED_RPM / 60) * n) / SAMPLE_RATE_HZ)),
  );
}

/** The same message that `sealed` makes, in CBOR, with the counts as a typed array. */
function cborWave(device: string, counts: Int16Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const data = { channel: 'radial-x', sampleRateHz: SAMPLE_RATE_HZ, scaleMS2: SCALE_MS2, speedRpm: SPEED_RPM };
  const message = JSON.parse(sealed(device, 'wave', { ...data, samples: 0 })) as { data: Record<string, unknown> };
  message.data['samples'] = new Uint8Array(counts.buffer);
  const typeEncoders = {
    Uint8Array: (bytes: Uint8Array) => [new Token(Type.tag, INT16), new Token(Type.bytes, bytes)],
  };
  return Uint8Array.from(encode(message, { typeEncoders }));
}

async function analysed(spindleId: string): Promise<WaveRow> {
  return waitFor(`a window of ${spindleId}`, async () => {
    const { waves } = (await person.get<WavesView>(`/api/spindles/${spindleId}/waves`)).body;
    return waves.find(({ state }) => state !== 'waiting');
  });
}

async function expectSamples(waveId: number, counts: Int16Array): Promise<void> {
  const back = new Float32Array((await person.bytes(`/api/waves/${waveId}/samples`)).bytes);
  expect(back).toHaveLength(counts.length);
  expect(back.every((value, n) => value === Math.fround((counts[n] ?? 0) * SCALE_MS2))).toBe(true);
}

test('CBOR by MQTT: kept, analysed, and given back as it was', async () => {
  const sensor = await stand.device('sensor-1');
  const counts = sine(16_384);
  await sensor.publish('wave', Buffer.from(cborWave('sensor-1', counts)));
  const wave = await analysed('S-1');
  expect(wave).toMatchObject({ state: 'analysed', samples: 16_384, kept: true });
  expect(wave.analysis?.overallMmS).toBeCloseTo(OVERALL_MMS, 2);
  await expectSamples(wave.waveId, counts);
  await sensor.stop();
});

test('by HTTP: the receipt once it is kept, the same on a repeat; analysed, and given back as it was', async () => {
  const counts = sine(LARGE_SAMPLES);
  const body = cborWave('sensor-2', counts);
  const post = async (secret: string): Promise<Response> =>
    fetch(`${stand.url}/api/devices/sensor-2/wave`, {
      method: 'POST',
      headers: {
        'content-type': 'application/cbor',
        authorization: `Basic ${Buffer.from(`sensor-2:${secret}`).toString('base64')}`,
      },
      body,
    });
  expect((await post('wrong')).status).toBe(401);
  const kept = await post(stand.secret('sensor-2'));
  const receipt = (await kept.json()) as Receipt;
  expect([kept.status, receipt.outcome]).toEqual([201, 'kept']);
  const again = await post(stand.secret('sensor-2'));
  expect([again.status, await again.json()]).toEqual([200, { ...receipt, outcome: 'duplicate' }]);
  const wave = await analysed('S-2');
  expect(wave).toMatchObject({ waveId: receipt.journal, state: 'analysed', samples: LARGE_SAMPLES });
  expect(wave.analysis?.overallMmS).toBeCloseTo(OVERALL_MMS, 2);
  await expectSamples(wave.waveId, counts);
});

test('what they take is said, once somebody looked', async () => {
  const windows = await waitFor(
    'the room to be looked at',
    async () => (await person.get<IntakeView>('/api/intake')).body.windows,
    40_000,
  );
  expect(windows).toMatchObject({ waiting: 0, pinned: 0, isOver: false, bytesMax: 5e9 });
  expect(windows.bytes).toBeGreaterThan(0);
}, 60_000);
