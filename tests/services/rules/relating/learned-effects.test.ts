// What is learned load by load, as if level and build were independent, against all loads taken together in one go (as lme4 would).
import { expect, test } from 'vitest';
import { centreOf, readingsVariance } from '../../../../services/rules/relating/expected.ts';
import { learnInto, ownGmm2Of } from '../../../../services/rules/relating/learned.ts';
import { LEVEL_USUAL, LEVEL_VARIANCE } from '../../../../services/rules/relating/limits.ts';
import type { LevelKnown, LoadMark, PairKnown } from '../../../../services/rules/relating/relating-state.ts';
import { newSpindle } from '../../../../services/rules/spindle-state.ts';
import { effectMeans, factored } from '../../../../shared/statistics/index.ts';
import { draws, normal } from '../../../shared/statistics/invented-courses.ts';
import { printed } from '../../../shared/statistics/printed.ts';

const CASES = 20;
const BINS = [13_000, 19_000];
const PAIRS = 8;
const LOADS = 60;
const TRUE_LEVELS = [-1.1, -0.6];

const BARE = {
  assemblyId: '',
  buildId: undefined,
  bench: undefined,
  measured: 0,
  residualErrorGmm: 0.2,
  // Clampings make the law bent; without them both ways reckon the same straight one.
  clampingGmm2: 0,
  part: 0,
  at: 0,
  position: 0,
  lastAt: 0,
  lastPosition: 0,
  speedRpm: 18_000,
  recentSquare: 0,
  offInRow: 0,
  restSquare: 0.01,
  weighedSquare: 0,
  held: false,
};

interface Seen {
  readonly mark: LoadMark;
  readonly bin: number;
  readonly pair: number;
  readonly value: number;
}

function inventedLoads(seed: number): readonly Seen[] {
  const draw = draws(seed * 53 + 1);
  const spindle = newSpindle('S-1');
  const residuals = Array.from({ length: PAIRS }, () => 1 + 4 * draw());
  const bare = (pair: number, ordinal: number, bin: number, readings: number): LoadMark => ({
    ...BARE,
    ordinal,
    pair: `P-${pair}`,
    residualGmm: residuals[pair] ?? 1,
    bin: BINS[bin] ?? 0,
    readings,
    square: 0,
  });
  const pairs = residuals.map((_, pair) => {
    const { mean, variance } = centreOf(bare(pair, 0, 0, 1), ownGmm2Of(spindle));
    return mean + Math.sqrt(variance) * normal(draw);
  });
  return Array.from({ length: LOADS }, (_, ordinal) => {
    const [bin, pair] = [Math.floor(draw() * 2), Math.floor(draw() * PAIRS)];
    const mark = bare(pair, ordinal, bin, 1 + Math.floor(20 * draw()));
    const value =
      (TRUE_LEVELS[bin] ?? 0) + (pairs[pair] ?? 0) + Math.sqrt(readingsVariance(mark.readings)) * normal(draw);
    return { mark: { ...mark, square: Math.exp(2 * value) }, bin, pair, value };
  });
}

/** What is to be expected of each pair at each speed, ln of mm/s. */
type Expected = (bin: number, pair: number) => number;

function learnedOneByOne(loads: readonly Seen[]): Expected {
  const spindle = newSpindle('S-1');
  const known: { levels: LevelKnown[]; pairs: PairKnown[] } = { levels: [], pairs: [] };
  for (const bin of BINS)
    spindle.live.bins.set(bin, {
      bin,
      foundedRpm: bin,
      centreRpm: bin,
      readings: 0,
      lastAt: 0,
      points: [],
      line: undefined,
      severity: undefined,
    });
  for (const { mark } of loads) learnInto(spindle, known, mark, 1);
  return (bin, pair) =>
    (known.levels.find((level) => level.bin === BINS[bin])?.mean ?? Number.NaN) +
    (known.pairs.find((one) => one.pair === `P-${pair}`)?.mean ?? Number.NaN);
}

function takenTogether(loads: readonly Seen[]): Expected {
  const own = ownGmm2Of(newSpindle('S-1'));
  const centres = Array.from({ length: PAIRS }, (_, pair) => {
    const mark = loads.find((load) => load.pair === pair)?.mark;
    return mark === undefined ? { mean: 0, variance: 1 } : centreOf(mark, own);
  });
  const model = factored({
    errorVariances: loads.map(({ mark }) => readingsVariance(mark.readings)),
    effectVariances: [...BINS.map(() => LEVEL_VARIANCE), ...centres.map(({ variance }) => variance)],
    effectsOf: loads.map(({ bin, pair }) => [bin, BINS.length + pair]),
  });
  const effects = effectMeans(
    model,
    loads.map(({ value, pair }) => value - LEVEL_USUAL - (centres[pair]?.mean ?? 0)),
  );
  return (bin, pair) =>
    LEVEL_USUAL + (effects[bin] ?? 0) + (centres[pair]?.mean ?? 0) + (effects[BINS.length + pair] ?? 0);
}

test('what is expected of each build at each speed is within a few per cent of what all loads together say', () => {
  const differences: number[] = [];
  for (let seed = 1; seed <= CASES; seed += 1) {
    const loads = inventedLoads(seed);
    const [ours, together] = [learnedOneByOne(loads), takenTogether(loads)];
    for (let bin = 0; bin < BINS.length; bin += 1)
      for (let pair = 0; pair < PAIRS; pair += 1)
        if (loads.filter((load) => load.pair === pair && load.bin === bin).length >= 3)
          differences.push(Math.abs(ours(bin, pair) - together(bin, pair)));
  }
  const sorted = differences.toSorted((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  const largest = sorted.at(-1) ?? Number.NaN;
  printed('learned load by load against all loads together, ln of the amplitude', [
    { compared: sorted.length, middle: middle.toFixed(4), largest: largest.toFixed(4) },
  ]);
  expect(middle).toBeLessThan(0.02);
  expect(largest).toBeLessThan(0.1);
});
