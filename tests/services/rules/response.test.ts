// The first plain correlation: what a spindle answers to unbalance, learned from comparable readings without holds.
import { expect, test } from 'vitest';
import type { Floor, SpeedBin } from '../../../services/rules/floor.ts';
import { expectedMmS, explains, lineThrough } from '../../../services/rules/response.ts';
import { nearestBin } from '../../../services/rules/speed-bin.ts';
import { POINTS_PER_SPINDLE_MAX } from '../../../services/rules/limits.ts';
import { play } from './play.ts';

function binAt(floor: Floor, speedRpm = 18_000): SpeedBin | undefined {
  const live = floor.spindles.get('S-1')?.live;
  return live === undefined ? undefined : nearestBin(live, speedRpm);
}

/** V² = 0.09·U² + 0.16: three loads of known residual, some readings each. */
function loads(amounts: readonly number[]): string {
  return amounts
    .map((amount, index) => {
      const hour = String(7 + index).padStart(2, '0');
      const one = Math.sqrt(0.09 * amount * amount + 0.16).toFixed(4);
      return `
        ${hour}:00 build   A-${index + 1} 1.2 kg 18,000 rpm G16
        ${hour}:01 result  A-${index + 1} ${amount} g·mm
        ${hour}:05 load    A-${index + 1} in S-1 at 18000 rpm
        ${hour}:06 reading S-1 overall 3 1x ${one} stuck ×5 every 20 s
        ${hour}:30 unload  S-1`;
    })
    .join('\n');
}

test('three loads draw the line; the next load is expected by it', () => {
  const { floor } = play(loads([1, 2, 4]));
  const line = binAt(floor)?.line;
  expect(line?.loads).toBe(3);
  expect(line?.slope).toBeCloseTo(0.09, 3);
  expect(line?.own).toBeCloseTo(0.16, 3);
  expect(line?.correlation).toBeCloseTo(1, 6);
  const { outcomes } = play(
    `
    12:00 build   A-9 1.2 kg 18,000 rpm G16
    12:01 result  A-9 3 g·mm
    12:05 load    A-9 in S-1 at 18000 rpm
    12:06 reading S-1 overall 3 1x 1.0`,
    floor,
  );
  const features = outcomes.find((outcome) => outcome.kind === 'reading-features')?.features;
  expect(features?.residualGmm).toBeCloseTo(3, 6);
  expect(features?.expectedMmS).toBeCloseTo(Math.sqrt(0.09 * 9 + 0.16), 3);
  expect(features?.loadOrdinal).toBe(4);
});

test('two loads are too few, and a load with two readings is no mark', () => {
  const two = play(loads([1, 2])).floor.spindles.get('S-1');
  expect(two === undefined ? 0 : expectedMmS(two, 19_000, 2)).toBeUndefined();
});

test('nothing is learned from what led to a hold, or while one is open', () => {
  const { floor } = play(`
    06:00 limit S-1 1x 0.8 from 1000 to 24000
    ${loads([1, 2])}
    10:00 build   A-9 1.2 kg 18,000 rpm G16
    10:01 result  A-9 3 g·mm
    10:05 load    A-9 in S-1 at 18000 rpm
    10:06 reading S-1 overall 3 1x 2.0 ×30 every 20 s      => hold S-1 synchronous-over-limit
    10:30 unload  S-1
  `);
  const points = binAt(floor)?.points ?? [];
  expect(points.map((point) => point.assemblyId)).toEqual(['A-1', 'A-2']);
});

const HELD = `
    06:00 limit S-1 1x 0.8 from 1000 to 24000
    ${loads([1, 2])}
    10:00 build   A-9 1.2 kg 18,000 rpm G16
    10:01 result  A-9 3 g·mm
    10:05 load    A-9 in S-1 at 18000 rpm
    10:06 reading S-1 overall 3 1x 2.0 ×30 every 20 s      => hold S-1 synchronous-over-limit`;

