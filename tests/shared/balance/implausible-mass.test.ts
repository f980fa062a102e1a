// A mass in the wrong unit is remarked, a heavy or a light tool is not.
import { describe, expect, test } from 'vitest';
import { implausibleMass } from '../../../shared/balance/index.ts';

describe('implausible mass', () => {
  test('1850 kg for a holder of 1.5 and a cutter of 0.35 kg: grams given as kilograms', () => {
    expect(implausibleMass({ massKg: 1850, partMassesKg: [1.5, 0.35] })).toBe(
      '1850 kg for an assembly whose parts weigh 1.85 kg: grams given as kilograms?',
    );
    expect(implausibleMass({ massKg: 1.85, partMassesKg: [1500, 350] })).toContain('are the parts in grams');
  });

  test('an assembly that weighs less than its parts is remarked, one with parts that nobody weighed is not', () => {
    expect(implausibleMass({ massKg: 1.2, partMassesKg: [1, 0.5] })).toBe(
      '1.2 kg is less than its parts weigh together, 1.5 kg',
    );
    expect(implausibleMass({ massKg: 1.48, partMassesKg: [1, 0.5] })).toBeNull();
    expect(implausibleMass({ massKg: 3, partMassesKg: [0.02] })).toBeNull();
    expect(implausibleMass({ massKg: 3 })).toBeNull();
    expect(implausibleMass({ massKg: 3, partMassesKg: [0] })).toBeNull();
  });

  test('beyond what is usual it is remarked where that is told', () => {
    expect(implausibleMass({ massKg: 1200, highKg: 100 })).toBe(
      '1200 kg is more than is usual (100 kg): grams given as kilograms?',
    );
    expect(implausibleMass({ massKg: 0.002, lowKg: 0.01 })).toContain('less than is usual (0.01 kg)');
    expect(implausibleMass({ massKg: 100, lowKg: 0.01, highKg: 100 })).toBeNull();
  });

  test('no mass and negative parts are refused', () => {
    expect(() => implausibleMass({ massKg: 0 })).toThrow(/massKg: expected/);
    expect(() => implausibleMass({ massKg: 1, partMassesKg: [-1] })).toThrow(/partMassesKg\[0\]/);
  });
});
