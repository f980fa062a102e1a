// What loads teach: the textbook's filter where it is one, and what has to hold whatever the loads.
import { describe, expect, test } from 'vitest';
import { clampingVariance, LOG_MEAN_SHARE } from '../../../../services/rules/relating/amplitude-law.ts';
import { copyOfGuesses, levelIn, newGuesses, type Guesses } from '../../../../services/rules/relating/guesses.ts';
import { learnLoad } from '../../../../services/rules/relating/learn-load.ts';
import {
  GUESS_SETTLED_LOADS,
  LEVELS_MAX,
  LEVEL_USUAL,
  LEVEL_VARIANCE,
  LEVEL_WANDER_VARIANCE,
} from '../../../../services/rules/relating/limits.ts';
import type { ToldLoad } from '../../../../services/rules/relating/told-load.ts';
import { draws, normal } from '../../../shared/statistics/invented-courses.ts';
import { printed } from '../../../shared/statistics/printed.ts';
import { KEYED, learned, loadsOf, meanOf, SEEDS, toldOf, UNKEYED, type Truth } from './simulated-spindle.ts';

/** A spindle of which all is known but its level: nothing of its own, clampings of 1 g·mm. */
const oneGuess = (): Guesses => ({
  ...newGuesses(),
  keyed: Uint8Array.of(1),
  ownX: Float32Array.of(0),
  ownY: Float32Array.of(0),
  clamping: Float32Array.of(1),
  weight: Float64Array.of(1),
});

const RESIDUAL_GMM = 10;
const load = (lns: readonly number[], error: number): ToldLoad => ({
  speeds: lns.map((ln, nth) => ({ bin: nth, rpm: 12_000, ln, error, phaseRad: undefined, restLn: -1, restMargin: 0 })),
  speedHeld: undefined,
  residualX: RESIDUAL_GMM,
  residualY: 0,
  residualGmm: RESIDUAL_GMM,
  isAngleKnown: true,
  errorGmm2: 0,
  misreadGmm: 0,
  clampingGmm: 1,
});
const WHOLE = 0.5 * Math.log(RESIDUAL_GMM ** 2 + LOG_MEAN_SHARE);
const WHOLE_VARIANCE = clampingVariance(RESIDUAL_GMM ** 2, 1);

describe('one guess', () => {
  test('at one speed it is Kalman’s filter of a level that wanders (Kalman 1960)', () => {
    const draw = draws(3);
    const guesses = oneGuess();
    let [mean, variance] = [LEVEL_USUAL, LEVEL_VARIANCE];
    for (let nth = 0; nth < 30; nth += 1) {
      const ln = -2 + WHOLE + Math.sqrt(WHOLE_VARIANCE) * normal(draw);
      learnLoad(guesses, load([ln], 0.004));
      const gain = variance / (variance + 0.004 + WHOLE_VARIANCE);
      mean += gain * (ln - WHOLE - mean);
      variance = (1 - gain) * variance + LEVEL_WANDER_VARIANCE;
      expect(levelIn(guesses, 0)?.mean[0]).toBeCloseTo(mean, 5);
      expect(levelIn(guesses, 0)?.variance[0]).toBeCloseTo(variance, 5);
    }
    expect(mean).toBeCloseTo(-2, 1);
  });

  test('two speeds share what the clamping adds: the levels given both, by the normal distribution of all three', () => {
    const guesses = oneGuess();
    const [first, second] = [WHOLE - 1.9, WHOLE - 1.4];
    learnLoad(guesses, load([first, second], 0.004));
    // Both readings: variance a of each, covariance w. Regression of either level upon them (Anderson, Multivariate Analysis, from memory).
    const [a, w] = [LEVEL_VARIANCE + 0.004 + WHOLE_VARIANCE, WHOLE_VARIANCE];
    const determinant = a * a - w * w;
    const offs = [first - WHOLE - LEVEL_USUAL, second - WHOLE - LEVEL_USUAL] as const;
    const expected = (own: number, other: number): number =>
      LEVEL_USUAL + (LEVEL_VARIANCE * (a * own - w * other)) / determinant;
    expect(levelIn(guesses, 0)?.mean[0]).toBeCloseTo(expected(offs[0], offs[1]), 5);
    expect(levelIn(guesses, 1)?.mean[0]).toBeCloseTo(expected(offs[1], offs[0]), 5);
    const left = LEVEL_VARIANCE - (LEVEL_VARIANCE ** 2 * a) / determinant + LEVEL_WANDER_VARIANCE;
    expect(levelIn(guesses, 0)?.variance[0]).toBeCloseTo(left, 5);
  });
});

const levelOf = (guesses: Guesses, bin: number): number =>
  meanOf(guesses, (guess) => levelIn(guesses, bin)?.mean[guess] ?? Number.NaN);

describe('all guesses of a spindle that was drawn', () => {
  test.each([
    ['with a key', KEYED],
    ['without', UNKEYED],
  ])('its level is learned, %s', (what, truth) => {
    const rows = SEEDS.map((seed) => {
      const { guesses } = learned({ ...truth, seed }, 60);
      return { seed, off: levelOf(guesses, 12_000) - Math.log(truth.answers[0]?.answer ?? 0) };
    });
    printed(`level learned less the true one, ln, ${what}`, rows);
    const offs = rows.map(({ off }) => Math.abs(off)).toSorted((a, b) => a - b);
    expect(offs[SEEDS.length / 2]).toBeLessThan(0.08);
    expect(offs.at(-1)).toBeLessThan(0.25);
  });

  test('one load of ten times what is expected moves the level by less than three in a hundred (Huber)', () => {
    for (const truth of [KEYED, UNKEYED]) {
      const { guesses, next } = learned(truth, 60);
      const before = levelOf(guesses, 12_000);
      const odd = copyOfGuesses(guesses);
      learnLoad(odd, toldOf(next({ times: 10 })));
      expect(Math.abs(levelOf(odd, 12_000) - before)).toBeLessThan(0.03);
    }
  });

  test('in which order a load’s speeds are told does not matter', () => {
    const truth: Truth = {
      ...KEYED,
      answers: [
        { rpm: 8000, answer: 0.02 },
        { rpm: 12_000, answer: 0.05 },
        { rpm: 16_000, answer: 0.16 },
      ],
    };
    const [one, other] = [newGuesses(), newGuesses()];
    const next = loadsOf(truth);
    for (let nth = 0; nth < 30; nth += 1) {
      const told = toldOf(next());
      learnLoad(one, told);
      learnLoad(other, { ...told, speeds: told.speeds.toReversed() });
    }
    for (const { rpm } of truth.answers) expect(levelOf(other, rpm)).toBeCloseTo(levelOf(one, rpm), 5);
    one.weight.forEach((weight, guess) => {
      expect(other.weight[guess]).toBeCloseTo(weight, 6);
    });
  });

  test('of more speeds than are remembered those go that ran longest ago', () => {
    const rpms = Array.from({ length: LEVELS_MAX + 3 }, (_, nth) => 4000 + 300 * nth);
    const { guesses } = learned(KEYED, GUESS_SETTLED_LOADS);
    const learn = (rpm: number): void =>
      learnLoad(guesses, toldOf(loadsOf({ ...KEYED, answers: [{ rpm, answer: 0.03 }] })()));
    for (const rpm of rpms) {
      learn(rpm);
      learn(4000);
    }
    const kept = guesses.levels.map(({ bin }) => bin).toSorted((a, b) => a - b);
    expect(kept).toEqual([4000, ...rpms.slice(-LEVELS_MAX + 1)]);
  });
});
