// Effects that spindles, builds and their pairs share, against lme4 in R: the likelihood, the effects, and where it is greatest.
import { expect, test } from 'vitest';
import { effectMeans, factored, logDensity, type EffectModel } from '../../../shared/statistics/index.ts';
import { askR } from '../../environment/r.ts';
import { draws, normal } from './invented-courses.ts';
import { printed } from './printed.ts';

const CASES = 12;
/** Of so many the variances are sought here as well. */
const CLIMBED = 4;
const SPINDLES = 6;
const BUILDS = 9;

interface Row {
  readonly spindle: number;
  readonly build: number;
  readonly value: number;
}

/** Not every build was in every spindle, and where it was, a few times: logarithms of amplitudes. */
function invented(seed: number): readonly Row[] {
  const draw = draws(seed * 101 + 3);
  const spread = [0.1 + draw(), 0.1 + draw(), 0.1 + 0.5 * draw()] as const;
  const effects = (count: number, of: number): number[] => Array.from({ length: count }, () => of * normal(draw));
  const [spindles, builds] = [effects(SPINDLES, spread[0]), effects(BUILDS, spread[1])];
  const pairs = effects(SPINDLES * BUILDS, spread[2]);
  return spindles.flatMap((ofSpindle, spindle) =>
    builds.flatMap((ofBuild, build) => {
      const loads = draw() < 0.6 ? 1 + Math.floor(4 * draw()) : 0;
      const whole = 1 + ofSpindle + ofBuild + (pairs[spindle * BUILDS + build] ?? 0);
      return Array.from({ length: loads }, () => ({ spindle, build, value: whole + 0.3 * normal(draw) }));
    }),
  );
}

type Variances = readonly [spindle: number, build: number, pair: number, error: number];

function modelOf(rows: readonly Row[], [spindle, build, pair, error]: Variances): EffectModel {
  const pairs = [...new Set(rows.map((row) => row.spindle * BUILDS + row.build))];
  return {
    errorVariances: rows.map(() => error),
    effectVariances: [
      ...Array.from({ length: SPINDLES }, () => spindle),
      ...Array.from({ length: BUILDS }, () => build),
      ...pairs.map(() => pair),
    ],
    effectsOf: rows.map((row) => [
      row.spindle,
      SPINDLES + row.build,
      SPINDLES + BUILDS + pairs.indexOf(row.spindle * BUILDS + row.build),
    ]),
  };
}

/** lme4's own words, by case and name. */
function refereed(cases: readonly (readonly Row[])[]): readonly ReadonlyMap<string, number>[] {
  const lines = cases.flatMap((rows, nth) =>
    rows.map(({ spindle, build, value }) => `${nth},${spindle},${build},${value}`),
  );
  const table = ['case,spindle,build,value', ...lines].join('\n');
  const answers = cases.map(() => new Map<string, number>());
  for (const line of askR(new URL('mixed-effects-referee.R', import.meta.url), table)
    .trim()
    .split('\n')) {
    const [nth = '', name = '', value = ''] = line.split(',');
    answers[Number(nth)]?.set(name, Number(value));
  }
  return answers;
}

/** Climbs one variance after the other in ever smaller steps of its logarithm: slow, plain, and not lme4's way. */
function greatest(rows: readonly Row[], height: number, from: Variances): Variances {
  const values = rows.map(({ value }) => value - height);
  const likelihood = (of: readonly number[]): number => logDensity(factored(modelOf(rows, of as Variances)), values);
  let [best, at] = [likelihood(from), [...from]];
  for (let step = 0.3; step > 1e-6; step /= 2)
    for (let climbs = true; climbs;) {
      climbs = false;
      for (let which = 0; which < at.length; which += 1)
        for (const way of [step, -step]) {
          const tried = at.map((variance, k) => (k === which ? variance * Math.exp(way) : variance));
          const reached = likelihood(tried);
          if (reached <= best) continue;
          [best, at, climbs] = [reached, tried, true];
        }
    }
  return at as unknown as Variances;
}

const LEAST_VARIANCE = 1e-8;

test('likelihood, effects and fitted variances are those of lme4', () => {
  const cases = Array.from({ length: CASES }, (_, nth) => invented(nth + 1));
  const theirs = refereed(cases);
  const off = { likelihood: 0, effect: 0, variance: 0 };
  const far = (name: keyof typeof off, difference: number): void => {
    off[name] = Math.max(off[name], Math.abs(difference));
  };
  cases.forEach((rows, nth) => {
    const of = (name: string): number => theirs[nth]?.get(name) ?? Number.NaN;
    const named = ['spindle', 'build', 'pair', 'Residual'] as const;
    const variances = named.map((name) => Math.max(of(`variance ${name}`), LEAST_VARIANCE)) as unknown as Variances;
    const model = factored(modelOf(rows, variances));
    const values = rows.map(({ value }) => value - of('height'));
    far('likelihood', logDensity(model, values) - of('likelihood'));
    const means = effectMeans(model, values);
    for (let spindle = 0; spindle < SPINDLES; spindle += 1)
      if (rows.some((row) => row.spindle === spindle))
        far('effect', (means[spindle] ?? 0) - of(`effect spindle ${spindle}`));
    for (let build = 0; build < BUILDS; build += 1)
      if (rows.some((row) => row.build === build))
        far('effect', (means[SPINDLES + build] ?? 0) - of(`effect build ${build}`));
    if (nth >= CLIMBED) return;
    const climbed = greatest(rows, of('height'), [0.3, 0.3, 0.1, 0.1]);
    climbed.forEach((variance, k) => {
      far('variance', variance - (variances[k] ?? 0));
    });
  });
  printed(
    `largest differences from lme4, ${CASES} cases of ${SPINDLES} spindles and ${BUILDS} builds`,
    Object.entries(off).map(([what, largest]) => ({ what, largest })),
  );
  expect(off.likelihood).toBeLessThan(1e-5);
  expect(off.effect).toBeLessThan(1e-6);
  expect(off.variance).toBeLessThan(1e-4);
}, 180_000);
