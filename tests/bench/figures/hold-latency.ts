// P3: a held assembly is loaded; how long until the hold on its spindle has reached an andon lamp and a dashboard.
import { setTimeout as pause } from 'node:timers/promises';
import type { FeedFrame } from '../../../shared/feed.ts';
import { outTopic } from '../../../shared/topics.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { listed, median, type Bench } from '../figure.ts';
import { LatencyHistogram } from '../latency-histogram.ts';
import { BACKGROUND_PER_SECOND, BACKGROUND_SENSORS, endBackground, startBackground } from '../plant/background.ts';
import { BENCH_PLANT, heldAssemblyOf, machineOf, READER, spindleOf } from '../plant/bench-plant.ts';
import { connectBenchDevice, type BenchMqtt } from '../plant/bench-device.ts';
import { prepareData, startService, type BenchService } from '../plant/bench-service.ts';
import { openDashboard } from '../plant/dashboards.ts';

const WARM_UP_MS = 5_000;
const MACHINES = 20;
const LOADS_PER_SECOND = 20;
const REASON = 'held-assembly-loaded';
const METHOD =
  `${LOADS_PER_SECOND} loads/s of held assemblies on ${MACHINES} spindles behind ${BACKGROUND_PER_SECOND} messages/s; from ` +
  'the publishing of the load to the hold at a reader on MQTT and in the frame of a dashboard over WebSocket.';

export const holdLatency: Bench = {
  figures: [
    {
      name: 'hold.p99_ms_at_2000',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 50',
      method: `${METHOD} The later of the two.`,
    },
    { name: 'hold.mqtt_p99_ms_at_2000', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
    { name: 'hold.feed_p99_ms_at_2000', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(BACKGROUND_SENSORS);
    const service = await startService(prepared);
    const load = await startBackground(service);
    const trial = await openTrial(service);
    await pause(WARM_UP_MS);
    const runs: Stretch[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      runs.push(await trial.stretch(seconds * 2));
      say(`hold ${repeat + 1} of ${repeats}: MQTT p99 ${runs.at(-1)?.mqtt.quantile(0.99).toFixed(1)} ms`);
    }
    await trial.close();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    const p99 = (pick: (run: Stretch) => LatencyHistogram): readonly number[] =>
      runs.map((run) => pick(run).quantile(0.99));
    const p50 = (pick: (run: Stretch) => LatencyHistogram): number =>
      median(runs.map((run) => pick(run).quantile(0.5)));
    return {
      values: {
        'hold.p99_ms_at_2000': median(p99(({ later }) => later)),
        'hold.mqtt_p99_ms_at_2000': median(p99(({ mqtt }) => mqtt)),
        'hold.feed_p99_ms_at_2000': median(p99(({ feed }) => feed)),
      },
      details: [
        `${runs.map(({ later }) => later.count).join(' ')} loads`,
        `MQTT p50 ${p50(({ mqtt }) => mqtt).toFixed(1)} ms, p99 ${listed(
          p99(({ mqtt }) => mqtt),
          1,
        )} ms`,
        `feed p50 ${p50(({ feed }) => feed).toFixed(1)} ms, p99 ${listed(
          p99(({ feed }) => feed),
          1,
        )} ms`,
      ],
    };
  },
};

interface Stretch {
  readonly mqtt: LatencyHistogram;
  readonly feed: LatencyHistogram;
  readonly later: LatencyHistogram;
}

/** One spindle: empty and waiting for its turn, or loaded and waiting for both to tell. */
interface Place {
  readonly number: number;
  readonly machine: BenchMqtt;
  sentAtMs: number | undefined;
  mqttMs: number | undefined;
  feedMs: number | undefined;
  /** Its last hold is gone from MQTT and its next may come. */
  isFree: boolean;
  readonly seen: Set<string>;
}

async function openTrial(service: BenchService): Promise<Trial> {
  const places: Place[] = [];
  for (let number = 1; number <= MACHINES; number += 1) {
    const machine = await connectBenchDevice(service, machineOf(number));
    const nothing = { sentAtMs: undefined, mqttMs: undefined, feedMs: undefined };
    places.push({ number, machine, ...nothing, isFree: true, seen: new Set() });
  }
  const trial = new Trial(places);
  const reader = await connectBenchDevice(service, READER);
  await reader.listen(outTopic(BENCH_PLANT, 'spindle', '+', 'hold'), (topic, payload, atMs) =>
    trial.takeMqtt(topic, payload, atMs),
  );
  const dashboard = await openDashboard(service, await service.signIn(), (frame, atMs) => trial.takeFrame(frame, atMs));
  trial.onClose(async () => {
    dashboard.close();
    await reader.close();
  });
  return trial;
}

class Trial {
  readonly #places: readonly Place[];
  readonly #bySpindle: ReadonlyMap<string, Place>;
  #into: Stretch = newStretch();
  #turn = 0;
  #close: () => Promise<void> = async () => undefined;

  constructor(places: readonly Place[]) {
    this.#places = places;
    this.#bySpindle = new Map(places.map((place) => [spindleOf(place.number), place]));
  }

  onClose(close: () => Promise<void>): void {
    this.#close = close;
  }

  async stretch(seconds: number): Promise<Stretch> {
    const stretch = newStretch();
    this.#into = stretch;
    const timer = setInterval(() => this.#loadNext(), 1000 / LOADS_PER_SECOND);
    await pause(seconds * 1000);
    clearInterval(timer);
    await waitFor('the last holds', () => this.#places.every((place) => place.isFree));
    return stretch;
  }

  takeMqtt(topic: string, payload: Buffer, atMs: number): void {
    const place = this.#bySpindle.get(topic.split('/').at(-2) ?? '');
    if (place === undefined) return;
    if (payload.length === 0) {
      if (place.sentAtMs === undefined) place.isFree = true;
      return;
    }
    if (place.sentAtMs === undefined || !payload.includes(REASON)) return;
    place.mqttMs ??= atMs;
    this.#complete(place);
  }

  takeFrame(frame: FeedFrame, atMs: number): void {
    if (frame.frame !== 'change') return;
    for (const { subject, reason, holdId, open } of frame.holds) {
      const place = this.#bySpindle.get(subject.id);
      if (place?.sentAtMs === undefined || !open || reason !== REASON || place.seen.has(holdId)) continue;
      place.seen.add(holdId);
      place.feedMs ??= atMs;
      this.#complete(place);
    }
  }

  async close(): Promise<void> {
    for (const { machine } of this.#places) await machine.close();
    await this.#close();
  }

  #loadNext(): void {
    const place = this.#places[this.#turn++ % this.#places.length];
    if (place === undefined || !place.isFree) return;
    place.isFree = false;
    place.mqttMs = undefined;
    place.feedMs = undefined;
    const { number } = place;
    const assemblyId = heldAssemblyOf(number);
    place.sentAtMs = place.machine.send('load', { spindleId: spindleOf(number), action: 'load', assemblyId });
  }

  #complete(place: Place): void {
    const { sentAtMs, mqttMs, feedMs } = place;
    if (sentAtMs === undefined || mqttMs === undefined || feedMs === undefined) return;
    this.#into.mqtt.add(mqttMs - sentAtMs);
    this.#into.feed.add(feedMs - sentAtMs);
    this.#into.later.add(Math.max(mqttMs, feedMs) - sentAtMs);
    place.sentAtMs = undefined;
    place.machine.send('load', { spindleId: spindleOf(place.number), action: 'unload' });
  }
}

function newStretch(): Stretch {
  return { mqtt: new LatencyHistogram(), feed: new LatencyHistogram(), later: new LatencyHistogram() };
}
