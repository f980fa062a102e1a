// The marks of one spindle as numbers that share effects: speeds, builds, clampings. What a change would add stands beside.
import { effectMeans, factored, logDensity, median, type FactoredModel } from '../../../shared/statistics/index.ts';
import type { SpindleState } from '../floor.ts';
import { centreOf, clampingVariance, markVariance } from './expected.ts';
import { amplitudeOf, bounded, levelIn, newLevel, ownGmm2Of, pairIn, restOf, scatterOf } from './learned.ts';
import {
  LEVEL_SPEED_VARIANCE,
  LEVEL_VARIANCE,
  LOW_Z_MAX,
  PAIR_SPEED_VARIANCE,
  READING_VARIANCE,
  REST_LEAST_MMS,
  REST_PAIR_VARIANCE,
  REST_VARIANCE,
  SCATTER_PRIOR_LOADS,
  SPEEDS_VARIANCE,
} from './limits.ts';
import type { LoadMark, Relating } from './relating-state.ts';

/** An effect that several marks share: its prior mean and variance. */
interface Effect {
  readonly mean: number;
  readonly variance: number;
}

export interface Scene {
  readonly spindle: SpindleState;
  readonly relating: Relating;
  /** Oldest first. */
  readonly marks: readonly LoadMark[];
  /** By mark: its level, its pair, and its load where that has several marks. */
  readonly effectsOf: readonly (readonly number[])[];
  readonly effectVariances: readonly number[];
  /** By mark: ln of its amplitude less what is expected of its level and pair before any of these marks. */
  readonly values: Float64Array;
  readonly errorVariances: readonly number[];
  /** Where clampings make it, by mark: of the error, or of the load's effect. */
  readonly clampingVariances: readonly number[];
  /** By mark, the whole unbalance as these marks tell it without a change, (g·mm)². */
  readonly wholeGmm2: readonly number[];
  /** By mark: what is expected of it in ln(mm/s). */
  readonly expected: readonly number[];
  readonly model: FactoredModel;
  /** ln of the density without a change. */
  readonly none: number;
  readonly ownGmm2: number;
  /** How many times what the interfaces would its clampings scatter, in squares. */
  readonly scatter: number;
}

interface Effects {
  readonly list: Effect[];
  readonly place: (key: string, of: () => Effect) => number;
}

function newEffects(): Effects {
  const list: Effect[] = [];
  const places = new Map<string, number>();
  return {
    list,
    place: (key, of) => {
      const known = places.get(key);
      if (known !== undefined) return known;
      places.set(key, list.length);
      return list.push(of()) - 1;
    },
  };
}

/** Loads that have marks at several speeds or in several parts share one clamping. */
function sharedLoads(marks: readonly LoadMark[]): ReadonlySet<number> {
  const shared = new Set<number>();
  marks.forEach(({ ordinal }, index) => {
    if (marks[index - 1]?.ordinal === ordinal) shared.add(ordinal);
  });
  return shared;
}

/** The scene of a spindle; undefined where nothing ran. `isLeftOut` says which marks do not count. */
export function sceneOf(
  spindle: SpindleState,
  relating: Relating,
  isLeftOut?: (mark: LoadMark) => boolean,
): Scene | undefined {
  const marks = isLeftOut === undefined ? relating.marks : relating.marks.filter((mark) => !isLeftOut(mark));
  if (marks.length === 0) return undefined;
  const ownGmm2 = ownGmm2Of(spindle);
  const centres = marks.map((mark) => pairIn(relating, mark.pair) ?? centreOf(mark, ownGmm2));
  const ground: Ground = { spindle, relating, marks, ownGmm2, centres };
  const first = solved(
    ground,
    centres.map(({ mean }) => Math.exp(2 * mean)),
    scatterOf(relating),
  );
  return solved(ground, first.wholeGmm2, scatterSeen(first), lowered(first));
}

interface Ground {
  readonly spindle: SpindleState;
  readonly relating: Relating;
  readonly marks: readonly LoadMark[];
  readonly ownGmm2: number;
  readonly centres: readonly Effect[];
}

/**
 * Two vectors that nearly cancel make a logarithm far below all others: such a mark says little, and must not look like a change.
 * Its variance is raised so that it lies no further off than LOW_Z_MAX (Huber's weights, downwards only).
 */
function lowered({ marks, expected, errorVariances, clampingVariances }: Scene): readonly number[] {
  return marks.map((mark, index) => {
    const variance = (errorVariances[index] ?? 1) + (clampingVariances[index] ?? 0);
    const z = (amplitudeOf(mark) - (expected[index] ?? 0)) / Math.sqrt(variance);
    return z < -LOW_Z_MAX ? (z / LOW_Z_MAX) ** 2 : 1;
  });
}

const PAIR_AT_SPEED: Effect = { mean: 0, variance: PAIR_SPEED_VARIANCE };

