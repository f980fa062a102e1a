// How likely each cause makes what was seen, against nothing having changed: summed over when it began and how large it is.
import type { Cause } from '../../../shared/causes.ts';
import { factored, logDensity, type FactoredModel } from '../../../shared/statistics/index.ts';
import type { Instant } from '../../../shared/time.ts';
import {
  BACK_ALL,
  BACK_MAX,
  BENCH_BACK_MAX,
  BENCH_PAIRS_MIN,
  BENCH_SPINDLES_MIN,
  CHANGE_PAIR_VARIANCE,
  CHANGES,
  DRAWBAR_FACTORS,
  LIKELIHOOD_POWER,
  RATES,
} from './limits.ts';
import { amplitudeOf } from './learned.ts';
import type { LoadMark } from './relating-state.ts';
import { restSceneOf, type Scene } from './scene.ts';

/** One way in which it may have come about, ln of its odds against nothing. */
export interface Way {
  readonly cause: Cause;
  readonly of: string;
  readonly since: Instant;
  /** It is over: what it made has gone with the load. */
  readonly past: boolean;
  readonly logOdds: number;
}

/** What a change adds to ln of the amplitude of a mark; undefined where it does not touch it. */
type Touch = (mark: LoadMark, index: number) => number | undefined;

/** A change that touches each pair differently: each touched pair gets an effect of its own, beside its old one. */
function scattered(scene: Scene, isTouched: (mark: LoadMark) => boolean): FactoredModel {
  const variances = [...scene.effectVariances];
  const places = new Map<string, number>();
  const effectsOf = scene.effectsOf.map((effects, index) => {
    const mark = scene.marks[index];
    if (mark === undefined || !isTouched(mark)) return effects;
    const place = places.get(mark.pair) ?? variances.push(CHANGE_PAIR_VARIANCE) - 1;
    places.set(mark.pair, place);
    return [...effects, place];
  });
  return factored({ errorVariances: scene.errorVariances, effectsOf, effectVariances: variances });
}

function less(scene: { readonly values: Float64Array }, marks: readonly LoadMark[], touch: Touch): Float64Array {
  return scene.values.map((value, index) => {
    const mark = marks[index];
    return value - ((mark === undefined ? undefined : touch(mark, index)) ?? 0);
  });
}

export function logSum(logs: readonly number[]): number {
  const largest = Math.max(...logs);
  if (!Number.isFinite(largest)) return -Infinity;
  return largest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - largest), 0));
}

/** Over the sizes tried, each as likely as the other. */
const meanOverSizes = (ofSize: (size: number) => number): number =>
  logSum(CHANGES.map(ofSize)) - Math.log(CHANGES.length);

/**
 * The same where all marks are moved in proportion to the size: the logarithm of the density is a parabola in it then, all being
 * normal, and three points of it tell all others.
 */
function parabola(ofSize: (size: number) => number): (size: number) => number {
  const [none, up, down] = [ofSize(0), ofSize(1), ofSize(-1)];
  const [slope, bend] = [(up - down) / 2, (up + down) / 2 - none];
  return (size) => none + (slope + bend * size) * size;
}
const meanOverProportional = (ofSize: (size: number) => number): number => meanOverSizes(parabola(ofSize));

/** Beginnings, as places among the marks: the last loads each, older ones ever fewer; each with how many loads it stands for. */
export function beginnings(marks: readonly LoadMark[]): readonly { readonly from: number; readonly loads: number }[] {
  const starts: number[] = [];
  for (let index = marks.length - 1; index >= 0; index -= 1) {
    const [mark, before] = [marks[index], marks[index - 1]];
    if (mark?.ordinal !== before?.ordinal || mark?.part !== before?.part) starts.push(index);
  }
  const found: { from: number; loads: number }[] = [];
  for (let back = 0; back < Math.min(starts.length, BACK_MAX);) {
    const step = back < BACK_ALL ? 1 : back < 3 * BACK_ALL ? 2 : 4;
    const from = starts[back];
    if (from !== undefined) found.push({ from, loads: step });
    back += step;
  }
  return found;
}

const isSince = (mark: LoadMark, from: LoadMark): boolean =>
  mark.ordinal > from.ordinal || (mark.ordinal === from.ordinal && mark.at >= from.at);

/** How much a vector that would make ln of the usual whole grow by `size` makes of one whole: squares add, the angle is random. */
function grown(size: number, usualGmm2: number, wholeGmm2: number): number {
  return Math.log1p(((Math.exp(2 * size) - 1) * usualGmm2) / wholeGmm2) / 2;
}

