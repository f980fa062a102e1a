// A rule set in words and as YAML: what is written down is read again as it was, and a change says what it changes.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readRuleFile } from '../../services/limit-files/index.ts';
import { limitsAfter, limitTryWords } from '../../shared/limit-tries.ts';
import type { RuleSet } from '../../shared/rule-settings.ts';
import { ruleChanges, ruleSetYaml, rowWords } from '../../shared/rule-words.ts';

const words = fc.string({ minLength: 1, maxLength: 20 }).map((text) => `x${text}x`);
const PLAIN = { noNullPrototype: true, requiredKeys: [] };
const row = fc.record(
  {
    scope: fc.record({ cell: words, spindle: words, assembly: words, plant: words }, PLAIN),
    settings: fc
      .record(
        {
          persistenceReadings: fc.integer({ min: 1, max: 1000 }),
          clearShare: fc.double({ min: 0.5, max: 1, noNaN: true }),
        },
        PLAIN,
      )
      .filter((settings) => Object.keys(settings).length > 0),
  },
  { noNullPrototype: true },
);
const ruleSet: fc.Arbitrary<RuleSet> = fc.record(
  {
    version: fc.integer({ min: 1, max: 9999 }),
    name: words,
    author: words,
    note: words,
    rows: fc.array(row, { maxLength: 5 }),
  },
  { noNullPrototype: true },
);

test('what is written as YAML is read again as it was', () => {
  fc.assert(
    fc.property(ruleSet, (rules) => {
      expect(readRuleFile(ruleSetYaml(rules))).toEqual({ kind: 'rules', rules });
    }),
  );
});

test('rows in the words of the shop', () => {
  const settings = { persistenceReadings: 8, persistenceS: 120, pauseMaxS: 3600, clearShare: 0.8 };
  expect(rowWords({ scope: { spindle: 'S-04', cell: 'grinding' }, settings })).toBe(
    'spindle S-04, cell grinding: at least 8 readings over a limit, spanning 2 min or more, a pause of more than 1 h begins anew, a stay ends below 80 % of the limit',
  );
  expect(rowWords({ scope: {}, settings: { persistenceReadings: 1 } })).toBe(
    'the whole plant: one reading over a limit is enough',
  );
});

test('a change says what it adds and removes, and that rows only moved', () => {
  const one = { scope: { cell: 'a' }, settings: { persistenceReadings: 2 } };
  const other = { scope: { cell: 'a' }, settings: { persistenceReadings: 3 } };
  const set = (rows: RuleSet['rows']): RuleSet => ({ version: 1, name: 'n', author: 'a', note: '', rows });
  expect(ruleChanges(undefined, set([one])).adds).toEqual(['cell a: at least 2 readings over a limit']);
  expect(ruleChanges(set([one]), set([other])).removes).toEqual(['cell a: at least 2 readings over a limit']);
  expect(ruleChanges(set([one, other]), set([other, one])).adds).toEqual([
    'the rows stand in another order: of two that name the same the later counts',
  ]);
  expect(ruleChanges(set([one]), set([one]))).toEqual({ adds: [], removes: [] });
});

test('other limits: so many times what is declared, or one at all speeds; the others stay', () => {
  const limit = (quantity: 'overall' | 'synchronous', limitMmS: number) => ({
    quantity,
    fromSpeedRpm: 1000,
    toSpeedRpm: 9000,
    limitMmS,
    source: 'maker (invented)',
    sourceDate: '2026-01-01T00:00:00Z',
  });
  const before = [limit('overall', 2.8), limit('synchronous', 1.8)];
  const named = { spindleId: 'S-04', cell: 'grinding', machine: undefined };
  const half = { scope: { cell: 'grinding' }, quantity: 'overall', times: 0.7 } as const;
  expect(limitsAfter(before, named, half)[0]).toEqual({
    quantity: 'overall',
    fromSpeedRpm: 1000,
    toSpeedRpm: 9000,
    limitMmS: 1.96,
    source: 'tried, not in force',
  });
  expect(limitsAfter(before, { ...named, cell: 'milling' }, half)).toBe(before);
  const one = { scope: { spindle: 'S-*' }, quantity: 'synchronous', limitMmS: 3, source: 'plant rule 7' } as const;
  expect(limitsAfter(before, named, one).map(({ limitMmS }) => limitMmS)).toEqual([2.8, 3]);
  expect(limitTryWords(half)).toBe('cell grinding: overall limit 0.7 times what is declared');
  expect(limitTryWords(one)).toBe('spindle S-*: 1× limit 3 mm/s RMS at all speeds; plant rule 7');
});
