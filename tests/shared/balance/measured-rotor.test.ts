// Influence coefficients on a real rotor's readings: exact against NumPy, and how far the estimates can be believed.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  fromCartesian,
  influenceCoefficients,
  trimBalance,
  turnUnbalance,
  type TrialRuns,
  type UnbalanceVector,
  type VibrationVector,
} from '../../../shared/balance/index.ts';
import { solveLeastSquares } from '../../../shared/balance/complex-least-squares.ts';
import { plus, scaled, type Complex } from '../../../shared/balance/complex.ts';
import { fromLead } from '../../../shared/balance/influence-coefficients.ts';

interface Estimate {
  readonly u1_gmm: number;
  readonly u1_deg: number;
  readonly u2_gmm: number;
  readonly u2_deg: number;
  readonly sum_gmm: number;
  readonly sum_deg: number;
}
interface Expected {
  readonly H_V_per_gmm: Readonly<Record<string, Readonly<Record<'disk1' | 'disk2', readonly [number, number]>>>>;
  readonly condition: number;
  readonly coherence: number;
  readonly conditions: Readonly<
    Record<string, { est?: Estimate; single_plane_est?: { disk: 1 | 2; gmm: number; deg: number } }>
  >;
}

const file = (name: string): string =>
  readFileSync(new URL(`./measured/rk4-unbalance/${name}`, import.meta.url), 'utf8');
const EXPECTED = JSON.parse(file('expected.json')) as Expected;
const PROBES = Object.keys(EXPECTED.H_V_per_gmm);

const ROWS = file('responses.csv')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','));

/** Mean response over the repeats of a condition, a complex number per probe. */
function responseTo(condition: string): readonly Complex[] {
  const repeats = ROWS.filter((row) => row[1] === condition).map((row) => row.slice(7).map(Number));
  const mean = (column: number): number => repeats.reduce((sum, row) => sum + (row[column] ?? 0), 0) / repeats.length;
  return PROBES.map((_, probe) => ({ re: mean(2 * probe), im: mean(2 * probe + 1) }));
}

const asReadings = (values: readonly Complex[]): VibrationVector[] => values.map((value) => fromLead(value, 'lead'));
const together = (a: readonly Complex[], b: readonly Complex[]): Complex[] =>
  a.map((value, index) => plus(value, b[index] ?? { re: 0, im: 0 }));

/** As if the condition were the rotor as found, and the two calibration masses the trial runs. */
function runsOn(condition: string, planes: readonly (0 | 1)[]): TrialRuns {
  const found = responseTo(condition);
  const calibration = [
    { condition: 'A008', mass: { gmm: 60, angleDeg: 0 } },
    { condition: 'A013', mass: { gmm: 30, angleDeg: 0 } },
  ] as const;
  return {
    phaseSense: 'lead',
    initial: asReadings(found),
    trials: planes.map((plane, at) => ({
      plane: at === 0 ? 0 : 1,
      mass: calibration[plane].mass,
      readings: asReadings(together(found, responseTo(calibration[plane].condition))),
      leftOn: false,
    })),
  };
}

/** What takes the vibration away is the opposite of what makes it. */
const estimate = (correction: UnbalanceVector | null | undefined): UnbalanceVector =>
  turnUnbalance(correction ?? { gmm: Number.NaN, angleDeg: 0 }, 180);

function expectVector(found: UnbalanceVector, gmm: number, deg: number): void {
  expect(Math.abs(found.gmm / gmm - 1)).toBeLessThan(1e-6);
  expect(Math.abs(Math.sin(((found.angleDeg - deg) * Math.PI) / 360))).toBeLessThan(1e-6);
}

const estimated = Object.entries(EXPECTED.conditions).flatMap(([condition, { est }]) =>
  est === undefined ? [] : [{ condition, est }],
);
const onOneDisk = Object.entries(EXPECTED.conditions).flatMap(([condition, { single_plane_est: one }]) =>
  one === undefined ? [] : [{ condition, one }],
);

