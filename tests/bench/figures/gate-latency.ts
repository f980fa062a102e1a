// P14: may this assembly run in this spindle at this speed? Asked over HTTP and over MQTT behind an ordinary load.
import { setTimeout as pause } from 'node:timers/promises';
import { backTopic } from '../../../shared/topics.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { listed, median, type Bench } from '../figure.ts';
import { LatencyHistogram } from '../latency-histogram.ts';
import { BACKGROUND_PER_SECOND, BACKGROUND_SENSORS, endBackground, startBackground } from '../plant/background.ts';
import { assemblyOf, BENCH_PLANT, machineOf, spindleOf } from '../plant/bench-plant.ts';
import { connectBenchDevice } from '../plant/bench-device.ts';
import { prepareData, startService, type BenchService } from '../plant/bench-service.ts';

const WARM_UP_MS = 5_000;
const ASKING = 20;
const ASKED_PER_SECOND = 40;
const METHOD =
  `${ASKED_PER_SECOND} questions/s on each way behind ${BACKGROUND_PER_SECOND} messages/s at QoS 1: over HTTP with a session, ` +
  'until the answer is read; over MQTT from publishing the question to the answer on the asking device’s own topic.';

export const gateLatency: Bench = {
  figures: [
    {
      name: 'gate.p99_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 20',
      method: `${METHOD} The slower way.`,
    },
    { name: 'gate.http_p99_ms', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
    { name: 'gate.mqtt_p99_ms', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(BACKGROUND_SENSORS);
    const service = await startService(prepared);
    const load = await startBackground(service);
    const ways = [await overHttp(service), await overMqtt(service)];
    await pause(WARM_UP_MS);
    const p99: number[][] = ways.map(() => []);
    const p50: number[][] = ways.map(() => []);
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const stretches = await Promise.all(ways.map((way) => asked(way, seconds)));
      for (const [index, stretch] of stretches.entries()) {
        p99[index]?.push(stretch.quantile(0.99));
        p50[index]?.push(stretch.quantile(0.5));
      }
      say(
        `gate ${repeat + 1} of ${repeats}: p99 ${stretches.map((one) => one.quantile(0.99).toFixed(1)).join(', ')} ms`,
      );
    }
    for (const way of ways) await way.close();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    const [http = [], mqtt = []] = p99;
    return {
      values: {
        'gate.p99_ms': Math.max(median(http), median(mqtt)),
        'gate.http_p99_ms': median(http),
        'gate.mqtt_p99_ms': median(mqtt),
      },
      details: [
        `HTTP p50 ${listed(p50[0] ?? [], 1)} ms, p99 ${listed(http, 1)} ms`,
        `MQTT p50 ${listed(p50[1] ?? [], 1)} ms, p99 ${listed(mqtt, 1)} ms`,
      ],
    };
  },
};

interface Way {
  /** Resolves with the milliseconds until the answer. */
  ask(which: number): Promise<number>;
  close(): Promise<void>;
}

/** At a steady pace, whatever comes back. */
async function asked(way: Way, seconds: number): Promise<LatencyHistogram> {
  const histogram = new LatencyHistogram();
  const answers: Promise<void>[] = [];
  for (let number = 0; number < seconds * ASKED_PER_SECOND; number += 1) {
    answers.push(way.ask(number % ASKING).then((ms) => histogram.add(ms)));
    await pause(1000 / ASKED_PER_SECOND);
  }
  await Promise.all(answers);
  return histogram;
}

function question(which: number): Record<'spindleId' | 'assemblyId', string> {
  return { spindleId: spindleOf(which + 1), assemblyId: assemblyOf(which + 1, 4) };
}

async function overHttp(service: BenchService): Promise<Way> {
  const cookie = await service.signIn();
  return {
    ask: async (which) => {
      const query = new URLSearchParams({ ...question(which), speedRpm: '18000' });
      const begun = performance.now();
      const answer = await fetch(`${service.url}/api/gate?${query.toString()}`, { headers: { cookie } });
      const text = await answer.text();
      if (!text.includes('NO OBJECTION')) throw new Error(`the gate answered ${answer.status} ${text}`);
      return performance.now() - begun;
    },
    close: async () => undefined,
  };
}

async function overMqtt(service: BenchService): Promise<Way> {
  const waiting = new Map<number, (atMs: number) => void>();
  const machines = await Promise.all(
    Array.from({ length: ASKING }, async (_, which) => {
      const machine = await connectBenchDevice(service, machineOf(which + 1));
      await machine.listen(backTopic(BENCH_PLANT, machine.device, 'answer'), (_topic, payload, atMs) => {
        if (!payload.includes('NO OBJECTION')) throw new Error(`the gate answered ${payload.toString()}`);
        waiting.get(which)?.(atMs);
        waiting.delete(which);
      });
      return machine;
    }),
  );
  return {
    ask: async (which) => {
      await waitFor('the answer before', () => !waiting.has(which));
      return new Promise((resolve) => {
        const sentAtMs = machines[which]?.send('query', { ...question(which), speedRpm: 18_000 }) ?? 0;
        waiting.set(which, (atMs) => resolve(atMs - sentAtMs));
      });
    },
    close: async () => {
      for (const machine of machines) await machine.close();
    },
  };
}
