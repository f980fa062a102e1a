// Speed bins follow the speeds that a spindle really runs: one programmed speed is one bin, and their number is bounded.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { SpindleLive } from '../../../services/rules/floor.ts';
import { SPEED_BINS_PER_SPINDLE_MAX, SPEED_BIN_SETTLED_READINGS } from '../../../services/rules/limits.ts';
import { speedBinOf, STANDSTILL_BIN, takeSpeed } from '../../../services/rules/speed-bin.ts';
import { newSpindle } from '../../../services/rules/spindle-state.ts';

const fresh = (): SpindleLive => newSpindle('S-1').live;

/** Takes speeds as the rules do: the bin is found first, recorded, then taken. */
function run(live: SpindleLive, speeds: readonly number[]): number[] {
  return speeds.map((speedRpm, nth) => {
    const recorded = speedBinOf(live, speedRpm);
    takeSpeed(live, recorded, speedRpm, nth * 1000);
    return recorded;
  });
}

/** Programmed speeds at least 5 % apart, each run for a while and again, wandering by up to 1 %. */
const schedule = fc
  .tuple(
    fc.integer({ min: 600, max: 12_000 }),
    fc.array(fc.double({ min: 1.05, max: 1.4, noNaN: true }), { maxLength: 9 }),
    fc.array(
      fc.tuple(fc.nat(), fc.array(fc.double({ min: -0.01, max: 0.01, noNaN: true }), { minLength: 1, maxLength: 12 })),
      {
        minLength: 1,
        maxLength: 25,
      },
    ),
  )
  .map(([lowest, ratios, stretches]) => {
    const programmed = ratios.reduce<number[]>((all, ratio) => [...all, (all.at(-1) ?? 0) * ratio], [lowest]);
    return stretches.flatMap(([which, wanders]) => {
      const speed = programmed[which % programmed.length] ?? lowest;
      return wanders.map((wander) => ({ programmed: speed, speedRpm: speed * (1 + wander) }));
    });
  });

test('a programmed speed that wanders by 1 % never splits, nor shares a bin with another: 2,000 schedules', () => {
  fc.assert(
    fc.property(schedule, (readings) => {
      const live = fresh();
      const bins = run(
        live,
        readings.map((one) => one.speedRpm),
      );
      const of = new Map<number, number>();
      readings.forEach(({ programmed }, nth) => {
        const bin = bins[nth] ?? STANDSTILL_BIN;
        expect(of.get(programmed) ?? bin).toBe(bin);
        of.set(programmed, bin);
      });
      expect(new Set(of.values()).size).toBe(of.size);
      expect(live.bins.size).toBe(of.size);
    }),
    { numRuns: 2000 },
  );
});

test('any speeds at all: bounded, the same again, and each reading near the speed that its number bears', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 1, max: 60_000, noNaN: true }), { maxLength: 120 }), (speeds) => {
      const [one, again] = [fresh(), fresh()];
      const bins = run(one, speeds);
      expect(run(again, speeds)).toEqual(bins);
      expect(one.bins.size).toBeLessThanOrEqual(SPEED_BINS_PER_SPINDLE_MAX);
      bins.forEach((bin, nth) =>
        expect(Math.abs((speeds[nth] ?? 0) / (bin - 1000) - 1)).toBeLessThan(0.036 + 1 / (bin - 1000)),
      );
    }),
    { numRuns: 500 },
  );
});

test('a speed that was only passed through goes before one that is run', () => {
  const live = fresh();
  run(
    live,
    Array.from({ length: SPEED_BIN_SETTLED_READINGS }, () => 18_000),
  );
  run(
    live,
    Array.from({ length: 40 }, (_, nth) => 1000 * 1.06 ** nth),
  );
  expect(live.bins.size).toBe(SPEED_BINS_PER_SPINDLE_MAX);
  expect(live.bins.has(19_000)).toBe(true);
});

test('two bins whose centres came together are one, with the marks of both', () => {
  const live = fresh();
  run(live, [10_000, 10_260]);
  expect(live.bins.size).toBe(2);
  run(
    live,
    Array.from({ length: 400 }, (_, nth) => (nth % 2 === 0 ? 10_090 : 10_180)),
  );
  expect(live.bins.size).toBe(1);
});

test('what older rules recorded with fixed edges is taken by the bin of its speed', () => {
  const live = fresh();
  // Two bins of fixed edges between which a speed had been split.
  const bins = [
    takeSpeed(live, 201, 18_010, 0),
    takeSpeed(live, 202, 18_060, 1000),
    takeSpeed(live, 201, 17_990, 2000),
  ];
  expect(new Set(bins.map((bin) => bin.bin))).toEqual(new Set([19_010]));
  expect(speedBinOf(live, 18_000)).toBe(19_010);
});

test('standstill is a bin of its own', () => {
  expect(speedBinOf(fresh(), 0)).toBe(STANDSTILL_BIN);
  expect(speedBinOf(undefined, 0.4)).toBe(STANDSTILL_BIN);
});
