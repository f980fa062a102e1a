// An assembly predicted from its parts: every way to turn them lies between least and most, which are both reached.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  combineParts,
  predictionAgainst,
  sumUnbalance,
  turnUnbalance,
  type MeasuredPart,
} from '../../../shared/balance/index.ts';

function part(gmm: number, change: Partial<MeasuredPart> = {}): MeasuredPart {
  return {
    name: 'part',
    massKg: 1,
    unbalance: { gmm, angleDeg: 0 },
    orientationKnown: false,
    errorGmm: 0,
    jointUm: 0,
    ...change,
  };
}

describe('a combined assembly', () => {
  test('known orientations add as vectors: 3 and 4 g·mm at right angles are 5 (mechanics)', () => {
    const prediction = combineParts([
      part(3, { orientationKnown: true }),
      part(4, { orientationKnown: true, unbalance: { gmm: 4, angleDeg: 90 } }),
    ]);
    expect(prediction.known.gmm).toBeCloseTo(5, 12);
    expect(prediction.leastGmm).toBeCloseTo(5, 12);
    expect(prediction.mostGmm).toBeCloseTo(5, 12);
  });

  test('of unknown orientations only sum and remainder are sure: 6, 2 and 1 g·mm make 3 … 9, by random 6.4', () => {
    const prediction = combineParts([part(6), part(2), part(1)]);
    expect(prediction.leastGmm).toBeCloseTo(3, 12);
    expect(prediction.mostGmm).toBe(9);
    expect(prediction.expectedGmm).toBeCloseTo(Math.sqrt(41), 12);
    expect(combineParts([part(3), part(2), part(2)]).leastGmm).toBe(0);
  });

  test('a joint throws all that it carries off the axis: 2 µm under 1.8 kg are 3.6 g·mm, 1 µm under 0.5 kg 0.5', () => {
    const prediction = combineParts([
      part(0, { name: 'holder', massKg: 1.3, jointUm: 2 }),
      part(0, { name: 'cutter', massKg: 0.5, jointUm: 1, errorGmm: 0.4 }),
    ]);
    expect(prediction.massKg).toBeCloseTo(1.8, 12);
    expect(prediction.joints).toEqual([
      { name: 'holder', carriedKg: 1.8, gmm: 3.6 },
      { name: 'cutter', carriedKg: 0.5, gmm: 0.5 },
    ]);
    expect(prediction.mostGmm).toBeCloseTo(4.5, 12);
    expect(prediction.leastGmm).toBe(0);
    expect(prediction.expectedGmm).toBeCloseTo(Math.hypot(3.6, 0.5, 0.4), 12);
  });

  test('a joint that is not known is named, not counted as none', () => {
    expect(combineParts([part(1, { name: 'collet', jointUm: null })]).jointsNotKnown).toEqual(['collet']);
  });

  test('no way to turn the parts leaves the range', () => {
    const parts = fc.array(
      fc.record({
        gmm: fc.double({ min: 0, max: 100, noNaN: true }),
        turn: fc.integer({ min: 0, max: 359 }),
        known: fc.boolean(),
      }),
      { minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(parts, (rows) => {
        const prediction = combineParts(rows.map(({ gmm, known }) => part(gmm, { orientationKnown: known })));
        const really = sumUnbalance(
          rows.map(({ gmm, turn, known }) => turnUnbalance({ gmm, angleDeg: 0 }, known ? 0 : turn)),
        );
        expect(really.gmm).toBeLessThanOrEqual(prediction.mostGmm + 1e-9);
        expect(really.gmm).toBeGreaterThanOrEqual(prediction.leastGmm - 1e-9);
        expect(prediction.expectedGmm).toBeLessThanOrEqual(prediction.mostGmm + 1e-9);
      }),
    );
  });

  test('against a limit: within whatever the orientations, exceeded whatever they are, or it depends', () => {
    const range = { leastGmm: 2, mostGmm: 6 };
    expect(predictionAgainst(range, 6)).toBe('within');
    expect(predictionAgainst(range, 1.9)).toBe('exceeds');
    expect(predictionAgainst(range, 2)).toBe('depends');
    expect(predictionAgainst(range, 5)).toBe('depends');
  });

  test('no parts, and parts without mass, are refused by name', () => {
    expect(() => combineParts([])).toThrow(/parts: expected 1 to 32/);
    expect(() => combineParts([part(1, { name: 'nut', massKg: 0 })])).toThrow(/nut: massKg/);
    expect(() => combineParts([part(-1, { name: 'nut' })])).toThrow(/nut: gmm/);
  });
});
