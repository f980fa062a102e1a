// What ISO 21940-11 permits, against worked examples and against the units that the formula must give.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GRADE_CONSTANT, permissibleResidualGmm, permissibleSpecificUm } from '../../../shared/balance/index.ts';

describe('permissible unbalance', () => {
  test('the constant is exact, where tables print 9549 (ISO 21940-11)', () => {
    expect(GRADE_CONSTANT).toBeCloseTo(9549.29658551372, 10);
    expect(GRADE_CONSTANT / 9549 - 1).toBeCloseTo(31e-6, 6);
  });

  test.each([
    // Worked examples of common practice print the rounded value; the formula of ISO 21940-11 gives the exact one.
    {
      name: 'U1, E1: printed 12',
      massKg: 2,
      speedRpm: 10_000,
      gradeMmS: 6.3,
      specificUm: 6.01606,
      residualGmm: 12.03211,
    },
    { name: 'U2, E2: printed 4', massKg: 1, speedRpm: 15_000, gradeMmS: 6.3, specificUm: 4.0107, residualGmm: 4.0107 },
    {
      name: 'U2, E3: printed 2',
      massKg: 1,
      speedRpm: 30_000,
      gradeMmS: 6.3,
      specificUm: 2.00535,
      residualGmm: 2.00535,
    },
    {
      name: 'E3: half the mass',
      massKg: 0.5,
      speedRpm: 15_000,
      gradeMmS: 6.3,
      specificUm: 4.0107,
      residualGmm: 2.00535,
    },
    {
      name: 'U3, E4: printed 3.18',
      massKg: 2,
      speedRpm: 15_000,
      gradeMmS: 2.5,
      specificUm: 1.59155,
      residualGmm: 3.1831,
    },
    {
      name: 'E8: printed 2 to 3',
      massKg: 1,
      speedRpm: 10_000,
      gradeMmS: 2.5,
      specificUm: 2.38732,
      residualGmm: 2.38732,
    },
    {
      name: 'E8: printed 5 to 10',
      massKg: 1,
      speedRpm: 10_000,
      gradeMmS: 6.3,
      specificUm: 6.01606,
      residualGmm: 6.01606,
    },
    {
      name: 'R2: light and fast',
      massKg: 1.2,
      speedRpm: 24_000,
      gradeMmS: 2.5,
      specificUm: 0.99472,
      residualGmm: 1.19366,
    },
  ])('$name (ISO 21940-11)', ({ massKg, speedRpm, gradeMmS, specificUm, residualGmm }) => {
    expect(Math.abs(permissibleSpecificUm(gradeMmS, speedRpm) - specificUm)).toBeLessThan(1e-4);
    const residual = permissibleResidualGmm({ massKg, serviceSpeedRpm: speedRpm, gradeMmS });
    expect(Math.abs(residual - residualGmm)).toBeLessThan(1e-4);
  });

  test('U7, E9: a turbine rotor of 3600 kg at 3000 rpm and G2.5 (ISO 21940-11; the printed 28.8·10³ from memory)', () => {
    expect(permissibleResidualGmm({ massKg: 3600, serviceSpeedRpm: 3000, gradeMmS: 2.5 })).toBeCloseTo(28_647.89, 2);
    expect(permissibleSpecificUm(2.5, 3000)).toBeCloseTo(7.95775, 4);
  });

  test.each([
    [10_000, 2.387],
    [15_000, 1.592],
    [20_000, 1.194],
    [25_000, 0.955],
    [30_000, 0.796],
  ])('e_per of G2.5 at %i rpm is %f µm (ISO 21940-11)', (speedRpm, specificUm) => {
    expect(permissibleSpecificUm(2.5, speedRpm)).toBeCloseTo(specificUm, 3);
  });

  test('e_per times the angular speed is the grade, for any grade and speed', () => {
    const positive = fc.double({ min: 0.01, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(positive, positive, (gradeMmS, speedRpm) => {
        const omega = (2 * Math.PI * speedRpm) / 60;
        expect((permissibleSpecificUm(gradeMmS, speedRpm) * omega) / 1000 / gradeMmS).toBeCloseTo(1, 12);
      }),
    );
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('mass, speed or grade of %d is refused in words', (bad) => {
    const good = { massKg: 1, serviceSpeedRpm: 10_000, gradeMmS: 2.5 };
    expect(() => permissibleResidualGmm({ ...good, massKg: bad })).toThrow(/massKg: expected .* above 0/);
    expect(() => permissibleResidualGmm({ ...good, serviceSpeedRpm: bad })).toThrow(RangeError);
    expect(() => permissibleResidualGmm({ ...good, gradeMmS: bad })).toThrow(RangeError);
  });

  test('finite inputs of absurd size never give a limit of infinity or nothing', () => {
    expect(() => permissibleResidualGmm({ massKg: 1e308, serviceSpeedRpm: 1, gradeMmS: 1e308 })).toThrow(RangeError);
    expect(() => permissibleResidualGmm({ massKg: 1, serviceSpeedRpm: 5e-324, gradeMmS: 2.5 })).toThrow(RangeError);
    expect(() => permissibleResidualGmm({ massKg: 5e-324, serviceSpeedRpm: 1e9, gradeMmS: 2.5 })).toThrow(RangeError);
  });
});
