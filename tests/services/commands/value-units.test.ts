// Values with units: what people write, what is refused by name, and that showing and reading are each other's inverse.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  readValue,
  readVector,
  showValue,
  showVector,
  UNIT_SYSTEMS,
  type QuantityName,
} from '../../../services/commands/value-units.ts';

describe('reading', () => {
  test.each([
    ['mass', '1.2kg', 1.2],
    ['mass', '1200 g', 1.2],
    ['mass', '2.6lb', 1.179340162],
    ['mass', '16oz', 0.45359237],
    ['small mass', '5', 5],
    ['small mass', '0.1 kg', 100],
    ['unbalance', '3gmm', 3],
    ['unbalance', '3 g·mm', 3],
    ['unbalance', '3 g.mm', 3],
    ['unbalance', '0.3g cm', 3],
    ['unbalance', '0.002ozin', 1.440155],
    ['unbalance', '0.002 oz-in', 1.440155],
    ['unbalance', '1 kg·m', 1e6],
    ['unbalance', '1gin', 25.4],
    ['speed', '12000', 12_000],
    ['speed', '1.2e4 1/min', 12_000],
    ['length', '-3 in', -76.2],
    ['eccentricity', '2µm', 2],
    ['eccentricity', '0.0001in', 2.54],
    ['angle', '-30', 330],
    ['angle', '750deg', 30],
    ['grade', 'G2.5', 2.5],
    ['grade', 'g 6.3', 6.3],
    ['grade', '2.5 mm/s', 2.5],
    ['force', '1.5kN', 1500],
    ['force', '1 lbf', 4.4482216],
    ['percent', '5%', 5],
    ['density', '7.85', 7.85],
    ['density', '7850 kg/m³', 7.85],
    ['density', '1 lb/in3', 27.67990471],
  ] as const)('%s: %s', (quantity, text, value) => {
    expect(readValue(quantity, text, '--x')).toBeCloseTo(value, 5);
  });

  test('a bare number is in the usual unit of the system that was asked for', () => {
    expect(readValue('mass', '1', '--mass', 'imperial')).toBe(0.45359237);
    expect(readValue('unbalance', '1', '--residual', 'imperial')).toBeCloseTo(720.0778, 3);
    expect(readValue('grade', '2.5', '--grade', 'imperial')).toBe(2.5);
  });

  test.each([
    ['mass', '3gmm', '--mass: expected a number for a mass, in kg, g, lb, oz (bare: kg), came "3gmm"'],
    [
      'unbalance',
      '3g',
      '--mass: expected a number for an unbalance, in gmm, gcm, kgm, gin, ozin (bare: gmm), came "3g"',
    ],
    ['mass', '1,2kg', '; the decimal sign is a point'],
    ['mass', 'heavy', 'came "heavy"'],
    ['mass', '', 'came ""'],
    ['mass', '1e999', 'came "1e999"'],
    ['mass', 'NaN', 'came "NaN"'],
    ['mass', '0x10', 'came "0x10"'],
    ['mass', '-1kg', '--mass: expected more than 0, came "-1kg"'],
    ['mass', '1 toString', 'came "1 toString"'],
    ['mass', '1 constructor', 'came "1 constructor"'],
  ] as const)('%s: %s is refused, naming the flag and what was expected', (quantity, text, complaint) => {
    expect(() => readValue(quantity, text, '--mass')).toThrow(complaint);
  });

  test('a vector is an amount at an angle', () => {
    expect(readVector('3.2gmm@120', '--a')).toEqual({ gmm: 3.2, angleDeg: 120 });
    expect(readVector('0.3 gcm @ -90°', '--a')).toEqual({ gmm: 3, angleDeg: 270 });
    expect(() => readVector('3gmm', '--a')).toThrow('--a: expected an amount at an angle, such as 3.2gmm@120');
    expect(() => readVector('3@4@5', '--a')).toThrow('--a: expected an amount at an angle');
    expect(() => readVector('3kg@4', '--a')).toThrow('--a: expected a number for an unbalance');
  });
});

describe('showing', () => {
  test('four figures and the unit of the system', () => {
    expect(showValue('unbalance', 12.03211)).toBe('12.03 g·mm');
    expect(showValue('unbalance', 12.03211, 'imperial')).toBe('0.01671 oz·in');
    expect(showValue('angle', 359.96)).toBe('0°');
    expect(showVector({ gmm: 3.2, angleDeg: 120 })).toBe('3.2 g·mm at 120°');
    expect(showValue('grade', 2.5, 'imperial')).toBe('2.5 mm/s');
    expect(showValue('mass', 1.79765e308)).toBe('1.79765e+308 kg');
  });

  test('rounding dust is shown as nothing, and nothing has no direction', () => {
    expect(showValue('unbalance', 8.882e-15)).toBe('0 g·mm');
    expect(showValue('unbalance', 8.882e-15, 'imperial')).toBe('0 oz·in');
    expect(showValue('eccentricity', 7.576e-16)).toBe('0 µm');
    expect(showValue('unbalance', 0.0001)).toBe('0.0001 g·mm');
    expect(showVector({ gmm: 8.882e-15, angleDeg: 137 })).toBe('0 g·mm');
  });

  test('what is shown is read again, to four figures, in either system', () => {
    const quantities = ['mass', 'small mass', 'unbalance', 'length', 'eccentricity', 'velocity', 'force', 'density'];
    fc.assert(
      fc.property(
        fc.constantFrom(...(quantities as QuantityName[])),
        fc.constantFrom(...UNIT_SYSTEMS),
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        (quantity, system, value) => {
          const back = readValue(quantity, showValue(quantity, value, system), '--x', system);
          expect(Math.abs(back / value - 1)).toBeLessThan(5.1e-4);
        },
      ),
    );
  });
});
