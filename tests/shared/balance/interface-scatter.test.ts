// The default scatter of interfaces: each figure with its source, and a plant's own figures first.
import { describe, expect, test } from 'vitest';
import { INTERFACE_SCATTER_DEFAULTS, scatterOf } from '../../../shared/balance/index.ts';

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
});
