// Raw readings to advice: a bench sends its index readings over MQTT and waits for what would correct the assembly.
import { setTimeout as pause } from 'node:timers/promises';
import { backTopic } from '../../../shared/topics.ts';
import { listed, median, type Bench } from '../figure.ts';
import { LatencyHistogram } from '../latency-histogram.ts';
import { BACKGROUND_PER_SECOND, BACKGROUND_SENSORS, endBackground, startBackground } from '../plant/background.ts';
import { connectBenchDevice, type BenchMqtt } from '../plant/bench-device.ts';
import { BENCH_PLANT, TOOL_ROOM } from '../plant/bench-plant.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const WARM_UP_MS = 5_000;
/** Thousands of times what the benches of a plant measure. */
const RESULTS_PER_SECOND = 10;
const METHOD =
  `${RESULTS_PER_SECOND} results/s of raw readings (0° and 180°), each of another assembly, 4 to 12 g·mm over what is permissible, behind ` +
  `${BACKGROUND_PER_SECOND} messages/s at QoS 1: from publishing to the answer with its advice for eight screw holes with five masses, two rings and a drilled collar.`;

export const adviceLatency: Bench = {
  figures: [
    { name: 'advice.p99_ms', unit: 'ms', better: 'lower', baseline: null, goal: '≤ 100', method: METHOD },
    { name: 'advice.p50_ms', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(BACKGROUND_SENSORS);
    const service = await startService(prepared);
    const load = await startBackground(service);
    const bench = await connectBenchDevice(service, TOOL_ROOM);
    const asking = await Asking.begin(bench);
    await asking.stretch(WARM_UP_MS / 1000);
    const p99: number[] = [];
    const p50: number[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const stretch = await asking.stretch(seconds);
      p99.push(stretch.quantile(0.99));
      p50.push(stretch.quantile(0.5));
      say(`advice ${repeat + 1} of ${repeats}: p99 ${stretch.quantile(0.99).toFixed(1)} ms`);
    }
    await bench.close();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    return {
      values: { 'advice.p99_ms': median(p99), 'advice.p50_ms': median(p50) },
      details: [`raw readings to advice p50 ${listed(p50, 1)} ms, p99 ${listed(p99, 1)} ms`],
    };
  },
};

const FEATURES = [
  {
    kind: 'set-screws',
    featureId: 'screws',
    radiusMm: 21,
    holesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
    stock: [0.1, 0.2, 0.35, 0.5, 0.8].map((massG) => ({ massG })),
  },
  { kind: 'rings', featureId: 'rings', eachGmm: [30, 30], graduationDeg: 2 },
  {
    kind: 'radial-holes',
    featureId: 'collar',
    radiusMm: 31,
    densityGCm3: 7.85,
    depthMaxMm: 8,
    diametersMm: [4, 6],
    keepClear: [{ fromDeg: 345, toDeg: 15 }],
  },
];

interface AnswerMessage {
  readonly data: { readonly assemblyId: string; readonly advice?: { readonly plans: readonly unknown[] } };
}

/** Results at a steady pace, and who waits for the answer to which. */
class Asking {
  readonly #bench: BenchMqtt;
  readonly #waiting = new Map<string, (atMs: number) => void>();
  #made = 0;

  private constructor(bench: BenchMqtt) {
    this.#bench = bench;
  }

  static async begin(bench: BenchMqtt): Promise<Asking> {
    const asking = new Asking(bench);
    await bench.listen(backTopic(BENCH_PLANT, bench.device, 'answer'), (_topic, payload, atMs) => {
      const { assemblyId, advice } = (JSON.parse(payload.toString()) as AnswerMessage).data;
      // One that had to be told without is followed by one with it.
      if (advice === undefined || advice.plans.length === 0) return;
      asking.#waiting.get(assemblyId)?.(atMs);
      asking.#waiting.delete(assemblyId);
    });
    return asking;
  }

  async stretch(seconds: number): Promise<LatencyHistogram> {
    const histogram = new LatencyHistogram();
    const answers: Promise<void>[] = [];
    for (let number = 0; number < seconds * RESULTS_PER_SECOND; number += 1) {
      answers.push(this.#ask().then((ms) => histogram.add(ms)));
      await pause(1000 / RESULTS_PER_SECOND);
    }
    await Promise.all(answers);
    return histogram;
  }

  #ask(): Promise<number> {
    this.#made += 1;
    const assemblyId = `T-${this.#made}`;
    const buildId = `B-${this.#made}`;
    const amountGmm = 4 + (this.#made % 9);
    const angleDeg = (this.#made * 37) % 360;
    this.#bench.send('build', {
      assemblyId,
      buildId,
      massKg: 1.2,
      serviceSpeedRpm: 18_000,
      gradeMmS: 2.5,
      parts: [{ role: 'holder', name: 'invented holder' }],
      features: FEATURES,
    });
    return new Promise((resolve) => {
      const readings = [0, 180].map((indexDeg) => ({
        indexDeg,
        planes: [{ amountGmm, angleDeg: (angleDeg + indexDeg) % 360 }],
      }));
      const error = { smallestAchievableGmm: 0.1 };
      const sentAtMs = this.#bench.send('result', { assemblyId, buildId, measuredAtRpm: 1100, readings, error });
      this.#waiting.set(assemblyId, (atMs) => resolve(atMs - sentAtMs));
    });
  }
}
