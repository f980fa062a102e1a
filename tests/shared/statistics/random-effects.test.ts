// The density of numbers that share effects, and these effects, against SciPy's dense covariance.
import { expect, test } from 'vitest';
import { effectMeans, factored, logDensity, type EffectModel } from '../../../shared/statistics/index.ts';
import { askPython } from '../../environment/python.ts';

interface Case extends EffectModel {
  readonly values: readonly number[];
}
interface Answer {
  readonly cases: readonly { readonly logDensity: number; readonly effects: readonly number[] }[];
}

/** A multiplicative congruential generator (Park and Miller, 1988): chance that is the same every time. */
function chanceFrom(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

function caseOf(seed: number): Case {
  const chance = chanceFrom(seed);
  const rows = 1 + Math.floor(chance() * 40);
  const effects = 1 + Math.floor(chance() * 12);
  return {
    errorVariances: Array.from({ length: rows }, () => 0.01 + chance()),
    effectVariances: Array.from({ length: effects }, () => 0.001 + 4 * chance()),
    effectsOf: Array.from({ length: rows }, () =>
      Array.from({ length: effects }, (_, effect) => effect).filter(() => chance() < 0.3),
    ),
    values: Array.from({ length: rows }, () => 4 * chance() - 2),
  };
}

test('densities and effects are those of SciPy', () => {
  const cases = Array.from({ length: 40 }, (_, nth) => caseOf(nth + 1));
  const referee = new URL('random_effects_referee.py', import.meta.url);
  const answer = askPython<Answer>(referee, { cases });
  cases.forEach((one, nth) => {
    const model = factored(one);
    const wanted = answer.cases[nth];
    expect(logDensity(model, one.values)).toBeCloseTo(wanted?.logDensity ?? Number.NaN, 8);
    [...effectMeans(model, one.values)].forEach((effect, k) =>
      expect(effect).toBeCloseTo(wanted?.effects[k] ?? Number.NaN, 9),
    );
  });
});