describe('the algebra, to a millionth of what NumPy makes of the same rows', () => {
  test('every coefficient, the condition number 15.2 and the coherence 0.991', () => {
    const { columns, conditioning } = influenceCoefficients(runsOn('A003', [0, 1]));
    for (const [probe, name] of PROBES.entries()) {
      for (const [plane, disk] of (['disk1', 'disk2'] as const).entries()) {
        const [re, im] = EXPECTED.H_V_per_gmm[name]?.[disk] ?? [0, 0];
        const found = columns[plane]?.[probe] ?? { re: Number.NaN, im: Number.NaN };
        const miss = plus(found, scaled({ re, im }, -1));
        expect(Math.hypot(miss.re, miss.im)).toBeLessThan(1e-6 * Math.hypot(re, im));
      }
    }
    expect(Math.abs(conditioning.condition / EXPECTED.condition - 1)).toBeLessThan(1e-6);
    expect(Math.abs((conditioning.coherence ?? 0) / EXPECTED.coherence - 1)).toBeLessThan(1e-6);
    expect(EXPECTED.condition).toBeCloseTo(15.2, 1);
    expect(EXPECTED.coherence).toBeCloseTo(0.991, 3);
  });

  test.each(estimated)('$condition: the sum over both planes', ({ condition, est }) => {
    const answer = trimBalance(runsOn(condition, [0, 1]), null);
    expectVector(estimate(answer.sum), est.sum_gmm, est.sum_deg);
    // Each plane's share is what the pseudo-inverse says, though the answer does not give it away.
    const shares = solveLeastSquares(answer.coefficients.columns, responseTo(condition)) ?? [];
    const [disk1, disk2] = shares.map(({ re, im }) => fromCartesian({ xGmm: re, yGmm: im }));
    expectVector(disk1 ?? estimate(null), est.u1_gmm, est.u1_deg);
    expectVector(disk2 ?? estimate(null), est.u2_gmm, est.u2_deg);
  });

  test.each(onOneDisk)('$condition: one plane', ({ condition, one }) => {
    const answer = trimBalance(runsOn(condition, [one.disk === 1 ? 0 : 1]), null);
    expectVector(estimate(answer.sum), one.gmm, one.deg);
  });
});

describe('how far the estimates of this rotor can be believed', () => {
  const onePlane = (condition: string, disk: 0 | 1): UnbalanceVector =>
    estimate(trimBalance(runsOn(condition, [disk]), null).sum);
  const offDeg = ({ angleDeg }: UnbalanceVector): number => Math.min(angleDeg, 360 - angleDeg);

  test.each([
    { condition: 'A003', disk: 0 as const, truth: 12, found: 11.9, withinDeg: 3 },
    { condition: 'A004', disk: 0 as const, truth: 24, found: 22.6, withinDeg: 3 },
    { condition: 'A005', disk: 0 as const, truth: 30, found: 28.5, withinDeg: 3 },
    { condition: 'A011', disk: 1 as const, truth: 12, found: 13, withinDeg: 1.3 },
    { condition: 'A012', disk: 1 as const, truth: 24, found: 23.6, withinDeg: 1.3 },
  ])('one plane: $truth g·mm is found as $found within $withinDeg°', ({ condition, disk, found, withinDeg }) => {
    const value = onePlane(condition, disk);
    expect(value.gmm).toBeCloseTo(found, 1);
    expect(offDeg(value)).toBeLessThan(withinDeg);
  });

  test('3 and 6 g·mm on disk 1 are found 28° and 13° off: below that the phase is not to be trusted', () => {
    expect(offDeg(onePlane('A001', 0))).toBeCloseTo(28, 0);
    expect(offDeg(onePlane('A002', 0))).toBeCloseTo(13, 0);
  });

  test('two planes: no two masses are given, the sum is right, and it is said why', () => {
    const answer = trimBalance(runsOn('A005', [0, 1]), null);
    expect(answer.warnings).toContain('ill-conditioned');
    expect(answer.inAllPlanes).toBeNull();
    const sum = estimate(answer.sum);
    expect(sum.gmm).toBeCloseTo(28.2, 1);
    expect(offDeg(sum)).toBeCloseTo(2.4, 1);
    expect(answer.inOnePlane).toHaveLength(2);
    for (const { leftShare } of answer.inOnePlane) expect(leftShare).toBeLessThan(0.25);
  });

  test('the response grows with the mass: 24 g·mm do at least 1.5 times as much as 12 on either disk', () => {
    const sizeOf = (condition: string): number =>
      Math.hypot(...responseTo(condition).flatMap(({ re, im }) => [re, im]));
    const ladders = [
      ['A001', 'A002', 'A003', 'A004', 'A005', 'A008'],
      ['A009', 'A010', 'A011', 'A012', 'A013'],
    ];
    for (const ladder of ladders) {
      const sizes = ladder.map(sizeOf);
      expect(sizes).toEqual(sizes.toSorted((a, b) => a - b));
    }
    expect(sizeOf('A004') / sizeOf('A003')).toBeGreaterThan(1.5);
    expect(sizeOf('A012') / sizeOf('A011')).toBeGreaterThan(1.5);
  });
});
