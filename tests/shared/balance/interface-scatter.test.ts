// The default scatter of interfaces: each figure with its source, and a plant's own figures first.
import { describe, expect, test } from 'vitest';
import { INTERFACE_SCATTER_DEFAULTS, interfaceKindOf, scatterOf } from '../../../shared/balance/index.ts';

describe('interface scatter', () => {
  test('every default says where it comes from and claims no standard', () => {
    for (const row of INTERFACE_SCATTER_DEFAULTS) {
      expect(['common practice, no source', 'from memory']).toContain(row.source);
      expect(scatterOf(row.interfaceKind)).toEqual(row);
    }
  });

  test("a plant's own figure comes first, and an unknown interface is not taken for a perfect one", () => {
    const own = { interfaceKind: 'hsk', lowUm: 0.8, highUm: 1.5, source: 'own trial of 40 clampings' };
    expect(scatterOf('hsk', [own])).toBe(own);
    expect(scatterOf('threaded-nose', [own])).toBeNull();
    expect(() => scatterOf('hsk', [{ ...own, lowUm: 2 }])).toThrow(/highUm: expected at least lowUm/);
    expect(() => scatterOf('hsk', [{ ...own, lowUm: -1 }])).toThrow(RangeError);
  });

  test.each([
    ['HSK-A63', 'hsk'],
    ['hsk e 40', 'hsk'],
    ['HSK 100', 'hsk'],
    ['SK 40', 'steep-taper'],
    ['BT30', 'steep-taper'],
    ['ISO 50', 'steep-taper'],
    ['CV-40', 'steep-taper'],
    ['NT 40', 'steep-taper'],
    ['PSC-63', 'polygonal-taper'],
    // The number of a standard is not the size of a taper.
    ['ISO 26623', null],
    ['HSK', null],
    ['', null],
  ])('the trade name "%s" stands for %s (common practice, no source)', (tradeName, kind) => {
    expect(interfaceKindOf(tradeName)).toBe(kind);
  });

  test("a plant's row for the very interface comes before its row for the kind", () => {
    const kind = { interfaceKind: 'hsk', lowUm: 1, highUm: 2, source: 'own trial' };
    const exact = { interfaceKind: 'HSK-A63', lowUm: 0.5, highUm: 1, source: 'own trial, one size' };
    expect(scatterOf('HSK A63', [kind, exact])).toBe(exact);
    expect(scatterOf('HSK-E40', [kind, exact])).toBe(kind);
    expect(scatterOf('HSK-A63')?.lowUm).toBe(2);
  });
});
