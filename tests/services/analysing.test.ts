// Between plant and analysis: what a stop left waiting is analysed a few at a time, none skipped for another, and each is told of.
import { afterEach, expect, test } from 'vitest';
import type * as analysingFile from '../../services/analysing.ts';
import type { Told } from '../../services/plant/index.ts';
import type { WaveDone, WaveJob } from '../../shared/wave-job.ts';
import { waitFor } from '../environment/wait-for.ts';
import { sineJob } from './analysis/windows.ts';

const BUILT = new URL('../../build/services/analysing.js', import.meta.url).href;
const { Analysing } = (await import(BUILT)) as typeof analysingFile;

/** A plant of which windows wait, all of one channel; it takes what was made of them. */
class PlantDouble {
  readonly recorded: WaveDone[] = [];
  readonly pages: number[] = [];
  readonly #waiting: readonly WaveJob[];
  readonly #position: number;

  constructor(waiting: readonly WaveJob[], position: number) {
    this.#waiting = waiting;
    this.#position = position;
  }

  call = (name: string, ...[asked]: readonly unknown[]): Promise<never> => {
    switch (name) {
      case 'intake':
        return Promise.resolve({ journal: { position: this.#position } } as never);
      case 'wavesWaiting': {
        const { after, limit } = asked as { readonly after: number; readonly limit: number };
        const page = this.#waiting.filter(({ waveId }) => waveId > after).slice(0, limit);
        this.pages.push(page.length);
        return Promise.resolve(page as never);
      }
      case 'analysed':
        this.recorded.push(...(asked as readonly WaveDone[]));
        return Promise.resolve({ publications: [], holdIds: [], benchAnswers: [], waves: [] } satisfies Told as never);
      default:
        return Promise.reject(new Error(`not asked for: ${name}`));
    }
  };
}

const open: analysingFile.Analysing[] = [];
afterEach(async () => {
  for (const analysing of open.splice(0)) await analysing.close();
});

function started(plant: PlantDouble): { readonly analysing: analysingFile.Analysing; readonly told: Told[] } {
  const told: Told[] = [];
  const log = { warn: (): void => undefined };
  const analysing = new Analysing({ plant, log, tell: (one) => told.push(one) });
  open.push(analysing);
  return { analysing, told };
}

const waiting = (count: number): readonly WaveJob[] =>
  Array.from({ length: count }, (_, index) => sineJob({ waveId: index + 1, samples: 1024 }));

test('more than wait for one channel at once are all analysed, oldest first', async () => {
  const plant = new PlantDouble(waiting(19), 19);
  const { analysing, told } = started(plant);
  await analysing.takeBacklog();
  await waitFor('all of them', () => plant.recorded.length === 19);
  expect(plant.recorded.map(({ waveId, outcome }) => `${waveId} ${outcome.kind}`)).toEqual(
    waiting(19).map(({ waveId }) => `${waveId} analysed`),
  );
  expect(told.length).toBeGreaterThan(0);
  expect(analysing.counts).toMatchObject({ analysed: 19, skipped: 0 });
});

test('what came after the start is not taken for what was left', async () => {
  const plant = new PlantDouble(waiting(6), 3);
  const { analysing } = started(plant);
  await analysing.takeBacklog();
  await waitFor('those of before', () => plant.recorded.length === 3);
  analysing.take([sineJob({ waveId: 7, samples: 1024 })]);
  await waitFor('the one that came', () => plant.recorded.length === 4);
  expect(plant.recorded.map(({ waveId }) => waveId)).toEqual([1, 2, 3, 7]);
});

test('where nothing waits nothing is begun', async () => {
  const plant = new PlantDouble([], 0);
  const { analysing } = started(plant);
  await analysing.takeBacklog();
  expect(plant.pages).toEqual([0]);
  expect(analysing.counts).toEqual({ waiting: 0, analysed: 0, skipped: 0, failed: 0 });
});
