// Reference figures: every row has a source, the plant's own rows come first, and what is not known is not made up.
import { describe, expect, test } from 'vitest';
import { ReferenceDeclared } from '../../../shared/acts.ts';
import { STANDARD_GRADES_MMS } from '../../../shared/balance/index.ts';
import { densityOf, gradeFor, interfaceScatterOf, referenceTables } from '../../../shared/reference/index.ts';

const OWN = ReferenceDeclared.parse({
  interfaces: [{ interfaceKind: 'HSK-A63', lowUm: 1, highUm: 1.5, source: 'our clamping trial' }],
  densities: [
    { material: 'High-Speed Steel', densityGCm3: 8.12, source: 'weighed' },
    { material: 'polymer concrete', densityGCm3: 2.3, source: 'weighed' },
  ],
  grades: [{ use: 'rotating tooling, usual', gradeMmS: 4, source: 'our rule of 2025' }],
});

describe('reference tables', () => {
  test('every default says where it comes from, and is within its own range', () => {
    const { interfaces, densities, grades } = referenceTables();
    for (const { source } of [...interfaces, ...densities, ...grades]) expect(source).toMatch(/from memory|no source/);
    for (const { densityGCm3, lowGCm3 = 0, highGCm3 = 25 } of densities) {
      expect(densityGCm3).toBeGreaterThanOrEqual(lowGCm3);
      expect(densityGCm3).toBeLessThanOrEqual(highGCm3);
    }
    for (const { gradeMmS } of grades) expect(STANDARD_GRADES_MMS).toContain(gradeMmS);
    for (const { lowUm, highUm } of interfaces) expect(lowUm).toBeLessThanOrEqual(highUm);
  });

  test('the plant’s own rows stand first and take the place of the defaults they name', () => {
    const { densities, grades, interfaces } = referenceTables(OWN);
    expect(densities.slice(0, 2).map(({ material, own }) => [material, own])).toEqual([
      ['High-Speed Steel', true],
      ['polymer concrete', true],
    ]);
    expect(densities.filter(({ material }) => /high.speed/i.test(material))).toHaveLength(1);
    expect(grades.filter(({ own }) => own)).toHaveLength(1);
    // A trade name of its own does not take away the default for its kind.
    expect(interfaces.map(({ interfaceKind }) => interfaceKind)).toEqual(
      expect.arrayContaining(['HSK-A63', 'hsk', 'steep-taper']),
    );
  });

  test('look-ups', () => {
    expect(densityOf('HIGH SPEED STEEL')?.densityGCm3).toBe(8.1);
    expect(densityOf('high-speed steel', OWN)).toMatchObject({ densityGCm3: 8.12, own: true, source: 'weighed' });
    expect(densityOf('unobtainium', OWN)).toBeNull();
    expect(gradeFor('machine-tool drives')?.gradeMmS).toBe(2.5);
    expect(gradeFor('Rotating tooling, usual', OWN)?.gradeMmS).toBe(4);
    expect(gradeFor('kites')).toBeNull();
    expect(interfaceScatterOf('HSK-A63', OWN)?.highUm).toBe(1.5);
    expect(interfaceScatterOf('HSK-E40', OWN)?.highUm).toBe(3);
    expect(interfaceScatterOf('bayonet', OWN)).toBeNull();
  });
});
