// Raw windows in the trends: what was made of each, listed and laid side by side, whatever was dropped or read again.
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import type { Arrival, Journal } from '../../../services/journal/index.ts';
import { Trends } from '../../../services/trends/index.ts';
import type { WaveAnalysis } from '../../../shared/wave-analysis.ts';
import type { WaveOutcome } from '../../../shared/wave-job.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { QUIET_WINDOW } from '../quiet-window.ts';
import { MORNING, newJournal } from './plant.ts';

const folders: Folder[] = [];
afterEach(() => folders.splice(0).forEach((folder) => folder.remove()));

const ANALYSIS: WaveAnalysis = {
  ...QUIET_WINDOW,
  samples: 256,
  levels: { lowestHz: 10, bandsPerOctave: 3, velocityMmS: [0.1, 0.2, 0.3] },
};

const MINUTE = 60_000;
const ALL = { spindleId: 'S-1', from: MORNING, to: MORNING + 1000 * MINUTE, chosen: 'newest' } as const;

class Plant {
  position = 0;
  readonly #journal: Journal;

  constructor(journal: Journal) {
    this.#journal = journal;
  }

  async window(atMinute: number, channel = 'radial-x', spindleId = 'S-1', asked?: string): Promise<number> {
    const at = MORNING + 2000 * MINUTE + this.position;
    const data = {
      spindleId,
      channel,
      sampleRateHz: 12_800,
      encoding: 'int16',
      scaleMS2: 0.01,
      sampleCount: 256,
      ...(asked === undefined ? {} : { asked }),
    } as const;
    const time = MORNING + atMinute * MINUTE;
    await this.#append({
      draft: { kind: 'wave', at, device: 'q-1', id: `w-${this.position}`, time, data },
      counts: new Uint8Array(512),
    });
    return this.position;
  }

  async made(wave: number, outcome: Partial<WaveAnalysis> | Exclude<WaveOutcome, { kind: 'analysed' }>): Promise<void> {
    const at = MORNING + 2000 * MINUTE + this.position;
    const whole: WaveOutcome = 'why' in outcome ? outcome : { kind: 'analysed', analysis: { ...ANALYSIS, ...outcome } };
    const draft = {
      kind: 'analysed',
      at,
      wave,
      device: 'q-1',
      spindleId: 'S-1',
      channel: 'radial-x',
      measuredAt: at,
    } as const;
    await this.#append({ draft: { ...draft, outcome: whole } });
  }

  async #append(arrival: Arrival): Promise<void> {
    await this.#journal.append([arrival], () => []);
    this.position += 1;
  }
}

async function started(): Promise<{ plant: Plant; journal: Journal; trends: Trends; again: () => Promise<Trends> }> {
  const folder = makeFolder('windows');
  folders.push(folder);
  const file = join(folder.path, 'trends.sqlite');
  const journal = await newJournal();
  const trends = await Trends.open(journal, file);
  return { plant: new Plant(journal), journal, trends, again: () => Trends.open(journal, file) };
}

describe('windows of a spindle', () => {
  test('are listed newest first with what was made of them, by the time of measuring', async () => {
    const { plant, trends } = await started();
    const [late, early, skipped] = [await plant.window(30), await plant.window(10), await plant.window(20)];
    await plant.window(15, 'radial-x', 'S-2');
    await plant.made(late, { overallMmS: 2.5 });
    await plant.made(skipped, { kind: 'skipped', why: 'too many' });
    await trends.catchUp();
    const { waves, more } = await trends.windows({ ...ALL, limit: 10 });
    expect(waves.map(({ waveId, state, why }) => [waveId, state, why])).toEqual([
      [late, 'analysed', undefined],
      [skipped, 'skipped', 'too many'],
      [early, 'waiting', undefined],
    ]);
    const { levels: _levels, ...kept } = { ...ANALYSIS, overallMmS: 2.5 };
    expect(waves[0]).toMatchObject({
      at: MORNING + 30 * MINUTE,
      device: 'q-1',
      samples: 256,
      kept: true,
      analysis: kept,
    });
    expect(more).toBe(false);
  });

  test('of a clock that is ahead stand where they came, and say by how much', async () => {
    const { plant, trends } = await started();
    const [sound, ahead] = [await plant.window(1), await plant.window(5000)];
    await trends.catchUp();
    const { waves } = await trends.windows({ ...ALL, to: MORNING + 6000 * MINUTE, limit: 10 });
    // It came a millisecond after the first.
    const cameAt = MORNING + 2000 * MINUTE + sound;
    expect(waves.map((wave) => [wave.waveId, wave.at, wave.clockAheadMs])).toEqual([
      [ahead, cameAt, MORNING + 5000 * MINUTE - cameAt],
      [sound, MORNING + MINUTE, undefined],
    ]);
  });

  test('that were asked for say of which question', async () => {
    const { plant, trends } = await started();
    const itself = await plant.window(1);
    const asked = await plant.window(2, 'radial-x', 'S-1', 'ask-17');
    await trends.catchUp();
    const { waves } = await trends.windows({ ...ALL, limit: 10 });
    expect(waves.map((wave) => [wave.waveId, wave.asked])).toEqual([
      [asked, 'ask-17'],
      [itself, undefined],
    ]);
    expect(await trends.window(asked)).toMatchObject({ asked: 'ask-17' });
  });

  test('are the newest where there are more than were asked for', async () => {
    const { plant, trends } = await started();
    for (let minute = 0; minute < 21; minute += 1) await plant.window(minute);
    await trends.catchUp();
    const { waves, more } = await trends.windows({ ...ALL, limit: 3 });
    expect(waves.map(({ at }) => (at - MORNING) / MINUTE)).toEqual([20, 19, 18]);
    expect(more).toBe(true);
    expect((await trends.windows({ ...ALL, limit: 21 })).more).toBe(false);
  });

  test('of a long time are as many as asked for, evenly over it, the newest among them', async () => {
    const { plant, trends } = await started();
    for (let minute = 0; minute < 21; minute += 1) await plant.window(minute);
    await trends.catchUp();
    const { waves, more } = await trends.windows({ ...ALL, chosen: 'evenly', limit: 5 });
    expect(waves.map(({ at }) => (at - MORNING) / MINUTE)).toEqual([20, 15, 10, 5, 0]);
    expect(more).toBe(true);
    const one = await trends.windows({ ...ALL, chosen: 'evenly', limit: 1 });
    expect(one.waves.map(({ at }) => (at - MORNING) / MINUTE)).toEqual([20]);
  });

  test('whose samples were dropped are still listed, and say so', async () => {
    const { plant, trends, journal } = await started();
    const [first, second] = [await plant.window(1), await plant.window(2)];
    await journal.dropWaves([first]);
    await trends.catchUp();
    const { waves } = await trends.windows({ ...ALL, limit: 10 });
    expect(waves.map(({ waveId, kept }) => [waveId, kept])).toEqual([
      [second, true],
      [first, false],
    ]);
    expect(await trends.window(first)).toMatchObject({ waveId: first, spindleId: 'S-1', kept: false });
    expect(await trends.window(second)).toMatchObject({ kept: true });
    expect(await trends.window(77)).toBeUndefined();
  });

  test('stay what they are when the same is read again after a stop', async () => {
    const { plant, trends, again } = await started();
    const wave = await plant.window(1);
    await plant.made(wave, {});
    await trends.catchUp();
    const before = await trends.windows({ ...ALL, limit: 10 });
    await trends.close();
    const reopened = await again();
    await reopened.catchUp();
    expect(await reopened.windows({ ...ALL, limit: 10 })).toEqual(before);
    await reopened.close();
  });
});

