// What a spindle's page and row say of its raw windows.
import { expect, test } from 'vitest';
import type { Draft } from '../../../shared/entries.ts';
import type { WaveAnalysis } from '../../../shared/wave-analysis.ts';
import { SpindleView } from '../../../shared/views.ts';
import { QUIET_WINDOW } from '../quiet-window.ts';
import { declare, reading, running, START } from './invented-floor.ts';

const ANALYSIS: WaveAnalysis = {
  ...QUIET_WINDOW,
  speedRpm: 18_000,
  bearings: [
    { bearing: 'rear', part: 'inner', expectedHz: 2400, indicator: 12, harmonics: 2, sidebands: 4, speaks: true },
  ],
  health: [{ kind: 'mounting', weight: 'doubtful', words: 'it may be loose' }],
};

const wave: Draft = {
  kind: 'wave',
  at: START,
  id: 'w-1',
  device: 'q-1',
  data: {
    spindleId: 'S-1',
    channel: 'axial',
    sampleRateHz: 12_800,
    encoding: 'int16',
    scaleMS2: 0.01,
    sampleCount: 4096,
  },
};

const analysed = (nth: number): Draft => ({
  kind: 'analysed',
  at: START + nth,
  wave: 2 + nth,
  device: 'q-1',
  spindleId: 'S-1',
  channel: 'axial',
  measuredAt: START,
  outcome: { kind: 'analysed', analysis: ANALYSIS },
});

test('health in words first, then bearing parts that have spoken for long, and the row asks for a look', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), reading('S-1', 1)]);
  expect(keeper.spindleView('S-1')?.windows).toBeUndefined();
  await append([wave, ...[1, 2, 3].map(analysed)]);
  const view = SpindleView.parse(keeper.spindleView('S-1'));
  const words =
    'the envelope speaks of the inner race of its bearing rear, 12 times its noise, in 3 windows: have the bearing looked at';
  expect(view.windows).toMatchObject({
    waveId: 3,
    device: 'q-1',
    channel: 'axial',
    health: [{ channel: 'axial', weight: 'doubtful', words: 'it may be loose' }],
    speaking: [{ bearing: 'rear', part: 'inner', words }],
  });
  expect(view.row).toMatchObject({ standing: 'watch', why: words });
});

test('a hold for vibration says first what is doubtful of the signal that it was raised on', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), reading('S-1', 1), wave, analysed(1)]);
  await append(Array.from({ length: 8 }, () => reading('S-1', 9)));
  const [hold] = keeper.holds({ state: 'open', limit: 9 });
  expect(hold).toMatchObject({ reason: 'overall-over-limit' });
  expect(hold?.checkFirst[0]).toBe('Can its signal be believed? The last raw window on axial: it may be loose.');
});
