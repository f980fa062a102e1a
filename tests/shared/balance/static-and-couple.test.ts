// Static and couple parts of a two-plane unbalance (ISO 21940-2), against cases one can see and against their own sum.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { resolveStaticAndCouple, sumUnbalance, turnUnbalance } from '../../../shared/balance/index.ts';
import { distanceGmm, unbalances } from './arbitraries.ts';

const symmetric = { planeAMm: -50, planeBMm: 50, centreOfMassMm: 0 };

describe('static and couple unbalance', () => {
  test('equal vectors about the middle are static alone (ISO 21940-2)', () => {
    const parts = resolveStaticAndCouple({ gmm: 3, angleDeg: 90 }, { gmm: 3, angleDeg: 90 }, symmetric);
    expect(parts.static).toEqual({ gmm: 6, angleDeg: 90 });
    expect(parts.coupleGmm2).toBe(0);
  });

  test('opposite vectors are a couple alone: 3 g·mm 100 mm apart are 300 g·mm² (ISO 21940-2)', () => {
    const parts = resolveStaticAndCouple({ gmm: 3, angleDeg: 180 }, { gmm: 3, angleDeg: 0 }, symmetric);
    expect(parts).toEqual({
      static: { gmm: 0, angleDeg: 0 },
      coupleGmm2: 300,
      coupleAngleDeg: 0,
      couplePairInB: { gmm: 3, angleDeg: 0 },
    });
  });

  test('static part shared by the lever and couple pair together give both planes back', () => {
    const positions = fc.integer({ min: -500, max: 500 });
    fc.assert(
      fc.property(
        unbalances,
        unbalances,
        positions,
        positions,
        positions,
        (a, b, planeAMm, planeBMm, centreOfMassMm) => {
          fc.pre(Math.abs(planeAMm - planeBMm) >= 1);
          const parts = resolveStaticAndCouple(a, b, { planeAMm, planeBMm, centreOfMassMm });
          const leverB = (centreOfMassMm - planeAMm) / (planeBMm - planeAMm);
          const staticInB =
            leverB < 0
              ? turnUnbalance({ gmm: parts.static.gmm * -leverB, angleDeg: parts.static.angleDeg }, 180)
              : { gmm: parts.static.gmm * leverB, angleDeg: parts.static.angleDeg };
          expect(distanceGmm(sumUnbalance([staticInB, parts.couplePairInB]), b)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  test('turning both planes turns the parts and changes no amount', () => {
    fc.assert(
      fc.property(unbalances, unbalances, fc.integer({ min: 0, max: 359 }), (a, b, byDeg) => {
        const before = resolveStaticAndCouple(a, b, symmetric);
        const after = resolveStaticAndCouple(turnUnbalance(a, byDeg), turnUnbalance(b, byDeg), symmetric);
        expect(after.static.gmm).toBeCloseTo(before.static.gmm, 8);
        expect(after.coupleGmm2).toBeCloseTo(before.coupleGmm2, 6);
      }),
    );
  });

  test('planes that coincide are refused', () => {
    const none = { gmm: 0, angleDeg: 0 };
    expect(() => resolveStaticAndCouple(none, none, { ...symmetric, planeBMm: -50 })).toThrow(RangeError);
  });
});
