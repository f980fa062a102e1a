// The informed detector's densities: against tabled values, and that they are densities at all.
import { expect, test } from 'vitest';
import { prngOf, type LoadFact, type Turning } from '../../../simulators/index.ts';
import { draw, logBesselI0, logDensity } from './likelihood.ts';

const load = (keyed: boolean, tacho: boolean): LoadFact => ({
  nth: 1,
  spindleId: 'S-01',
  assemblyId: 'A-0001',
  buildId: 'A-0001-B1',
  benchId: 'bench-1',
  at: 0,
  until: 1,
  keyed,
  tacho,
  readingNoise: 0.02,
  floorSpread: 0.1,
  readings: 10,
  sumSquares: 0,
  sumX: 0,
  sumY: 0,
  sumLogFloor: 0,
});
const turning: Turning = {
  residualX: 2,
  residualY: 1,
  ownX: 0.5,
  ownY: -1,
  clampingGmm: 1.2,
  strayGmm: 0,
  logFloor: 0,
};

test('ln I0: Abramowitz and Stegun 1964, table 9.8 (I0(1) = 1.2660658778, e^-5 I0(5) = 0.1835408126)', () => {
  expect(logBesselI0(0)).toBe(0);
  expect(logBesselI0(1)).toBeCloseTo(Math.log(1.2660658778), 6);
  expect(logBesselI0(5)).toBeCloseTo(5 + Math.log(0.1835408126), 6);
});

test.each([true, false])('without a tacho, keyed %s: over all amounts it sums to one', (keyed) => {
  let sum = 0;
  const step = 0.01;
  for (let amount = step / 2; amount < 15; amount += step) {
    sum += step * Math.exp(logDensity({ load: load(keyed, false), turning }, { amount, x: 0, y: 0, logFloor: 0 }));
  }
  expect(sum).toBeCloseTo(1, 3);
});

test.each([true, false])('with a tacho, keyed %s: over the plane it sums to one', (keyed) => {
  let sum = 0;
  const step = 0.1;
  for (let x = -12; x < 12; x += step)
    for (let y = -12; y < 12; y += step)
      sum += step * step * Math.exp(logDensity({ load: load(keyed, true), turning }, { amount: 0, x, y, logFloor: 0 }));
  expect(sum).toBeCloseTo(1, 3);
});

test.each([
  [true, true],
  [true, false],
  [false, true],
  [false, false],
])(
  'keyed %s, tacho %s: what is drawn is as likely as is said: e to the ratio has mean one where nothing is wrong',
  (keyed, tacho) => {
    const prng = prngOf('likelihood', String(keyed), String(tacho));
    const chance = { next: () => prng.next(), gaussian: () => prng.gaussian() };
    const one = load(keyed, tacho);
    const other: Turning = { ...turning, ownX: 0.8, ownY: -1.4 };
    let sum = 0;
    const draws = 40_000;
    for (let nth = 0; nth < draws; nth += 1) {
      const seen = draw({ load: one, turning }, chance);
      sum += Math.exp(logDensity({ load: one, turning: other }, seen) - logDensity({ load: one, turning }, seen));
    }
    expect(sum / draws).toBeGreaterThan(0.97);
    expect(sum / draws).toBeLessThan(1.03);
  },
);
