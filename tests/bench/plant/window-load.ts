// Raw windows as load: 25,600 samples each, of sensors that send nothing else, from another process.
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { inTopic } from '../../../shared/topics.ts';
import { openLoadProcess, type LoadProcess } from '../mqtt-load-process.ts';
import { TIME_MARK } from '../mqtt-load.ts';
import { BACKGROUND_SENSORS } from './background.ts';
import { BENCH_PLANT, sensorOf } from './bench-plant.ts';
import type { BenchService } from './bench-service.ts';

/** Sensors of their own, beside those that send readings. */
export const WINDOW_SENSORS = 20;
const SAMPLES = 25_600;
const SAMPLE_RATE_HZ = 25_600;
const SPEED_RPM = 18_000;
const SCALE_MS2 = 0.01;
/** In flight per sensor: it sends the next one only when it is rid of the last but one. */
const WINDOW = 2;

export async function startWindows(service: BenchService, ratePerSecond: number): Promise<LoadProcess> {
  const numbers = Array.from({ length: WINDOW_SENSORS }, (_, index) => BACKGROUND_SENSORS + 1 + index);
  const boot = `w${Date.now().toString(36)}`;
  const load = await openLoadProcess({
    port: service.port,
    window: WINDOW,
    ratePerSecond,
    clients: numbers.map((number) => {
      const device = sensorOf(number);
      const password = service.secrets[device] ?? '';
      return { clientId: device, username: device, password, topic: inTopic(BENCH_PLANT, device, 'wave') };
    }),
    payload: { templates: numbers.map((number) => windowTemplate(number, boot)) },
  });
  await load.go();
  return load;
}

/** Orders, a tone that is none, and noise of a plain counter: what an analysis has to work on. */
function windowTemplate(sensor: number, boot: string): string {
  const shaft = (2 * Math.PI * SPEED_RPM) / 60 / SAMPLE_RATE_HZ;
  let state = sensor;
  const noise = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32 - 0.5;
  };
  const counts = Int16Array.from({ length: SAMPLES }, (_, n) =>
    Math.round(
      (6 * Math.sin(shaft * n) + 2 * Math.sin(2 * shaft * n) + Math.sin(3.7 * shaft * n) + 8 * noise()) / SCALE_MS2,
    ),
  );
  return JSON.stringify({
    specversion: '1.0',
    id: `${boot}-~~~~~~~~~~`,
    source: deviceSource(BENCH_PLANT, sensorOf(sensor)),
    type: MESSAGE_TYPES.wave,
    time: TIME_MARK,
    bootid: boot,
    sequence: '~~~~~~~~~~',
    data: {
      channel: 'radial-x',
      sampleRateHz: SAMPLE_RATE_HZ,
      encoding: 'int16',
      scaleMS2: SCALE_MS2,
      speedRpm: SPEED_RPM,
      samples: Buffer.from(counts.buffer).toString('base64'),
    },
  });
}