const geometricMean = (squares: readonly number[]): number =>
  Math.exp(squares.reduce((sum, square) => sum + Math.log(square), 0) / Math.max(1, squares.length));

/** The spindle's own unbalance: every build in it since then, those least that were large before. */
export function spindleWays(scene: Scene): readonly Way[] {
  const { marks, wholeGmm2, spindle } = scene;
  const usual = geometricMean(wholeGmm2);
  return beginnings(marks).flatMap(({ from, loads }) => {
    const first = marks[from];
    if (first === undefined) return [];
    const model = scattered(scene, (mark) => isSince(mark, first));
    const density = meanOverSizes((size) =>
      logDensity(
        model,
        less(scene, marks, (mark, index) =>
          isSince(mark, first) ? grown(size, usual, wholeGmm2[index] ?? usual) : undefined,
        ),
      ),
    );
    const logOdds = LIKELIHOOD_POWER * (density - scene.none) + Math.log(RATES.spindle * loads);
    return [{ cause: 'spindle', of: spindle.spindleId, since: first.at, past: false, logOdds } as const];
  });
}

/** One build as measured, here and in the other spindles that it ran in since. */
export function assemblyWays(all: readonly Scene[], pair: string): readonly Way[] {
  const scenes = all.filter(({ marks }) => marks.some((mark) => mark.pair === pair));
  const runs = scenes
    .flatMap(({ marks }) => marks.filter((mark) => mark.pair === pair))
    .toSorted((a, b) => a.at - b.at || a.ordinal - b.ordinal);
  const assemblyId = runs[0]?.assemblyId;
  if (assemblyId === undefined) return [];
  return beginnings(runs).flatMap(({ from, loads }) => {
    const since = runs[from]?.at;
    if (since === undefined) return [];
    const isTouched = (mark: LoadMark): boolean => mark.pair === pair && mark.at >= since;
    const models = scenes.map((scene) => scattered(scene, isTouched));
    const density = meanOverProportional((size) =>
      scenes.reduce((sum, scene, nth) => {
        const model = models[nth];
        if (model === undefined || !scene.marks.some(isTouched)) return sum;
        const values = less(scene, scene.marks, (mark) => (isTouched(mark) ? size : undefined));
        return sum + logDensity(model, values) - scene.none;
      }, 0),
    );
    const logOdds = LIKELIHOOD_POWER * density + Math.log(RATES.assembly * loads);
    return [{ cause: 'assembly', of: assemblyId, since, past: false, logOdds } as const];
  });
}

/** One load only, the last one or one before it. */
export function clampingWays(scene: Scene): readonly Way[] {
  const { marks, spindle } = scene;
  const last = marks.at(-1)?.ordinal;
  return beginnings(marks).flatMap(({ from }) => {
    const first = marks[from];
    if (first === undefined) return [];
    const isTouched = (mark: LoadMark): boolean => mark.ordinal === first.ordinal && isSince(mark, first);
    // As free in its size as a change of the assembly, or one load that is far off would always be the assembly's.
    const model = scattered(scene, isTouched);
    const density = meanOverProportional((size) =>
      logDensity(
        model,
        less(scene, marks, (mark) => (isTouched(mark) ? size : undefined)),
      ),
    );
    const logOdds = LIKELIHOOD_POWER * (density - scene.none) + Math.log(RATES.clamping);
    const past = first.ordinal !== last;
    return [{ cause: 'clamping', of: spindle.spindleId, since: first.at, past, logOdds } as const];
  });
}

/** The clampings scatter more since then. */
export function drawbarWays(scene: Scene): readonly Way[] {
  const { marks, spindle, errorVariances, clampingVariances, effectsOf } = scene;
  return beginnings(marks).flatMap(({ from, loads }) => {
    const first = marks[from];
    // One load is one clamping: nothing is seen of a scatter.
    if (first === undefined || first.ordinal === marks.at(-1)?.ordinal) return [];
    const densities = DRAWBAR_FACTORS.map((factor) => {
      const variances = errorVariances.map((variance, index) => {
        const mark = marks[index];
        // Vectors that nearly cancel scatter downwards in any spindle: only what lies above speaks of its clampings.
        const isAbove = mark !== undefined && amplitudeOf(mark) > (scene.expected[index] ?? 0);
        const more = isAbove && isSince(mark, first) ? factor - 1 : 0;
        return variance + more * (clampingVariances[index] ?? 0);
      });
      return logDensity(
        factored({ errorVariances: variances, effectsOf, effectVariances: scene.effectVariances }),
        scene.values,
      );
    });
    const ratio = logSum(densities) - Math.log(DRAWBAR_FACTORS.length) - scene.none;
    const logOdds = LIKELIHOOD_POWER * ratio + Math.log(RATES.drawbar * loads);
    return [{ cause: 'drawbar', of: spindle.spindleId, since: first.at, past: false, logOdds } as const];
  });
}

