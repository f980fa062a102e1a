// P4 and P11: what 2,000 sensors at one message a second and 20 dashboards take of the machine.
import { setTimeout as pause } from 'node:timers/promises';
import { listed, median, type Bench } from '../figure.ts';
import { endBackground, startBackground } from '../plant/background.ts';
import { prepareData, startService } from '../plant/bench-service.ts';
import { openDashboard } from '../plant/dashboards.ts';
import { cpuSecondsOf, residentMbOf, threadSecondsOf } from '../plant/process-use.ts';

const SPINDLES = 2_000;
const DASHBOARDS = 20;
const WARM_UP_MS = 30_000;
const METHOD =
  `${SPINDLES} sensors, a connection and a credential each, one summary a second; ${DASHBOARDS} dashboards on the feed. ` +
  'As the kernel counts the process of the service, after half a minute, over stretches of twice the seconds.';

export const standingLoad: Bench = {
  figures: [
    {
      name: 'memory.mb_2000_spindles',
      unit: 'MB',
      better: 'lower',
      baseline: null,
      goal: '≤ 350',
      method: `${METHOD} Resident memory, the most in each stretch.`,
    },
    {
      name: 'cpu.share_2000_spindles',
      unit: 'cores',
      better: 'lower',
      baseline: 0.35,
      goal: '≤ 0.7',
      method: `${METHOD} Processor time of all threads ÷ time.`,
    },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(SPINDLES);
    const service = await startService(prepared);
    const cookie = await service.signIn();
    const load = await startBackground(service, { sensors: SPINDLES, ratePerSecond: SPINDLES, window: 4 });
    const dashboards = await Promise.all(Array.from({ length: DASHBOARDS }, () => openDashboard(service, cookie)));
    say(`${SPINDLES} sensors and ${DASHBOARDS} dashboards connected; ${WARM_UP_MS / 1000} s until it is measured`);
    await pause(WARM_UP_MS);
    const memory: number[] = [];
    const cpu: number[] = [];
    const threadsBefore = threadSecondsOf(service.pid);
    const begunMs = performance.now();
    await load.reset();
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const [before, beforeMs] = [cpuSecondsOf(service.pid), performance.now()];
      const resident: number[] = [];
      for (let second = 0; second < seconds * 2; second += 1) {
        await pause(1000);
        resident.push(residentMbOf(service.pid));
      }
      memory.push(Math.max(...resident));
      cpu.push((cpuSecondsOf(service.pid) - before) / ((performance.now() - beforeMs) / 1000));
      say(
        `standing load ${repeat + 1} of ${repeats}: ${memory.at(-1)?.toFixed(0)} MB, ${cpu.at(-1)?.toFixed(2)} cores`,
      );
    }
    const measuredS = (performance.now() - begunMs) / 1000;
    const threads = threadSecondsOf(service.pid).map((used, index) => (used - (threadsBefore[index] ?? 0)) / measuredS);
    const { perSecond, latencyMs } = await load.report();
    const frames = dashboards.map((dashboard) => dashboard.frames());
    for (const dashboard of dashboards) dashboard.close();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    return {
      values: { 'memory.mb_2000_spindles': median(memory), 'cpu.share_2000_spindles': median(cpu) },
      details: [
        `${perSecond.toFixed(0)} messages/s, acknowledged after p50 ${latencyMs.p50.toFixed(2)} ms, p99 ${latencyMs.p99.toFixed(1)} ms`,
        `memory ${listed(memory, 0)} MB; cores ${listed(cpu, 2)}, busiest threads ${listed(threads.toSorted((a, b) => b - a).slice(0, 3), 2)}`,
        `frames on each dashboard from ${Math.min(...frames)} to ${Math.max(...frames)}`,
      ],
    };
  },
};
