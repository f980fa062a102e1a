// An outside referee: NumPy and SciPy recompute a thousand random cases of each calculation by other ways.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  balanceByAmplitudes,
  moveToPlanes,
  resolveIndexing,
  resolveStaticAndCouple,
  sumUnbalance,
  toCartesian,
  trimBalance,
  turnsTellApart,
  type TrialRun,
  type UnbalanceVector,
  type VibrationVector,
} from '../../../shared/balance/index.ts';
import { askPython } from '../../environment/python.ts';
import { largestDifference, say } from './referee.ts';

const SEED = 20_261_125;
const CASES = 1000;
/** What two ways of reckoning in double precision may lie apart on inputs that are not ill-conditioned. */
const BOUND = 1e-11;

const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const unbalance = fc.record({ gmm: between(0.1, 100), angleDeg: between(0, 360) });
const position = fc.integer({ min: -300, max: 300 });
const apart = fc.tuple(position, position).filter(([a, b]) => Math.abs(a - b) >= 10);
const vibration = fc.record({ amplitude: between(0.1, 10), phaseDeg: between(0, 360) });

const totals = fc.record({ vectors: fc.array(unbalance, { minLength: 1, maxLength: 8 }) });
const couples = fc
  .record({ a: unbalance, b: unbalance, at: apart, centreMm: position })
  .map(({ at: [aMm, bMm], ...rest }) => ({ ...rest, aMm, bMm }));
const moves = fc
  .record({
    placed: fc.array(fc.record({ unbalance, positionMm: position, errorGmm: fc.constant(0) }), {
      minLength: 1,
      maxLength: 4,
    }),
    to: apart,
  })
  .map(({ placed, to: [toAMm, toBMm] }) => ({ placed, toAMm, toBMm }));
const indexings = fc.record({
  frame: fc.constantFrom('machine' as const, 'rotor' as const),
  readings: fc
    .array(fc.record({ turnDeg: fc.integer({ min: 0, max: 359 }), unbalance }), { minLength: 2, maxLength: 12 })
    .filter((readings) => turnsTellApart(readings.map(({ turnDeg }) => turnDeg))),
});

function trialOf(plane: 0 | 1, sensors: number): fc.Arbitrary<TrialRun> {
  return fc.record({
    plane: fc.constant(plane),
    mass: unbalance,
    readings: fc.array(vibration, { minLength: sensors, maxLength: sensors }),
    leftOn: fc.boolean(),
  });
}

const trims = fc
  .tuple(fc.constantFrom(1, 2), fc.integer({ min: 2, max: 5 }), fc.constantFrom('lead' as const, 'lag' as const))
  .chain(([planes, sensors, phaseSense]) =>
    fc.record({
      phaseSense: fc.constant(phaseSense),
      initial: fc.array(vibration, { minLength: sensors, maxLength: sensors }),
      trials:
        planes === 1
          ? fc.tuple(trialOf(0, sensors)).map(([one]): TrialRun[] => [one])
          : fc.tuple(trialOf(0, sensors), trialOf(1, sensors)).map(([one, other]): TrialRun[] => [one, other]),
    }),
  )
  .filter((runs) => trimBalance(runs, null).inAllPlanes !== null);

const amplitudes = fc
  .record({ unbalance: between(0.5, 5), effect: between(0.5, 5), angleDeg: between(20, 160) })
  .map(({ unbalance: initial, effect, angleDeg }) => {
    const cosine = Math.cos((angleDeg * Math.PI) / 180);
    const withTrial = Math.sqrt(initial ** 2 + effect ** 2 + 2 * initial * effect * cosine);
    const withTrialOpposite = Math.sqrt(initial ** 2 + effect ** 2 - 2 * initial * effect * cosine);
    return { initial, withTrial, withTrialOpposite, trial: { gmm: 1, angleDeg: 0 } };
  });

const xy = (vector: UnbalanceVector): number[] => {
  const { xGmm, yGmm } = toCartesian(vector);
  return [xGmm, yGmm];
};

function trimmed(runs: { phaseSense: 'lead' | 'lag'; initial: VibrationVector[]; trials: TrialRun[] }): number[] {
  const { coefficients, inAllPlanes } = trimBalance(runs, null);
  const corrections = inAllPlanes?.settings.flatMap(({ exact }) => xy(exact)) ?? [];
  return [coefficients.conditioning.condition, ...corrections, inAllPlanes?.leftShare ?? Number.NaN];
}

test('a thousand random cases of each calculation agree with NumPy and SciPy', () => {
  const sample = <T>(of: fc.Arbitrary<T>): T[] => fc.sample(of, { seed: SEED, numRuns: CASES });
  const cases = {
    total: sample(totals),
    staticAndCouple: sample(couples),
    moved: sample(moves),
    indexed: sample(indexings),
    trimmed: sample(trims),
    byAmplitudes: sample(amplitudes),
  };
  const ours: Record<keyof typeof cases, number[][]> = {
    total: cases.total.map(({ vectors }) => xy(sumUnbalance(vectors))),
    staticAndCouple: cases.staticAndCouple.map(({ a, b, aMm, bMm, centreMm }) => {
      const found = resolveStaticAndCouple(a, b, { planeAMm: aMm, planeBMm: bMm, centreOfMassMm: centreMm });
      return [...xy(found.static), ...xy({ gmm: found.coupleGmm2, angleDeg: found.coupleAngleDeg })];
    }),
    moved: cases.moved.map(({ placed, toAMm, toBMm }) => {
      const found = moveToPlanes(placed, { planeAMm: toAMm, planeBMm: toBMm });
      return [...xy(found.planeA), ...xy(found.planeB)];
    }),
    indexed: cases.indexed.map(({ frame, readings }) => {
      const found = resolveIndexing(frame, readings);
      return [...xy(found.assembly), ...xy(found.bench)];
    }),
    trimmed: cases.trimmed.map(trimmed),
    byAmplitudes: cases.byAmplitudes.map((runs) => {
      const found = balanceByAmplitudes(runs);
      if (found.kind !== 'two-places') return [];
      return [found.effect, Math.cos((found.heavySpotOffDeg * Math.PI) / 180)];
    }),
  };
  const theirs = askPython<typeof ours>(new URL('./referee.py', import.meta.url), cases);
  for (const kind of Object.keys(ours) as (keyof typeof cases)[]) {
    const difference = largestDifference(ours[kind], theirs[kind]);
    say(
      `referee, seed ${SEED}: ${kind}, ${ours[kind].length} cases, largest relative difference ${difference.toExponential(1)}`,
    );
    expect(difference, kind).toBeLessThan(BOUND);
  }
}, 120_000);

test('the comparison sees a wrong digit, a missing case and what is no number', () => {
  expect(largestDifference([[1, 2]], [[1, 2]])).toBe(0);
  expect(largestDifference([[1, 2 + 1e-6]], [[1, 2]])).toBeCloseTo(1e-6 / Math.sqrt(5), 9);
  expect(largestDifference([[Number.NaN]], [[1]])).toBe(Number.POSITIVE_INFINITY);
  expect(largestDifference([[1]], [[1, 2]])).toBe(Number.POSITIVE_INFINITY);
  expect(largestDifference([], [])).toBe(Number.POSITIVE_INFINITY);
});
