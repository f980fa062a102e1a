// What the spindles of a plant let expect of a new one, from invented spindles whose levels were drawn.
import { expect, test } from 'vitest';
import { fleetPrior } from '../../../../services/rules/relating/fleet-levels.ts';
import { newGuesses, NOTHING_KNOWN, type Guesses } from '../../../../services/rules/relating/guesses.ts';
import { LEVEL_SLOPE, LEVEL_USUAL_RPM } from '../../../../services/rules/relating/limits.ts';
import { draws, normal } from '../../../shared/statistics/invented-courses.ts';

const PLANT = -0.4;
const OF_SPINDLE = 0.5;
const OF_SPEED = 0.2;

/** A spindle as if it had been learned: its levels known to all of its guesses alike. */
function learned(draw: () => number, loads = 20): { readonly guesses: Guesses } {
  const own = PLANT + OF_SPINDLE * normal(draw);
  const guesses = newGuesses();
  const count = guesses.weight.length;
  guesses.loads = loads;
  guesses.levels = [8000, 12_000, 18_000].map((rpm) => {
    const level = own + LEVEL_SLOPE * Math.log(rpm / LEVEL_USUAL_RPM) + OF_SPEED * normal(draw);
    const [mean, variance] = [new Float32Array(count).fill(level), new Float32Array(count)];
    return {
      bin: 1000 + rpm,
      rpm,
      loads,
      learnedAtLoad: loads,
      mean,
      variance,
      turn: undefined,
      restMean: 0,
      restLoads: 0,
    };
  });
  return { guesses };
}

test('a plant of fewer than three known spindles lets expect nothing', () => {
  const draw = draws(1);
  const two = [learned(draw), learned(draw)];
  expect(fleetPrior([])).toEqual(NOTHING_KNOWN);
  expect(fleetPrior(two)).toEqual(NOTHING_KNOWN);
  expect(fleetPrior([...two, learned(draw, 7)])).toEqual(NOTHING_KNOWN);
  expect(fleetPrior([...two, learned(draw)])).not.toEqual(NOTHING_KNOWN);
});

test('a new spindle of a drawn plant lies within two standard deviations of the prior as often as it says', () => {
  const draw = draws(2);
  const PLANTS = 400;
  let within = 0;
  let variances = 0;
  for (let plant = 0; plant < PLANTS; plant += 1) {
    const { mean, variance } = fleetPrior(Array.from({ length: 8 }, () => learned(draw)));
    const next = PLANT + OF_SPINDLE * normal(draw) + OF_SPEED * normal(draw);
    if (Math.abs(next - mean) < 2 * Math.sqrt(variance)) within += 1;
    variances += variance / PLANTS;
  }
  // Two standard deviations hold 95.4 % of a normal distribution; the variances are tried in steps of four.
  expect(within / PLANTS).toBeGreaterThan(0.92);
  expect(within / PLANTS).toBeLessThan(0.99);
  // The true one: of a spindle, of a speed, and of the mean of eight spindles. Without a plant it is 4.
  const truth = OF_SPINDLE ** 2 * (1 + 1 / 8) + OF_SPEED ** 2 * (1 + 1 / 24);
  expect(variances / truth).toBeGreaterThan(0.6);
  expect(variances / truth).toBeLessThan(1.7);
});