/** One speed only, where several are run. */
export function resonanceWays(scene: Scene): readonly Way[] {
  const { marks, spindle } = scene;
  const bin = marks.at(-1)?.bin;
  if (bin === undefined || marks.every((mark) => mark.bin === bin)) return [];
  return beginnings(marks).flatMap(({ from, loads }) => {
    const first = marks[from];
    if (first === undefined) return [];
    const density = meanOverProportional((size) =>
      logDensity(
        scene.model,
        less(scene, marks, (mark) => (mark.bin === bin && isSince(mark, first) ? size : undefined)),
      ),
    );
    const logOdds = LIKELIHOOD_POWER * (density - scene.none) + Math.log(RATES.resonance * loads);
    return [{ cause: 'resonance', of: spindle.spindleId, since: first.at, past: false, logOdds } as const];
  });
}

/** What is beside the 1× has grown and the 1× has not: a bearing. Both alike, up or down: the sensor. */
export function restWays(scene: Scene): readonly Way[] {
  const rest = restSceneOf(scene);
  const { marks, spindle } = scene;
  return beginnings(marks).flatMap(({ from, loads }): Way[] => {
    const first = marks[from];
    if (first === undefined) return [];
    const touch =
      (size: number): Touch =>
      (mark) =>
        isSince(mark, first) ? size : undefined;
    const ofRest = parabola((size) => logDensity(rest.model, less(rest, marks, touch(size))) - rest.none);
    const ofFirst = parabola((size) => logDensity(scene.model, less(scene, marks, touch(size))) - scene.none);
    const about = { since: first.at, past: false };
    const device = spindle.live.sensor ?? spindle.spindleId;
    const both = [
      meanOverSizes((size) => ofRest(size) + ofFirst(size)),
      meanOverSizes((size) => ofRest(-size) + ofFirst(-size)),
    ];
    return [
      {
        ...about,
        cause: 'bearing',
        of: spindle.spindleId,
        logOdds: LIKELIHOOD_POWER * meanOverSizes(ofRest) + Math.log(RATES.bearing * loads),
      },
      {
        ...about,
        cause: 'sensor',
        of: device,
        logOdds: LIKELIHOOD_POWER * (logSum(both) - Math.log(2)) + Math.log(RATES.sensor * loads),
      },
    ];
  });
}

/** What one bench measured since then reads too low: the more of the whole is the residual, the more of it shows. */
export function benchWays(scenes: readonly Scene[]): readonly Way[] {
  const [scene] = scenes;
  const last = scene?.marks.at(-1);
  if (last?.bench === undefined) return [];
  const bench = last.bench;
  const measured = new Map<number, Instant>();
  for (const { marks } of scenes)
    for (const mark of marks)
      if (mark.bench === bench && mark.measured > 0)
        measured.set(mark.measured, Math.min(mark.at, measured.get(mark.measured) ?? mark.at));
  const starts = [...measured].toSorted(([a], [b]) => b - a).slice(0, BENCH_BACK_MAX);
  return starts.flatMap(([from, since]) => {
    const isTouched = (mark: LoadMark): boolean => mark.bench === bench && mark.measured >= from;
    const pairs = new Set(scenes.flatMap(({ marks }) => marks.filter(isTouched).map((mark) => mark.pair)));
    const spindles = scenes.filter(({ marks }) => marks.some(isTouched)).length;
    if (pairs.size < BENCH_PAIRS_MIN || spindles < BENCH_SPINDLES_MIN) return [];
    const density = meanOverSizes((size) =>
      scenes.reduce((sum, one) => {
        const values = less(one, one.marks, (mark) => {
          if (!isTouched(mark) || mark.residualGmm === undefined) return undefined;
          const residual2 = mark.residualGmm ** 2;
          return Math.log1p(((Math.exp(2 * size) - 1) * residual2) / (residual2 + one.ownGmm2)) / 2;
        });
        return sum + logDensity(one.model, values) - one.none;
      }, 0),
    );
    return [
      { cause: 'bench', of: bench, since, past: false, logOdds: LIKELIHOOD_POWER * density + Math.log(RATES.bench) },
    ];
  });
}
