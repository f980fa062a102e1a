import { expect, test } from 'vitest';
import { byLoad, pathPoints, pathSpeeds } from '../../../dashboard/vibration/path-shape.ts';
import type { HealthFinding } from '../../../shared/wave-analysis.ts';
import type { WaveRow } from '../../../shared/wave-views.ts';

const wave = (at: number, speedRpm: number | undefined, health: HealthFinding[] = [], orders = [1, 2]): WaveRow => ({
  waveId: at,
  at,
  device: 'sensor-1',
  channel: 'x',
  sampleRateHz: 20_000,
  samples: 40_000,
  state: 'analysed',
  kept: true,
  pinnedBy: [],
  analysis: {
    sampleRateHz: 20_000,
    samples: 40_000,
    speedFrom: speedRpm === undefined ? 'unknown' : 'tacho',
    bandHz: [10, 1000],
    overallMmS: 1,
    accelerationRmsMS2: 1,
    accelerationPeakMS2: 3,
    crestFactor: 3,
    kurtosis: 3,
    bearings: [],
    health,
    orders: orders.map((order) => ({ order, frequencyHz: order * 30, velocityMmS: order / 2, phaseDeg: 90 })),
    ...(speedRpm === undefined ? {} : { speedRpm }),
  },
});
const load = (at: number, ordinal: number) => ({ at, assemblyId: `A-${ordinal}`, ordinal });

test('only windows with a speed, a 1× and a healthy signal are on the path, oldest first', () => {
  const clipped: HealthFinding = { kind: 'clipped', weight: 'unusable', words: 'cut off' };
  const bias: HealthFinding = { kind: 'bias', weight: 'doubtful', words: 'off zero' };
  const { analysis: _none, ...waiting } = wave(60, 1800);
  const points = pathPoints([
    wave(50, 1800, [bias]),
    wave(40, 1800, [clipped]),
    wave(30, undefined),
    wave(20, 1800, [], [2]),
    wave(10, 1800),
    { ...waiting, state: 'waiting' },
  ]);
  expect(points.map(({ at }) => at)).toEqual([10, 50]);
  expect(points[0]).toEqual({ waveId: 10, at: 10, speedRpm: 1800, velocityMmS: 0.5, phaseDeg: 90 });
});

test('speeds that differ by less than two per cent are one', () => {
  const points = pathPoints([1800, 1810, 12_000, 1805, 18_000].map((speed, at) => wave(at, speed)));
  expect(pathSpeeds(points)).toEqual([1805, 12_000, 18_000]);
});

test('points are joined per load; before the first load nobody knows what was clamped', () => {
  const points = pathPoints([1, 2, 5, 6, 9].map((at) => wave(at, 1800)));
  const paths = byLoad(points, [load(8, 3), load(4, 2)]);
  expect(paths.map((path) => [path.load?.ordinal, path.points.map(({ at }) => at)])).toEqual([
    [undefined, [1, 2]],
    [2, [5, 6]],
    [3, [9]],
  ]);
});
