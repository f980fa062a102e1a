// The analysis in a thread of its own: each window told of once, bounded, given up where it is stuck, and out of the way of others.
import { readdirSync, readFileSync } from 'node:fs';
import { getPriority } from 'node:os';
import { afterEach, describe, expect, test } from 'vitest';
import type * as analysisPart from '../../../services/analysis/index.ts';
import { THREAD_NICENESS } from '../../../services/analysis/limits.ts';
import { unpackCounts } from '../../../services/packing/index.ts';
import type { WaveDone, WaveJob } from '../../../shared/wave-job.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { sineJob } from './windows.ts';

const BUILT = new URL('../../../build/services/analysis/index.js', import.meta.url).href;
const { openAnalysis } = (await import(BUILT)) as typeof analysisPart;

const open: analysisPart.Analysis[] = [];
afterEach(async () => {
  for (const analysis of open.splice(0)) await analysis.close();
});

interface Bench {
  readonly analysis: analysisPart.Analysis;
  readonly done: WaveDone[];
  readonly troubles: string[];
  readonly all: (count: number) => Promise<unknown>;
}

function opened(limits: Partial<analysisPart.AnalysisLimits> = {}, wait?: Promise<void>): Bench {
  const done: WaveDone[] = [];
  const troubles: string[] = [];
  const take = async (told: readonly WaveDone[]): Promise<void> => {
    done.push(...told);
    await wait;
  };
  const analysis = openAnalysis({ done: take, trouble: (why) => troubles.push(why) }, limits);
  open.push(analysis);
  return { analysis, done, troubles, all: (count) => waitFor(`${count} windows`, () => done.length >= count) };
}

const kinds = (done: readonly WaveDone[]): readonly string[] =>
  done.toSorted((a, b) => a.waveId - b.waveId).map(({ outcome }) => outcome.kind);

describe('a window', () => {
  test('becomes numbers, and its samples smaller without losing a bit', async () => {
    const { analysis, done, all } = opened();
    const job = sineJob({ waveId: 7, amplitudeMS2: 10, frequencyHz: 100 });
    const counts = Uint8Array.from(job.counts);
    analysis.offer(job);
    await all(1);
    const [{ outcome, packed } = {} as WaveDone] = done;
    if (outcome.kind !== 'analysed') throw new Error(outcome.why);
    // v = a / ω: 10 m/s² peak at 100 Hz is 15.92 mm/s peak, 11.25 mm/s RMS. Mechanics of harmonic motion.
    expect(outcome.analysis.overallMmS).toBeCloseTo(11.254, 1);
    expect(outcome.analysis.orders[0]?.velocityMmS).toBeCloseTo(11.254, 1);
    expect(packed?.length).toBeLessThan(counts.length);
    expect(unpackCounts(packed ?? counts, 'int16')).toEqual(counts);
    expect(analysis.counts).toEqual({ waiting: 0, analysed: 1, skipped: 0, failed: 0 });
  });

  test('that cannot be read is said to be so, and the next is analysed', async () => {
    const { analysis, done, all } = opened();
    analysis.offer({ ...sineJob({ waveId: 1 }), counts: new Uint8Array(5) });
    analysis.offer(sineJob({ waveId: 2 }));
    await all(2);
    expect(kinds(done)).toEqual(['failed', 'analysed']);
    expect(done[0]?.outcome).toMatchObject({ why: expect.stringContaining('whole counts') as string });
  });

  test('that takes too long is given up, and the next is analysed by another thread', async () => {
    // A thread takes longer than this to start.
    const { analysis, done, troubles, all } = opened({ stuckMs: 1 });
    analysis.offer(sineJob({ waveId: 1 }));
    await all(1);
    expect(done[0]?.outcome).toEqual({ kind: 'failed', why: 'it took too long' });
    expect(troubles).toEqual(['it took too long']);
  });
});

describe('too many windows', () => {
  test('are skipped and said so at once, and each is told of once', async () => {
    let goOn: () => void = () => undefined;
    const { analysis, done, all } = opened({ windowsPerChannelMax: 2 }, new Promise((resolve) => (goOn = resolve)));
    for (let waveId = 1; waveId <= 6; waveId += 1) analysis.offer(sineJob({ waveId, samples: 1024 }));
    await all(1);
    goOn();
    await all(6);
    expect(kinds(done)).toEqual(['analysed', 'skipped', 'skipped', 'skipped', 'analysed', 'analysed']);
    expect(analysis.counts).toEqual({ waiting: 0, analysed: 3, skipped: 3, failed: 0 });
  });

  test('do not hold up those that can be, however long they keep coming', async () => {
    const { analysis, done, all } = opened({ windowsPerChannelMax: 1 });
    let waveId = 0;
    const flood = setInterval(() => analysis.offer(sineJob({ waveId: (waveId += 1), samples: 1024 })), 1);
    await waitFor('windows analysed in the flood', () => kinds(done).filter((kind) => kind === 'analysed').length > 20);
    clearInterval(flood);
    await all(waveId);
    expect(analysis.counts).toMatchObject({ waiting: 0, failed: 0 });
  });

  test('of one sensor cost another sensor none', async () => {
    const { analysis, done, all } = opened({ windowsPerChannelMax: 2 });
    const quiet: WaveJob = { ...sineJob({ waveId: 50 }), device: 'S-2' };
    for (let waveId = 1; waveId <= 20; waveId += 1) analysis.offer(sineJob({ waveId, samples: 1024 }));
    analysis.offer(quiet);
    await all(21);
    expect(done.find(({ waveId }) => waveId === 50)?.outcome.kind).toBe('analysed');
  });
});

/** Of each thread of this process; the niceness is the seventeenth value after the name (proc(5), stat). */
function nicenesses(): readonly number[] {
  return readdirSync('/proc/self/task').map((thread) => {
    const stat = readFileSync(`/proc/self/task/${thread}/stat`, 'utf8');
    return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16]);
  });
}

test.runIf(process.platform === 'linux')('the thread gives way to the others, and only the thread', async () => {
  const before = getPriority();
  const { analysis, all } = opened();
  analysis.offer(sineJob({ waveId: 1 }));
  await all(1);
  expect(getPriority()).toBe(before);
  expect(nicenesses().filter((niceness) => niceness === before + THREAD_NICENESS)).toHaveLength(1);
});

test('what waits at the end is told of no more', async () => {
  const { analysis, done } = opened();
  for (let waveId = 1; waveId <= 4; waveId += 1) analysis.offer(sineJob({ waveId }));
  await analysis.close();
  const told = done.length;
  analysis.offer(sineJob({ waveId: 9 }));
  expect(done).toHaveLength(told);
  expect(told).toBeLessThan(4);
});
