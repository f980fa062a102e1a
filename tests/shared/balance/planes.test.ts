// The shares of two planes, against the lever rule and its bounds.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { allocateToPlanes, PLANE_SHARE_MAX, PLANE_SHARE_MIN } from '../../../shared/balance/index.ts';

describe('allocation to two planes', () => {
  test('U8, E9: arms of 1500 and 900 mm share 28 647.89 g·mm, the nearer plane taking more (ISO 21940-11)', () => {
    const allocation = allocateToPlanes(28_647.89, { planeAMm: -900, planeBMm: 1500, centreOfMassMm: 0 });
    expect(allocation.basis).toBe('by-distance');
    expect(allocation.planeAGmm).toBeCloseTo(17_904.93, 2);
    expect(allocation.planeBGmm).toBeCloseTo(10_742.96, 2);
  });

  test('U9: shares of 0.9 and 0.1 are bounded to 0.7 and 0.3 (ISO 21940-11; the bounds from memory)', () => {
    const nearA = allocateToPlanes(10, { planeAMm: 0, planeBMm: 100, centreOfMassMm: 10 });
    expect(nearA).toMatchObject({ basis: 'bounded', shareA: 0.7, shareB: 0.3, planeAGmm: 7, planeBGmm: 3 });
    const nearB = allocateToPlanes(10, { planeAMm: 0, planeBMm: 100, centreOfMassMm: 90 });
    expect(nearB).toMatchObject({ basis: 'bounded', shareA: 0.3, shareB: 0.7 });
  });

  test('both planes on one side of the centre of mass: still bounded, the nearer taking more', () => {
    const allocation = allocateToPlanes(10, { planeAMm: 20, planeBMm: 80, centreOfMassMm: -40 });
    expect(allocation).toMatchObject({ basis: 'bounded', shareA: 0.7, shareB: 0.3 });
  });

  test('without geometry each takes half', () => {
    expect(allocateToPlanes(10, null)).toEqual({
      basis: 'half-each',
      shareA: 0.5,
      shareB: 0.5,
      planeAGmm: 5,
      planeBGmm: 5,
    });
  });

  test('shares sum to the whole, stay in their bounds, and swap when the planes are named the other way', () => {
    const positions = fc.integer({ min: -2000, max: 2000 });
    fc.assert(
      fc.property(positions, positions, positions, (planeAMm, planeBMm, centreOfMassMm) => {
        fc.pre(planeAMm !== planeBMm);
        const one = allocateToPlanes(40, { planeAMm, planeBMm, centreOfMassMm });
        const other = allocateToPlanes(40, { planeAMm: planeBMm, planeBMm: planeAMm, centreOfMassMm });
        expect(one.planeAGmm + one.planeBGmm).toBeCloseTo(40, 10);
        for (const share of [one.shareA, one.shareB]) {
          expect(share).toBeGreaterThanOrEqual(PLANE_SHARE_MIN - 1e-12);
          expect(share).toBeLessThanOrEqual(PLANE_SHARE_MAX + 1e-12);
        }
        expect(other.shareA).toBeCloseTo(one.shareB, 12);
      }),
    );
  });

  test('planes that coincide, no limit and no number are refused', () => {
    const geometry = { planeAMm: 5, planeBMm: 5, centreOfMassMm: 0 };
    expect(() => allocateToPlanes(10, geometry)).toThrow(/apart from plane A/);
    expect(() => allocateToPlanes(0, null)).toThrow(RangeError);
    expect(() => allocateToPlanes(10, { ...geometry, centreOfMassMm: Number.NaN })).toThrow(/centreOfMassMm/);
    expect(() => allocateToPlanes(10, { planeAMm: -1.7e308, planeBMm: 1.7e308, centreOfMassMm: 0 })).toThrow(
      RangeError,
    );
  });
});
