// Scopes and their order: names with stars against a second opinion, and which of two rows counts.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PLAIN } from '../../shared/fault-words.ts';
import { RuleSetSchema } from '../../shared/rule-set.ts';
import { fitsScope, settingsFor, weightOf, type RuleRow, type ScopedTo } from '../../shared/rule-settings.ts';

const TO: ScopedTo = {
  plant: 'plant-1',
  cell: 'grinding',
  interface: 'HSK-A63',
  assembly: 'A-0312',
  machine: 'M-4',
  spindle: 'S-04',
};

test('names fit as a pattern of stars would', () => {
  const text = fc.string({ unit: fc.constantFrom('a', 'b', '-'), maxLength: 8 });
  const pattern = fc.string({ unit: fc.constantFrom('a', 'b', '-', '*'), minLength: 1, maxLength: 6 });
  fc.assert(
    fc.property(text, pattern, (name, wanted) => {
      const plainly = new RegExp(`^${wanted.replaceAll('*', '[ab-]*')}$`);
      expect(fitsScope({ spindle: wanted }, { ...TO, spindle: name })).toBe(plainly.test(name));
    }),
  );
});

test('all names that are given must fit, and what is not known fits none', () => {
  expect(fitsScope({}, TO)).toBe(true);
  expect(fitsScope({ cell: 'grinding', spindle: 'S-0*' }, TO)).toBe(true);
  expect(fitsScope({ cell: 'grinding', spindle: 'S-1*' }, TO)).toBe(false);
  expect(fitsScope({ assembly: '*' }, { ...TO, assembly: undefined })).toBe(false);
});

test('spindle before machine before assembly before interface before cell before plant; of two alike the later', () => {
  const rows: readonly RuleRow[] = [
    { scope: { spindle: 'S-04' }, settings: { persistenceReadings: 1 } },
    { scope: { machine: 'M-4' }, settings: { persistenceReadings: 2, persistenceS: 2 } },
    { scope: { assembly: 'A-*' }, settings: { persistenceS: 3, pauseMaxS: 103 } },
    { scope: { cell: 'grinding' }, settings: { pauseMaxS: 104, clearShare: 0.7 } },
    { scope: { plant: 'plant-1' }, settings: { clearShare: 0.6 } },
    { scope: {}, settings: { clearShare: 0.5 } },
  ];
  const wanted = { persistenceReadings: 1, persistenceS: 2, pauseMaxS: 103, clearShare: 0.7 };
  fc.assert(
    fc.property(fc.shuffledSubarray([...rows], { minLength: rows.length }), (shuffled) => {
      expect(settingsFor(shuffled, TO)).toEqual(wanted);
    }),
  );
  const alike = [0.6, 0.8].map((clearShare) => ({ scope: { cell: 'grinding' }, settings: { clearShare } }));
  expect(settingsFor(alike, TO).clearShare).toBe(0.8);
  expect(weightOf({ spindle: 'S' })).toBeGreaterThan(
    weightOf({ machine: 'M', assembly: 'A', interface: 'H', cell: 'C' }),
  );
});

test('what is out of bounds is said with what was expected', () => {
  const said = (row: object): string[] => {
    const read = RuleSetSchema.safeParse({ version: 1, name: 'n', author: 'Ada', rows: [row] }, PLAIN);
    return read.success ? [] : read.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`);
  };
  expect(said({ scope: {}, settings: { persistenceReadings: 0 } })).toEqual([
    'rows.0.settings.persistenceReadings: expected at least 1',
  ]);
  expect(said({ scope: {}, settings: { clearShare: 1.2 } })).toEqual([
    'rows.0.settings.clearShare: expected at most 1',
  ]);
  expect(said({ scope: { floor: 'x' }, settings: { clearShare: 0.8 } })).toEqual([
    'rows.0.scope: expected no field named floor',
  ]);
  expect(said({ scope: {}, settings: {} })[0]).toContain('expected at least one of persistenceReadings');
});