describe('levels over time', () => {
  const columns = (view: ReturnType<Trends['spectrogram']>) =>
    view.columns.map(({ at, velocityMmS }) => [(at - MORNING) / MINUTE, velocityMmS]);

  test('are laid over each other by frequency; where a window does not reach there is nothing', async () => {
    const { plant, trends } = await started();
    await plant.made(await plant.window(1), {});
    const higher = { lowestHz: 20, bandsPerOctave: 3, velocityMmS: [0.7, 0.8] };
    await plant.made(await plant.window(2), { levels: higher, speedRpm: 9000 });
    await trends.catchUp();
    const view = trends.spectrogram({ ...ALL, columns: 100 });
    expect(view).toMatchObject({ lowestHz: 10, bandsPerOctave: 3, bands: 5 });
    expect(columns(view)).toEqual([
      [1, [0.1, 0.2, 0.3, null, null]],
      [2, [null, null, null, 0.7, 0.8]],
    ]);
    expect(view.columns.map(({ speedRpm }) => speedRpm)).toEqual([12_000, 9000]);
  });

  test('are no more columns than asked for, and the loudest of each stretch stays', async () => {
    const { plant, trends } = await started();
    for (let minute = 0; minute < 100; minute += 1)
      await plant.made(await plant.window(minute), { overallMmS: minute === 37 ? 9 : 1 });
    await trends.catchUp();
    const { columns: found } = trends.spectrogram({ ...ALL, to: MORNING + 100 * MINUTE, columns: 10 });
    expect(found).toHaveLength(10);
    expect(found.map(({ at }) => (at - MORNING) / MINUTE)).toContain(37);
  });

  test('of a signal that is not to be used are left out, however loud; those of a doubtful one are not', async () => {
    const { plant, trends } = await started();
    const health = (weight: 'unusable' | 'doubtful'): WaveAnalysis['health'] => [
      { kind: 'scale', weight, words: 'more than usual' },
    ];
    await plant.made(await plant.window(1), {});
    await plant.made(await plant.window(2), { overallMmS: 1000, health: health('unusable') });
    await plant.made(await plant.window(3), { health: health('doubtful') });
    await trends.catchUp();
    expect(columns(trends.spectrogram({ ...ALL, columns: 1000 })).map(([minute]) => minute)).toEqual([1, 3]);
    const { waves } = await trends.windows({ ...ALL, limit: 9 });
    expect(waves.map(({ analysis }) => analysis?.overallMmS)).toEqual([1, 1000, 1]);
  });

  test('are of one channel: that with most windows, or the one asked for', async () => {
    const { plant, trends } = await started();
    for (const [minute, channel] of [
      ['1', 'x'],
      ['2', 'y'],
      ['3', 'y'],
    ] as const)
      await plant.made(await plant.window(Number(minute), channel), {});
    await trends.catchUp();
    expect(trends.spectrogram({ ...ALL, columns: 10 }).columns).toHaveLength(2);
    expect(trends.spectrogram({ ...ALL, columns: 10, channel: 'x' }).columns).toHaveLength(1);
  });

  test('of nothing are no columns', async () => {
    const { trends } = await started();
    expect(trends.spectrogram({ ...ALL, columns: 10 })).toMatchObject({ lowestHz: 0, bands: 0, columns: [] });
  });
});
