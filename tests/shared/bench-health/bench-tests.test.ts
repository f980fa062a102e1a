// The two tests of a balancing machine (ISO 21940-21, numbers from memory), step by step as the readings come.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sumUnbalance, turnUnbalance, type UnbalanceVector } from '../../../shared/balance/index.ts';
import { evaluateBenchTest } from '../../../shared/bench-health/index.ts';
import type { BenchTest } from '../../../shared/messages/index.ts';

type Minimum = Extract<BenchTest, { test: 'minimum-achievable' }>;
type Ratio = Extract<BenchTest, { test: 'reduction-ratio' }>;

const common = { testId: 'T-1', rotorSerial: 'PR-7' };
const placesDeg = (count = 12, startDeg = 0): number[] =>
  Array.from({ length: count }, (_, index) => startDeg + 30 * index);

function minimum(amounts: readonly number[], change: Partial<Minimum> = {}): Minimum {
  const readings = amounts.map((amountGmm, index) => ({ angleDeg: 30 * index, amountGmm }));
  return { test: 'minimum-achievable', ...common, claimedGmm: 0.5, testMassGmm: 5, readings, ...change };
}

const twelve = (value: number, ...others: readonly number[]): number[] => [
  ...others,
  ...Array.from({ length: 12 - others.length }, () => value),
];

describe('minimum achievable residual', () => {
  test('twelve readings alike pass; each is shown against ±12 % of their mean', () => {
    const outcome = evaluateBenchTest(minimum(twelve(5)));
    expect(outcome.verdict).toBe('passed');
    expect(outcome.steps).toHaveLength(13);
    expect(outcome.steps[1]).toMatchObject({ words: 'test mass at 0°', measured: 5, met: true, unit: 'g·mm' });
    expect(outcome.steps[1]?.low).toBeCloseTo(4.4, 12);
    expect(outcome.steps[1]?.high).toBeCloseTo(5.6, 12);
    expect(outcome.source).toContain('ISO 21940-21');
    expect(outcome.source).toContain('from memory');
  });

  test('one outside is tolerated, two are not', () => {
    expect(evaluateBenchTest(minimum(twelve(5, 6))).verdict).toBe('passed');
    const failed = evaluateBenchTest(minimum(twelve(5, 6, 4)));
    expect(failed.verdict).toBe('failed');
    expect(failed.sentence).toBe(
      'Failed: the claim of 0.5 g·mm is not shown; 2 of 12 readings outside ±12 % of their mean, one may be.',
    );
  });

  test('unfinished says where it is still to be done, and finds no fault before the end', () => {
    const outcome = evaluateBenchTest(minimum([5, 5, 6, 4, 5, 5, 5, 5, 5]));
    expect(outcome.verdict).toBe('unfinished');
    expect(outcome.sentence).toContain('still to be done at 270°, 300° and 330°; so far 2 of 9');
    expect(outcome.steps.filter(({ met }) => met === undefined)).toHaveLength(3);
    expect(evaluateBenchTest(minimum([])).sentence).toContain('0°, 30°, 60°');
  });

  test('places count from where the test began; the last reading of a place counts, one at no place does not', () => {
    const readings = placesDeg(12, 345).map((angleDeg) => ({ angleDeg, amountGmm: 5 }));
    const again = [...readings, { angleDeg: 15 - 720, amountGmm: 5.2 }, { angleDeg: 8, amountGmm: 99 }];
    const outcome = evaluateBenchTest(minimum([], { readings: again }));
    expect(outcome.verdict).toBe('passed');
    expect(outcome.steps.find(({ words }) => words.endsWith('at 15°'))?.measured).toBe(5.2);
    expect(outcome.sentence).toContain('One reading lies at none of the places');
  });

  test('not valid with another test mass than the claim asks for, or no claim', () => {
    const outcome = evaluateBenchTest(minimum(twelve(5), { testMassGmm: 8 }));
    expect(outcome.verdict).toBe('not-valid');
    expect(outcome.sentence).toContain('a claim of 0.5 g·mm asks for a test mass of 5 g·mm, not 8');
    expect(outcome.steps).toEqual([expect.objectContaining({ met: false, measured: 8 })]);
    expect(evaluateBenchTest(minimum([], { claimedGmm: 0, testMassGmm: 0 })).verdict).toBe('not-valid');
    expect(evaluateBenchTest(minimum(twelve(5), { testMassGmm: 5.2 })).verdict).toBe('passed');
  });

  test('a bench that reads nothing fails; one whose scale is off passes this test and is sent to be calibrated', () => {
    expect(evaluateBenchTest(minimum(twelve(0))).verdict).toBe('failed');
    const off = evaluateBenchTest(minimum(twelve(4)));
    expect(off.verdict).toBe('passed');
    expect(off.sentence).toContain('Their mean is 4 g·mm where the test mass is 5: have the scale calibrated.');
  });

  test('a bench whose every error is less than 5.6 % of the test mass always passes', () => {
    const errors = fc.array(fc.double({ min: -0.056, max: 0.056, noNaN: true }), { minLength: 12, maxLength: 12 });
    fc.assert(
      fc.property(errors, (parts) => {
        expect(evaluateBenchTest(minimum(parts.map((part) => 5 * (1 + part)))).verdict).toBe('passed');
      }),
    );
  });
});

