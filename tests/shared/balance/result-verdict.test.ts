// The verdict on a whole result: one plane, two planes, couples, and which part decides.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  GRADE_CONSTANT,
  judgeResidual,
  judgeResult,
  turnUnbalance,
  wholeResidual,
  type BalanceDemand,
  type MeasuredResult,
  type UnbalanceVector,
} from '../../../shared/balance/index.ts';
import { unbalances } from './arbitraries.ts';

/** Permits 10 g·mm in all. */
const demand: BalanceDemand = { massKg: 4, serviceSpeedRpm: GRADE_CONSTANT, gradeMmS: 2.5 };

const twoPlanes = (a: UnbalanceVector, b: UnbalanceVector, errorGmm = 0.1): MeasuredResult => ({
  kind: 'two-planes',
  planeA: { unbalance: a, errorGmm },
  planeB: { unbalance: b, errorGmm },
  staticErrorGmm: null,
});
const judge = (result: MeasuredResult) => judgeResult({ result, demand, geometry: null, reclampingUm: null });

describe('verdict on a result', () => {
  test('one plane is judged as it is, its amount untouched', () => {
    const result: MeasuredResult = {
      kind: 'one-plane',
      plane: { unbalance: { gmm: 7.3, angleDeg: 211.7 }, errorGmm: 0.4 },
    };
    expect(wholeResidual(result)).toEqual({ gmm: 7.3, angleDeg: 211.7 });
    const verdict = judge(result);
    expect(verdict.allocation).toBeNull();
    expect(verdict.governing).toEqual(judgeResidual({ demand, residualGmm: 7.3, errorGmm: 0.4, reclampingUm: null }));
    expect(verdict).toMatchObject({ kind: 'within', governedBy: 'whole' });
  });

  test('two planes within their shares are within as a whole', () => {
    const verdict = judge(twoPlanes({ gmm: 4, angleDeg: 10 }, { gmm: 3, angleDeg: 200 }));
    expect(verdict.kind).toBe('within');
    expect(verdict.parts.map(({ part, verdict: { kind } }) => [part, kind])).toEqual([
      ['whole', 'within'],
      ['plane-a', 'within'],
      ['plane-b', 'within'],
    ]);
  });

  test('a pure couple has no static residual and is found out plane by plane (ISO 21940-2)', () => {
    const result = twoPlanes({ gmm: 8, angleDeg: 90 }, { gmm: 8, angleDeg: 270 });
    expect(wholeResidual(result).gmm).toBe(0);
    const verdict = judge(result);
    expect(verdict).toMatchObject({ kind: 'exceeds', governedBy: 'plane-a' });
    expect(verdict.governing.permissibleGmm).toBeCloseTo(5, 12);
    expect(verdict.gradeReachedWithErrorMmS).toBeCloseTo((2.5 * 8.1) / 5, 10);
    expect(verdict.highestSpeedWithErrorRpm).toBeCloseTo((GRADE_CONSTANT * 5) / 8.1, 6);
  });

  test('the plane farther from the centre of mass may keep less (ISO 21940-11; bounds from memory)', () => {
    const result = twoPlanes({ gmm: 6, angleDeg: 0 }, { gmm: 4, angleDeg: 180 });
    const geometry = { planeAMm: 0, planeBMm: 100, centreOfMassMm: 5 };
    const verdict = judgeResult({ result, demand, geometry, reclampingUm: null });
    expect(verdict).toMatchObject({ kind: 'exceeds', governedBy: 'plane-b' });
    expect(verdict.allocation).toMatchObject({ basis: 'bounded', shareA: 0.7, shareB: 0.3 });
  });

  test('the error of the vector sum is that of both planes added, unless one is given', () => {
    const result = twoPlanes({ gmm: 1, angleDeg: 0 }, { gmm: 1, angleDeg: 0 }, 0.3);
    expect(judge(result).parts[0]?.verdict.errorGmm).toBeCloseTo(0.6, 12);
    if (result.kind !== 'two-planes') throw new Error('two planes were made');
    expect(judge({ ...result, staticErrorGmm: 0.4 }).parts[0]?.verdict.errorGmm).toBe(0.4);
  });

  test('an interface that scatters by more than e_per leaves every part undecided', () => {
    const result = twoPlanes({ gmm: 0, angleDeg: 0 }, { gmm: 0, angleDeg: 0 });
    const verdict = judgeResult({ result, demand, geometry: null, reclampingUm: 3 });
    for (const part of verdict.parts)
      expect(part.verdict).toMatchObject({ kind: 'undecided', cause: 'reclamping-scatter' });
  });

  test('no residual and no error set no bound on the speed', () => {
    const none = { gmm: 0, angleDeg: 0 };
    expect(judge(twoPlanes(none, none, 0)).highestSpeedWithErrorRpm).toBeNull();
  });

  test('where the marked reference lies does not matter', () => {
    fc.assert(
      fc.property(unbalances, unbalances, fc.integer({ min: 0, max: 359 }), (a, b, byDeg) => {
        const before = judge(twoPlanes(a, b));
        const after = judge(twoPlanes(turnUnbalance(a, byDeg), turnUnbalance(b, byDeg)));
        expect(after.kind).toBe(before.kind);
        expect(after.gradeReachedWithErrorMmS).toBeCloseTo(before.gradeReachedWithErrorMmS, 8);
      }),
    );
  });

  test('the whole is never better than its worst part', () => {
    const severity = { within: 0, undecided: 1, exceeds: 2 };
    fc.assert(
      fc.property(unbalances, unbalances, (a, b) => {
        const verdict = judge(twoPlanes(a, b));
        for (const part of verdict.parts) {
          expect(severity[verdict.kind]).toBeGreaterThanOrEqual(severity[part.verdict.kind]);
          expect(verdict.gradeReachedWithErrorMmS).toBeGreaterThanOrEqual(part.verdict.gradeReachedWithErrorMmS);
        }
      }),
    );
  });
});
