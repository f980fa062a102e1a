// Moving between planes: the same static unbalance and the same moment, there and back again.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { moveToPlanes, resolveStaticAndCouple, type PlacedUnbalance } from '../../../shared/balance/index.ts';
import { distanceGmm, unbalances } from './arbitraries.ts';

const positions = fc.integer({ min: -500, max: 500 });
const placed: fc.Arbitrary<PlacedUnbalance> = fc.record({
  unbalance: unbalances,
  positionMm: positions,
  errorGmm: fc.double({ min: 0, max: 5, noNaN: true }),
});

describe('moving between planes', () => {
  test('one unbalance a third of the way from A to B: two thirds in A, one third in B (lever rule)', () => {
    const moved = moveToPlanes([{ unbalance: { gmm: 9, angleDeg: 40 }, positionMm: 30, errorGmm: 0.9 }], {
      planeAMm: 0,
      planeBMm: 90,
    });
    expect(moved.planeA.gmm).toBeCloseTo(6, 12);
    expect(moved.planeB.gmm).toBeCloseTo(3, 12);
    expect(moved.planeA.angleDeg).toBeCloseTo(40, 10);
    expect(moved.errorAGmm).toBeCloseTo(0.6, 12);
    expect(moved.errorBGmm).toBeCloseTo(0.3, 12);
  });

  test('an unbalance beyond both planes turns round in the farther one (lever rule)', () => {
    const moved = moveToPlanes([{ unbalance: { gmm: 2, angleDeg: 0 }, positionMm: 150, errorGmm: 0 }], {
      planeAMm: 0,
      planeBMm: 100,
    });
    expect(moved.planeA.gmm).toBeCloseTo(1, 12);
    expect(moved.planeA.angleDeg).toBeCloseTo(180, 10);
    expect(moved.planeB.gmm).toBeCloseTo(3, 12);
  });

  test('static unbalance and couple about any point stay as they were', () => {
    fc.assert(
      fc.property(placed, placed, positions, positions, positions, (a, b, planeAMm, planeBMm, centreOfMassMm) => {
        fc.pre(a.positionMm !== b.positionMm && planeAMm !== planeBMm);
        const before = resolveStaticAndCouple(a.unbalance, b.unbalance, {
          planeAMm: a.positionMm,
          planeBMm: b.positionMm,
          centreOfMassMm,
        });
        const moved = moveToPlanes([a, b], { planeAMm, planeBMm });
        const after = resolveStaticAndCouple(moved.planeA, moved.planeB, { planeAMm, planeBMm, centreOfMassMm });
        expect(distanceGmm(before.static, after.static)).toBeLessThan(1e-8);
        const couple = (one: typeof before) => ({ gmm: one.coupleGmm2, angleDeg: one.coupleAngleDeg });
        expect(distanceGmm(couple(before), couple(after))).toBeLessThan(1e-5);
      }),
    );
  });

  test('there and back again', () => {
    fc.assert(
      fc.property(placed, placed, positions, positions, (a, b, planeAMm, planeBMm) => {
        fc.pre(a.positionMm !== b.positionMm && planeAMm !== planeBMm);
        const there = moveToPlanes([a, b], { planeAMm, planeBMm });
        const back = moveToPlanes(
          [
            { unbalance: there.planeA, positionMm: planeAMm, errorGmm: 0 },
            { unbalance: there.planeB, positionMm: planeBMm, errorGmm: 0 },
          ],
          { planeAMm: a.positionMm, planeBMm: b.positionMm },
        );
        const size = 1 + there.planeA.gmm + there.planeB.gmm;
        expect(distanceGmm(back.planeA, a.unbalance)).toBeLessThan(1e-9 * size * 1000);
        expect(distanceGmm(back.planeB, b.unbalance)).toBeLessThan(1e-9 * size * 1000);
      }),
    );
  });

  test('planes ten times closer magnify the errors about tenfold', () => {
    const at = (positionMm: number): PlacedUnbalance => ({
      unbalance: { gmm: 0, angleDeg: 0 },
      positionMm,
      errorGmm: 1,
    });
    const moved = moveToPlanes([at(0), at(100)], { planeAMm: 45, planeBMm: 55 });
    expect(moved.errorAGmm).toBeCloseTo(Math.hypot(5.5, 4.5), 10);
  });

  test('planes that coincide, and no number, are refused', () => {
    const one = { unbalance: { gmm: 1, angleDeg: 0 }, positionMm: 0, errorGmm: 0 };
    expect(() => moveToPlanes([one], { planeAMm: 5, planeBMm: 5 })).toThrow(/apart from plane A, came 5/);
    expect(() => moveToPlanes([{ ...one, positionMm: Number.NaN }], { planeAMm: 5, planeBMm: 6 })).toThrow(RangeError);
    expect(() => moveToPlanes([{ ...one, errorGmm: -1 }], { planeAMm: 5, planeBMm: 6 })).toThrow(/errorGmm/);
  });
});
