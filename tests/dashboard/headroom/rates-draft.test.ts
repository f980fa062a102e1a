// Rates in fields and back: nothing that was declared is lost on the way, and what is left empty is not declared.
import { expect, test } from 'vitest';
import type { RatesView } from '../../../shared/headroom.ts';
import { RatesDeclared } from '../../../shared/headroom.ts';
import {
  declaredOf,
  draftOf,
  standsTwice,
  unpriced,
  withCutter,
  withCutterChanged,
  withoutCutter,
} from '../../../dashboard/headroom/rates-draft.ts';
import { INVENTED_RATES } from '../fixtures/invented-headroom.ts';

const VIEW: RatesView = { ...INVENTED_RATES, by: 'e-saar', at: 0 };

test('opened and sent unchanged, what is declared is what was declared, to the instant', () => {
  expect(declaredOf(draftOf(VIEW))).toEqual(INVENTED_RATES);
});

test.each([
  ['the same day keeps its instant', '2026-09-01', '2026-09-01T06:30:00Z'],
  ['another day is its midnight, UTC', '2026-10-02', '2026-10-02T00:00:00Z'],
  ['no day is none', '', undefined],
])('%s', (_, date, sourceDate) => {
  const [cutter] = declaredOf(withCutterChanged(draftOf(VIEW), 0, { date })).cutters;
  expect(cutter?.sourceDate).toBe(sourceDate);
});

test('nothing declared yet: an empty hour and an empty change are not declared as 0', () => {
  const draft = { ...draftOf(undefined), currency: ' INV ' };
  expect(declaredOf(draft)).toEqual({ currency: 'INV', cutters: [] });
  const priced = withCutterChanged(withCutter(draft), 0, { cutter: ' Drill 12 ', amount: '0', source: ' given ' });
  const declared = declaredOf(priced);
  expect(declared).toEqual({ currency: 'INV', cutters: [{ cutter: 'Drill 12', amount: 0, source: 'given' }] });
  expect(RatesDeclared.parse(declared)).toEqual(declared);
});

test('a row is added empty, changed alone, and taken out alone', () => {
  const draft = withCutter(draftOf(VIEW));
  expect(draft.cutters.map(({ cutter }) => cutter)).toEqual(['Face mill 63 (invented)', 'Drill 12 (invented)', '']);
  const without = withoutCutter(withCutterChanged(draft, 1, { amount: '33' }), 0);
  expect(without.cutters.map(({ amount }) => amount)).toEqual(['33', '']);
});

test('a kind that stands twice is found by its second row, spaces aside; empty rows are no kind', () => {
  const draft = draftOf(VIEW);
  expect(standsTwice(draft)).toBe(-1);
  expect(standsTwice(withCutter(withCutter(draft)))).toBe(-1);
  expect(standsTwice(withCutterChanged(withCutter(draft), 2, { cutter: 'Drill 12 (invented) ' }))).toBe(2);
});

test('offered are the kinds that lives were told of and that have no price yet', () => {
  expect(unpriced(draftOf(VIEW), ['Drill 12 (invented)', 'Reamer 8 (invented)'])).toEqual(['Reamer 8 (invented)']);
});
