// A sensor that tells something else altogether: what its speed says, held against how often it contradicted the control before.
import { describe, expect, test } from 'vitest';
import { OTHER_SENSOR, SENSOR_CHANGES } from '../../../../services/rules/relating/changes.ts';
import { newGuesses, type Guesses } from '../../../../services/rules/relating/guesses.ts';
import { learnLoad } from '../../../../services/rules/relating/learn-load.ts';
import {
  OTHER_CONTRADICTS_SHARE,
  SENSOR_OTHER_VARIANCE,
  SPEED_CONTRADICTS_PRIOR_LOADS,
  SPEED_CONTRADICTS_USUAL,
} from '../../../../services/rules/relating/limits.ts';
import { ratiosOf } from '../../../../services/rules/relating/load-ratios.ts';
import { otherDensity, sensorBeside } from '../../../../services/rules/relating/other-sensor.ts';
import { toldLoadOf, type ToldLoad } from '../../../../services/rules/relating/told-load.ts';
import { learned, loadsOf, toldOf, UNKEYED } from './simulated-spindle.ts';

type SpeedHeld = ToldLoad['speedHeld'];

const beside = (guesses: Guesses, speedHeld: SpeedHeld) =>
  sensorBeside(guesses, { ...toldOf(loadsOf(UNKEYED)()), speedHeld }, () => 1);

/** Guesses of a spindle whose loads were held against the control so. */
function held(...each: readonly SpeedHeld[]): Guesses {
  const guesses = newGuesses();
  const next = loadsOf(UNKEYED);
  for (const speedHeld of each) learnLoad(guesses, { ...toldOf(next()), speedHeld });
  return guesses;
}

test('its density is the normal one of its variance and of the error together, less 1/√(2π)', () => {
  // ∫ of it over ln of the amplitude: √(2π) (Gauss).
  let [sum, square] = [0, 0];
  for (let off = -12; off <= 12; off += 0.01) {
    sum += otherDensity(off, 0.1) * 0.01;
    square += off * off * otherDensity(off, 0.1) * 0.01;
  }
  expect(sum).toBeCloseTo(Math.sqrt(2 * Math.PI), 6);
  expect(square / sum).toBeCloseTo(SENSOR_OTHER_VARIANCE + 0.1, 6);
});

describe('the speed of a load against the control', () => {
  test('one that contradicts speaks for another sensor, one that agrees against it, and it averages to 1 (Bayes)', () => {
    const guesses = held(...Array.from({ length: 60 }, (): SpeedHeld => 'agrees'));
    const usual = (SPEED_CONTRADICTS_USUAL * SPEED_CONTRADICTS_PRIOR_LOADS) / (60 + SPEED_CONTRADICTS_PRIOR_LOADS);
    const [contradicts, agrees] = (['contradicts', 'agrees'] as const).map((one) => beside(guesses, one)(OTHER_SENSOR));
    expect(contradicts).toBeCloseTo(OTHER_CONTRADICTS_SHARE / usual, 9);
    expect(usual * (contradicts ?? 0) + (1 - usual) * (agrees ?? 0)).toBeCloseTo(1, 9);
    expect(agrees).toBeLessThan(1);
  });

  test('what the control says nothing of says nothing, and no size of a gain is told by it', () => {
    expect(beside(newGuesses(), undefined)(OTHER_SENSOR)).toBe(1);
    for (let nth = 0; nth < OTHER_SENSOR; nth += 1) expect(beside(newGuesses(), 'contradicts')(nth)).toBe(1);
  });

  test('where it always contradicted, that it does so again says next to nothing', () => {
    const guesses = held(...Array.from({ length: 60 }, (): SpeedHeld => 'contradicts'));
    expect(beside(guesses, 'contradicts')(OTHER_SENSOR)).toBeLessThan(1);
  });
});

test('a quarter of the readings that could be held against it is enough, of all parts of the load', () => {
  const [mark] = loadsOf(UNKEYED)();
  if (mark === undefined) throw new Error('a load has a mark');
  const heldOf = (speedAgrees: number, speedContradicts: number): SpeedHeld =>
    toldLoadOf(
      [
        { ...mark, speedAgrees: 0, speedContradicts },
        { ...mark, part: 1, speedAgrees },
      ],
      mark.ordinal,
      undefined,
    )?.speedHeld;
  expect(heldOf(0, 0)).toBeUndefined();
  expect(heldOf(9, 0)).toBe('agrees');
  expect(heldOf(9, 2)).toBe('agrees');
  expect(heldOf(9, 3)).toBe('contradicts');
});

test('a load as expected, at the speed that the control tells, speaks against it', () => {
  const { guesses, next } = learned(UNKEYED, 60);
  const ratios = ratiosOf(guesses, { ...toldOf(next()), speedHeld: 'agrees' }, 'all');
  expect(ratios.sensor).toHaveLength(SENSOR_CHANGES);
  expect(ratios.sensor[OTHER_SENSOR]).toBeLessThan(0.5);
});
