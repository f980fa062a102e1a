// A weighing as it is written down: observed against expected, each cause with its probability, what was ruled out and why.
import { CAUSE_WORDS, type Cause, type CauseFinding } from '../../../shared/causes.ts';
import type { Entry } from '../../../shared/entries.ts';
import { centreOf, clampingVariance, markVariance } from './expected.ts';
import { experimentsFor } from './experiments.ts';
import { levelIn, newLevel, pairIn } from './learned.ts';
import { PAIR_VARIANCE_LEAST, RULED_OUT_BELOW } from './limits.ts';
import type { LoadMark } from './relating-state.ts';
import type { Scene } from './scene.ts';
import type { Weighing } from './weighing.ts';

/** Two-sided 95 % of a normal distribution. */
const Z_95 = 1.959_964;

export interface Expectation {
  readonly observedMmS: number;
  readonly expectedMmS: number;
  readonly lowMmS: number;
  readonly highMmS: number;
}

/** What a mark was to show, by others of its spindle and what was learned; the interval holds 95 % of loads. */
export function expectationOf(others: Scene, last: LoadMark): Expectation {
  const { relating, marks, ownGmm2, scatter } = others;
  const twin = marks.findLastIndex((mark) => mark.pair === last.pair);
  const centre = pairIn(relating, last.pair) ?? centreOf(last, ownGmm2);
  const atSpeed = marks.findLastIndex((mark) => mark.bin === last.bin);
  const whole = twin < 0 ? centre.mean : Math.log(others.wholeGmm2[twin] ?? 1) / 2;
  // What is expected of another mark at that speed, less its own whole, is the level of the speed.
  const level =
    atSpeed < 0
      ? (levelIn(relating, last.bin) ?? newLevel(last.bin, relating.levels)).mean
      : (others.expected[atSpeed] ?? 0) - Math.log(others.wholeGmm2[atSpeed] ?? 1) / 2;
  const pairVariance = twin < 0 ? centre.variance : PAIR_VARIANCE_LEAST;
  const clamping = clampingVariance(Math.exp(2 * whole), last.clampingGmm2, scatter);
  const spread = Z_95 * Math.sqrt(pairVariance + clamping + markVariance(last));
  const ln = level + whole;
  return {
    observedMmS: Math.sqrt(last.square),
    expectedMmS: Math.exp(ln),
    lowMmS: Math.exp(ln - spread),
    highMmS: Math.exp(ln + spread),
  };
}

export function findingOf(
  weighing: Weighing,
  scene: Scene,
  expected: Expectation | undefined,
  entry: Entry,
): CauseFinding {
  const last = scene.marks.at(-1);
  const { spindleId } = scene.spindle;
  const { shares, named, unknown, since } = weighing;
  const kept = shares.filter(({ probability }) => probability >= RULED_OUT_BELOW / 4);
  const rest = shares.reduce((sum, one) => (kept.includes(one) ? sum : sum + one.probability), 0);
  return {
    at: entry.at,
    position: entry.position,
    spindleId,
    speedRpm: last?.speedRpm ?? 0,
    observedMmS: Math.sqrt(last?.square ?? 0),
    ...(expected === undefined
      ? {}
      : { expectedMmS: expected.expectedMmS, expectedLowMmS: expected.lowMmS, expectedHighMmS: expected.highMmS }),
    loads: new Set(scene.marks.map(({ ordinal }) => ordinal)).size,
    ...(since === undefined ? {} : { since }),
    shares: kept,
    unknown: Math.min(1, unknown + rest),
    ...(named === undefined ? {} : { named: named.cause }),
    ruledOut: ruledOut(weighing, scene),
    experiments: last === undefined ? [] : [...experimentsFor(weighing, spindleId, last)],
  };
}

/** What speaks against a cause, in words, where it is all but excluded. */
const WHY_NOT: Readonly<Record<Cause, string>> = {
  assembly: 'the loads of this assembly do not differ from what it did before, or others differ as much',
  spindle: 'other assemblies ran in it as expected',
  clamping: 'more than one load is concerned',
  drawbar: 'its clampings scatter no more than before',
  bearing: 'what is not 1× has not grown',
  bench: 'other assemblies that it measured run as their results say',
  sensor: '1× and what is beside it did not change alike',
  resonance: 'other speeds are concerned as well, or one speed only was run',
};

function ruledOut({ shares }: Weighing, { marks }: Scene): CauseFinding['ruledOut'] {
  if (marks.length === 0) return [];
  const largest = new Map<Cause, number>();
  for (const { cause, probability } of shares) largest.set(cause, Math.max(largest.get(cause) ?? 0, probability));
  return (Object.keys(CAUSE_WORDS) as Cause[])
    .filter((cause) => (largest.get(cause) ?? 0) < RULED_OUT_BELOW)
    .map((cause) => ({ cause, why: WHY_NOT[cause] }));
}