function ratio(left: number, change: Partial<Ratio> = {}, from = 0, count = 12): Ratio {
  const stationary = { amountGmm: 20, angleDeg: 0 };
  const read = (travellingDeg: number): UnbalanceVector => {
    const truth = sumUnbalance([
      { gmm: stationary.amountGmm, angleDeg: stationary.angleDeg },
      { gmm: 100, angleDeg: travellingDeg },
    ]);
    // What a correction by this reading leaves, across the truth: its scale is right, its angle is not.
    return sumUnbalance([truth, turnUnbalance({ gmm: left * truth.gmm, angleDeg: truth.angleDeg }, 90)]);
  };
  const readings = placesDeg(count, from).map((travellingDeg) => {
    const { gmm, angleDeg } = read(travellingDeg);
    return { travellingDeg, amountGmm: gmm, angleDeg };
  });
  return {
    test: 'reduction-ratio',
    ...common,
    claimedPercent: 95,
    stationary,
    travellingGmm: 100,
    readings,
    ...change,
  };
}

describe('unbalance reduction ratio', () => {
  test('readings that leave less than 5 % pass a claim of 95 %; the circle is 5 % of the true amount', () => {
    const outcome = evaluateBenchTest(ratio(0.049));
    expect(outcome.verdict).toBe('passed');
    const opposite = outcome.steps.find(({ words }) => words.includes('at 180°'));
    expect(opposite?.high).toBeCloseTo(0.05 * 80, 10);
    expect(opposite?.measured).toBeCloseTo(0.049 * 80, 10);
  });

  test('readings that leave more fail it, at once', () => {
    expect(evaluateBenchTest(ratio(0.051)).verdict).toBe('failed');
    const early = evaluateBenchTest(ratio(0.051, {}, 0, 2));
    expect(early.verdict).toBe('failed');
    expect(early.sentence).toBe(
      'Failed: a reduction ratio of 95 % is not shown; 2 of 2 readings lie outside their circles.',
    );
  });

  test('the place of the stationary mass may be left out, the others may not', () => {
    expect(evaluateBenchTest(ratio(0.01, {}, 30, 11)).verdict).toBe('passed');
    const unfinished = evaluateBenchTest(ratio(0.01, {}, 30, 9));
    expect(unfinished.verdict).toBe('unfinished');
    expect(unfinished.sentence).toContain('still to be done at 300° and 330°; all 9 readings so far');
    expect(evaluateBenchTest(ratio(0.01, {}, 15, 11)).sentence).toContain('still to be done at 345°');
  });

  test('not valid with another travelling mass than five times the stationary one', () => {
    const outcome = evaluateBenchTest(ratio(0, { travellingGmm: 60 }));
    expect(outcome.verdict).toBe('not-valid');
    expect(outcome.sentence).toContain('asks for a travelling one of 100 g·mm, not 60');
    expect(evaluateBenchTest(ratio(0, { stationary: { amountGmm: 0, angleDeg: 0 }, travellingGmm: 0 })).verdict).toBe(
      'not-valid',
    );
  });

  test('what is left by a reading decides, whatever its direction', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.2, noNaN: true }),
        fc.integer({ min: 80, max: 99 }),
        (left, claimedPercent) => {
          fc.pre(Math.abs(left - (1 - claimedPercent / 100)) > 1e-6);
          const met = left < 1 - claimedPercent / 100;
          expect(evaluateBenchTest(ratio(left, { claimedPercent })).verdict).toBe(met ? 'passed' : 'failed');
        },
      ),
    );
  });
});
