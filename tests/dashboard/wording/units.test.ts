// Factors from NIST SP 811 (2008), appendix B.8: ounce (avoirdupois) 2.834 952 E−02 kg, pound 4.535 924 E−01 kg, inch 2.54 E−02 m,
// mil 2.54 E−05 m, inch per second 2.54 E−02 m/s, standard gravity 9.806 65 m/s².
import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import {
  amount,
  graduation,
  ofWhat,
  shownTicks,
  unitOf,
  vector,
  velocity,
  withUnit,
} from '../../../dashboard/wording/figures.ts';
import { chosenUnits, shownBy, showUnits, UNIT_CHOICES, type ChosenUnits } from '../../../dashboard/wording/units.ts';
import { levelTicks } from '../../../dashboard/spindle/ahead-shape.ts';

const OTHER: ChosenUnits = { velocity: 'in/s', acceleration: 'g', unbalance: 'oz·in', displacement: 'mil', mass: 'oz' };
afterEach(() => showUnits({}));

test.each([
  ['mm/s', 'in/s', 25.4],
  ['m/s2', 'g', 9.80665],
  ['g.mm', 'oz·in', 28.349523125 * 25.4],
  ['g.mm2', 'oz·in²', 28.349523125 * 25.4 ** 2],
  ['um', 'mil', 25.4],
  ['g', 'oz', 28.349523125],
  ['kg', 'lb', 0.45359237],
])('%s: one %s is %s of it', (ucum, word, factor) => {
  const unit = shownBy(ucum, OTHER);
  expect(unit.word).toBe(word);
  expect(unit.back(1)).toBeCloseTo(factor, 9);
  expect(unit.of(factor)).toBeCloseTo(1, 12);
});

test('1 oz·in is 720.07789 g·mm', () => expect(shownBy('g.mm', OTHER).back(1)).toBeCloseTo(720.07789, 5));

test.each(['{rev}/min', 'deg', 'Hz', 'Cel', 'mm', '1', '%', 'toString'])(
  '%s has one unit, whatever was chosen',
  (ucum) => {
    expect(shownBy(ucum, OTHER)).toMatchObject({ converted: false });
    expect(shownBy(ucum, OTHER).of(7)).toBe(7);
  },
);

describe('with the other unit of each', () => {
  test.each(['mm/s', 'm/s2', 'g.mm', 'um', 'kg'])(
    '%s: what is shown, taken back, is the value within its rounding',
    (ucum) => {
      showUnits(OTHER);
      const { back } = shownBy(ucum, OTHER);
      fc.assert(
        fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (value) => {
          const read = Number(amount(value, ucum).replaceAll(',', ''));
          // Three figures: half of the last is at most 0.5 % of the value.
          expect(Math.abs(back(read) - value)).toBeLessThanOrEqual(value * 0.005 * (1 + 1e-9));
        }),
      );
    },
  );

  test('words have the number and the unit', () => {
    showUnits(OTHER);
    expect(velocity(25.4)).toBe('1.00 in/s');
    expect(velocity(0.85)).toBe('0.0335 in/s');
    expect(ofWhat(0.85, 2.54, 'mm/s')).toBe('0.0335 of 0.100 in/s');
    expect(vector(4.1, 310)).toBe('0.00569 oz·in at 310°');
    expect(withUnit(9.80665, 'm/s2')).toBe('1.00 g');
    expect(withUnit(18_000, '{rev}/min')).toBe('18,000 rpm');
    expect(unitOf('kg')).toBe('lb');
  });

  test('an axis is round in the unit that is read', () => {
    showUnits(OTHER);
    const ticks = shownTicks('mm/s', (shown) => levelTicks(shown(2.6), 6));
    expect(ticks.map(({ word }) => word)).toEqual(['0', '0.02', '0.04', '0.06', '0.08', '0.1']);
    expect(ticks[1]?.value).toBeCloseTo(0.508, 9);
  });
});

test('without a choice everything is in the units of the messages', () => {
  expect(chosenUnits()).toEqual(
    Object.fromEntries(Object.entries(UNIT_CHOICES).map(([name, [first]]) => [name, first])),
  );
  expect(velocity(0.85)).toBe('0.85 mm/s');
});

test('a small graduation keeps its digits', () => {
  expect(graduation(0.0002)).toBe('0.0002');
  expect(graduation(2e-7)).toBe('0.0000002');
  expect(graduation(18_000)).toBe('18,000');
});