function solved(ground: Ground, whole: readonly number[], scatter: number, raised?: readonly number[]): Scene {
  const { spindle, relating, marks, centres, ownGmm2 } = ground;
  const effects = newEffects();
  const shared = sharedLoads(marks);
  const values = new Float64Array(marks.length);
  const clampingVariances = marks.map((mark, index) => clampingVariance(whole[index] ?? 1, mark.clampingGmm2, scatter));
  const errorVariances: number[] = [];
  const effectsOf = marks.map((mark, index) => {
    const centre = centres[index] ?? { mean: 0, variance: 1 };
    const level = levelIn(relating, mark.bin) ?? newLevel(mark.bin, relating.levels);
    const held = [
      effects.place(`bin ${mark.bin}`, () => ({ ...level, variance: Math.min(level.variance, LEVEL_SPEED_VARIANCE) })),
      effects.place(`pair ${mark.pair}`, () => centre),
    ];
    // Nothing was learned yet: all speeds of the spindle share how much it answers at all.
    if (relating.levels.length === 0)
      held.push(effects.place('spindle', () => ({ mean: 0, variance: LEVEL_VARIANCE })));
    held.push(effects.place(`pair ${mark.pair} at ${mark.bin}`, () => PAIR_AT_SPEED));
    const clamping = clampingVariances[index] ?? 0;
    const noise = markVariance(mark);
    const low = raised?.[index] ?? 1;
    if (shared.has(mark.ordinal)) {
      held.push(effects.place(`load ${mark.ordinal}`, () => ({ mean: 0, variance: clamping })));
      errorVariances.push((noise + SPEEDS_VARIANCE) * low + (low - 1) * clamping);
    } else errorVariances.push((noise + clamping) * low);
    values[index] = amplitudeOf(mark) - level.mean - centre.mean;
    return held;
  });
  const effectVariances = effects.list.map(({ variance }) => variance);
  const model = factored({ errorVariances, effectsOf, effectVariances });
  const means = effectMeans(model, values);
  const at = (effect: number | undefined): number =>
    effect === undefined ? 0 : (means[effect] ?? 0) + (effects.list[effect]?.mean ?? 0);
  return {
    spindle,
    relating,
    marks,
    effectsOf,
    effectVariances,
    values,
    errorVariances,
    clampingVariances,
    wholeGmm2: effectsOf.map(([, pair]) => Math.exp(2 * at(pair))),
    expected: effectsOf.map(
      ([level, pair, ...more]) => at(level) + at(pair) + (relating.levels.length === 0 ? at(more[0]) : 0),
    ),
    model,
    none: logDensity(model, values),
    ownGmm2,
    scatter,
  };
}

/** No scatter is so small that one more load could not be off. */
const SCATTER_SEEN_LEAST = 1e-3;
/** The median of a squared standard normal deviate. */
const MEDIAN_OF_SQUARE = 0.454_936;

/**
 * How the marks scatter about what they make of themselves, by the median, so that a change in fewer than half of them moves it
 * little; together with what was learned before.
 */
function scatterSeen(scene: Scene): number {
  const { relating } = scene;
  const before = scatterOf(relating);
  const surprises = scene.marks.map((mark, index) => {
    const off = amplitudeOf(mark) - (scene.expected[index] ?? 0);
    return (off * off) / ((scene.errorVariances[index] ?? 1) + 1e-12);
  });
  // Each pair and each speed takes one degree of freedom of its own.
  const free = surprises.length - scene.effectVariances.length;
  if (free < 4) return before;
  const seen = Math.max(median(surprises) ?? MEDIAN_OF_SQUARE, SCATTER_SEEN_LEAST) / MEDIAN_OF_SQUARE;
  const corrected = (before * seen * surprises.length) / free;
  const weight = free / 2;
  const known = SCATTER_PRIOR_LOADS + relating.scatterCount;
  return bounded(Math.exp((Math.log(corrected) * weight + Math.log(before) * known) / (weight + known)));
}

/** Where the 1× makes nearly all of the whole, what is left is a difference of two noisy squares. */
function restErrorVariance({ square, restSquare, readings }: LoadMark): number {
  const share = square / (restSquare + REST_LEAST_MMS ** 2);
  return REST_VARIANCE + (2 * READING_VARIANCE * share * share) / readings;
}

/** The scene of what is beside the 1×, for bearings and sensors: levels by speed, builds, and a scatter of its own. */
export interface RestScene {
  readonly values: Float64Array;
  readonly model: FactoredModel;
  readonly none: number;
}

export function restSceneOf({ relating, marks }: Scene): RestScene {
  const effects = newEffects();
  const values = new Float64Array(marks.length);
  const effectsOf = marks.map((mark, index) => {
    const level = levelIn(relating, mark.bin) ?? newLevel(mark.bin, relating.levels);
    values[index] = restOf(mark) - level.restMean;
    const held = [
      effects.place(`bin ${mark.bin}`, () => ({
        mean: 0,
        variance: Math.min(level.restVariance, LEVEL_SPEED_VARIANCE),
      })),
      effects.place(`pair ${mark.pair}`, () => ({ mean: 0, variance: REST_PAIR_VARIANCE })),
    ];
    if (relating.levels.length === 0)
      held.push(effects.place('spindle', () => ({ mean: 0, variance: LEVEL_VARIANCE })));
    return held;
  });
  const model = factored({
    errorVariances: marks.map(restErrorVariance),
    effectsOf,
    effectVariances: effects.list.map(({ variance }) => variance),
  });
  return { values, model, none: logDensity(model, values) };
}