test.each([
  {
    why: 'nor from the rest of it after a deviation',
    acts: `
    10:20 deviate S-1 "to the end of the lot" => taken S-1 synchronous-over-limit
    10:20 confirm S-1 named Ben-Invented "roughing only" => released S-1 synchronous-over-limit by deviation`,
    learned: ['A-1', 'A-2'],
  },
  {
    why: 'but after a void: what was seen is as it should be',
    acts: '10:20 void    S-1 "the wall shakes" => void S-1 synchronous-over-limit',
    learned: ['A-1', 'A-2', 'A-9'],
  },
])('$why', ({ acts, learned }) => {
  const { floor } = play(`${HELD}
    ${acts}
    10:21 reading S-1 overall 3 1x 2.0 ×30 every 20 s
    10:40 unload  S-1
  `);
  expect(binAt(floor)?.points.map((point) => point.assemblyId)).toEqual(learned);
});

test('residuals that are all alike give a level line, not a slope out of noise', () => {
  const point = (loadOrdinal: number, residualGmm: number, synchronousMmS: number) => ({
    loadOrdinal,
    assemblyId: 'A',
    at: 0,
    speedBin: 1,
    speedRpm: 18_000,
    residualGmm,
    synchronousMmS,
    readings: 9,
  });
  const line = lineThrough(1, [point(1, 1, 0.9), point(2, 1.02, 1.4), point(3, 1.01, 1.1)]);
  expect(line).toMatchObject({ slope: 0, loads: 3 });
  expect(line?.own).toBeCloseTo((0.81 + 1.96 + 1.21) / 3, 9);
  expect(line?.correlation).toBeUndefined();
});

test.each([
  [0.12, 11, false],
  [0.99, 3, true],
  [0.95, 3, false],
  [0.6, 11, true],
  [0.45, 30, false],
  [-0.9, 11, false],
])(
  'a correlation of %d over %d loads explains what is seen: %s (t-test at 5 %, a quarter of the scatter)',
  (correlation, loads, says) => {
    expect(explains(correlation, loads)).toBe(says);
  },
);

test('where the marks do not follow the unbalance what is usual is expected, whatever is clamped', () => {
  const cloud = [1, 2, 3, 4, 5]
    .map((amount, index) => {
      const hour = String(7 + index).padStart(2, '0');
      return `
        ${hour}:00 build   A-${index + 1} 1.2 kg 18,000 rpm G16
        ${hour}:01 result  A-${index + 1} ${amount} g·mm
        ${hour}:05 load    A-${index + 1} in S-1 at 18000 rpm
        ${hour}:06 reading S-1 overall 3 1x ${[0.3, 0.1, 0.4, 0.1, 0.3][index]} ×5 every 20 s
        ${hour}:30 unload  S-1`;
    })
    .join('\n');
  const { floor } = play(cloud);
  const { outcomes } = play(
    `
    12:00 build   A-9 1.2 kg 18,000 rpm G16
    12:01 result  A-9 3 g·mm
    12:05 load    A-9 in S-1 at 18000 rpm
    12:06 reading S-1 overall 5 1x 4.5`,
    floor,
  );
  const line = binAt(floor)?.line;
  expect(Math.abs(line?.correlation ?? 1)).toBeLessThan(0.2);
  const features = outcomes.find((outcome) => outcome.kind === 'reading-features')?.features;
  expect(line?.slope).toBe(0);
  expect(features).toMatchObject({ comparable: true });
  // The mean of the squares 0.09, 0.01, 0.16, 0.01 and 0.09, but for the small unrest of the readings.
  expect(features?.expectedMmS).toBeCloseTo(Math.sqrt(0.36 / 5), 2);
});

test('marks are bounded per spindle', () => {
  const story = Array.from({ length: 260 }, (_, index) => {
    const minute = index * 4;
    const clock = (extra: number): string =>
      `day ${1 + Math.floor((minute + extra) / 1440)} ${String(Math.floor(((minute + extra) % 1440) / 60)).padStart(2, '0')}:${String((minute + extra) % 60).padStart(2, '0')}`;
    return `${clock(1)} load A-1 in S-1 at 18000 rpm\n${clock(2)} reading S-1 overall 3 1x 1.${(7 * index) % 10} at ${index % 2 === 0 ? 18_000 : 9000} rpm ×4 every 5 s`;
  }).join('\n');
  const { floor } = play(`day 1 00:00 build A-1 G16\nday 1 00:00 result A-1 1 g·mm\n${story}`);
  const bins = [...(floor.spindles.get('S-1')?.live.bins.values() ?? [])];
  expect(bins).toHaveLength(2);
  expect(bins.reduce((sum, bin) => sum + bin.points.length, 0)).toBeLessThanOrEqual(POINTS_PER_SPINDLE_MAX);
});
