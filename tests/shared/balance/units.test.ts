// Conversions at the edges, against the international pound and inch.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  gFromOz,
  gmmFromGCm,
  gmmFromGIn,
  gmmFromKgM,
  gmmFromOzIn,
  GRADE_CONSTANT,
  inchFromMm,
  inPerSFromMmPerS,
  kgFromLb,
  lbfFromN,
  lbFromKg,
  mmFromInch,
  mmPerSFromInPerS,
  nFromLbf,
  ozFromG,
  ozInFromGmm,
  permissibleResidualGmm,
} from '../../../shared/balance/index.ts';

describe('units', () => {
  test('U10: 1 g·mm is 0.00138874 oz·in (international pound and inch)', () => {
    expect(ozInFromGmm(1)).toBeCloseTo(0.00138874, 6);
    expect(ozInFromGmm(1) / 0.00138874).toBeCloseTo(1, 5);
  });

  test('U10: U_per = 6.01530·G·W/N in oz·in, lb and rpm (ISO 21940-11)', () => {
    const residualGmm = permissibleResidualGmm({ massKg: kgFromLb(1), serviceSpeedRpm: 1, gradeMmS: 1 });
    expect(Math.abs(ozInFromGmm(residualGmm) - 6.0153)).toBeLessThan(1e-4);
    expect(residualGmm).toBeCloseTo(GRADE_CONSTANT * 0.45359237, 9);
  });

  test('1 in/s is 25.4 mm/s, 1 lb 0.45359237 kg (international definitions)', () => {
    expect(mmPerSFromInPerS(1)).toBe(25.4);
    expect(kgFromLb(1)).toBe(0.45359237);
    expect(gFromOz(16)).toBeCloseTo(453.59237, 10);
    expect(mmFromInch(1)).toBe(25.4);
    expect(nFromLbf(1)).toBeCloseTo(4.4482216152605, 12);
  });

  test('g·cm, g·in and kg·m by the metre and the international inch', () => {
    expect(gmmFromGCm(1)).toBe(10);
    expect(gmmFromGIn(1)).toBe(25.4);
    expect(gmmFromKgM(1)).toBe(1e6);
    expect(gmmFromOzIn(1)).toBeCloseTo(gmmFromGIn(gFromOz(1)), 10);
  });

  test('there and back again', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        expect(gmmFromOzIn(ozInFromGmm(value))).toBeCloseTo(value, 8);
        expect(kgFromLb(lbFromKg(value))).toBeCloseTo(value, 8);
        expect(gFromOz(ozFromG(value))).toBeCloseTo(value, 8);
        expect(mmFromInch(inchFromMm(value))).toBeCloseTo(value, 8);
        expect(nFromLbf(lbfFromN(value))).toBeCloseTo(value, 8);
        expect(mmPerSFromInPerS(inPerSFromMmPerS(value))).toBeCloseTo(value, 8);
      }),
    );
  });

  test('no number is refused', () => {
    expect(() => ozInFromGmm(Number.NaN)).toThrow(/value: expected a finite number/);
    expect(() => gmmFromOzIn(1e308)).toThrow(RangeError);
  });
});
