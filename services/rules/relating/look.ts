// A look at the load that is, or was last, in a spindle: how much likelier each cause makes it, and the odds with it. Changes nothing.
import type { Floor } from '../floor.ts';
import { besideBench } from './bench-misreading.ts';
import {
  BENCH_PAIRS_MAX,
  BOUND_LOG_ODDS,
  BENCH_SPINDLES_MIN,
  BUILD_SPINDLES_MAX,
  CHANGE_ANGLES,
  EXPECTED_LOADS_MIN,
  FIRST_LOOK_LOG_ODDS,
  GROWING_SHARE,
  RATES,
  RESONANCE_LOADS_MAX,
  RESONANCE_SIZES,
  RESONANCE_SPEEDS_MAX,
} from './limits.ts';
import { boundOf } from './look-bound.ts';
import { ratiosOf, type LoadRatios } from './load-ratios.ts';
import {
  newBuildOdds,
  newMeasuredSum,
  newSpindleOdds,
  withoutOdds,
  type BinOdds,
  type BuildOdds,
  type LoadMark,
  type MeasuredSum,
  type Relating,
  type SpindleOdds,
  type Track,
} from './relating-state.ts';
import { newOdds, ODDS_MOST, sumOf, withLoad } from './running-odds.ts';
import { shownOf, toldLoadOf, type ToldLoad } from './told-load.ts';
import { logOddsOf, misreadOdds, waysOf, weighed } from './weighing.ts';

/** A load, and all that it changes of what is thought. */
export interface Look {
  readonly spindleId: string;
  readonly relating: Relating;
  readonly last: LoadMark;
  readonly told: ToldLoad;
  readonly ratios: LoadRatios;
  readonly track: Track;
  readonly resonances: readonly BinOdds[];
  /** That this load alone was clamped badly. */
  readonly clamping: number;
  /** Odds of what may have made its build's loads in other spindles. */
  readonly elsewhere: number;
  readonly logOdds: number;
}

type Seen = Pick<Look, 'spindleId' | 'relating' | 'last' | 'told'>;
export type Load = Seen & Pick<Look, 'ratios'>;

/**
 * Undefined where a spindle has not shown enough yet, or the load says nothing; and, where it is only asked whether it raises a hold,
 * where it could not.
 */
export function lookAt(floor: Floor, spindleId: string, ask: 'whole' | 'whether-to-hold'): Look | undefined {
  const relating = floor.relating.get(spindleId);
  const last = relating?.marks.at(-1);
  if (relating === undefined || last === undefined || relating.guesses.loads < EXPECTED_LOADS_MIN) return undefined;
  const build = floor.buildOdds.get(last.assemblyId);
  const told = toldLoadOf(relating.marks, last.ordinal, build);
  if (told === undefined || (last.residualGmm ?? shownOf(last, build)) === undefined) return undefined;
  const { guesses } = relating;
  const seen = { spindleId, relating, last, told };
  const known = last.bench === undefined ? [] : (floor.benchOdds.get(last.bench) ?? []);
  // What the bench explains is at least nothing: without it the bound is still one.
  if (ask === 'whether-to-hold') {
    const most = boundOf(guesses, told);
    if (lookWith(floor, { ...seen, ratios: most }, { known, own: most }).logOdds < BOUND_LOG_ODDS) return undefined;
  }
  const by = (ratios: LoadRatios): Look =>
    lookWith(floor, { ...seen, ratios }, { known, own: besideBench(ratios, known, last.pair) });
  const first = by(ratiosOf(guesses, told, 'some'));
  return first.logOdds < FIRST_LOOK_LOG_ODDS ? first : by(ratiosOf(guesses, told, 'all'));
}

interface OfBench {
  /** What its bench measured, before this load. */
  readonly known: readonly MeasuredSum[];
  /** What the load says of all but the bench. */
  readonly own: LoadRatios;
}

function lookWith(floor: Floor, load: Load, { known, own }: OfBench): Look {
  const { relating, last } = load;
  const beside = { ...load, ratios: own };
  const build = buildWith(floor.buildOdds.get(last.assemblyId), beside);
  const track = { odds: spindleWith(relating.odds, beside), build, measured: measuredWith(known, load, build) };
  const resonances = resonancesWith(beside);
  const clamping = (RATES.clamping * sum(own.assembly)) / own.assembly.length;
  const elsewhere = elsewhereOf(floor, load.spindleId, build);
  const look = { ...load, track, resonances, clamping, elsewhere, logOdds: 0 };
  return { ...look, logOdds: logOddsOf(waysOf(look), track.build) };
}

const sum = (values: Float64Array): number => values.reduce((all, one) => all + one, 0);

export function spindleWith(odds: SpindleOdds, { ratios, last: { at } }: Load): SpindleOdds {
  return {
    spindle: withLoad(odds.spindle, {
      rate: RATES.spindle,
      ratios: ratios.spindle,
      at,
      growing: { share: GROWING_SHARE, by: CHANGE_ANGLES },
    }),
    drawbar: withLoad(odds.drawbar, { rate: RATES.drawbar, ratios: ratios.drawbar, at }),
    scatter: withLoad(odds.scatter, { rate: RATES.drawbar, ratios: ratios.scatter, at }),
    sensor: withLoad(odds.sensor, { rate: RATES.sensor, ratios: ratios.sensor, at }),
    bearing: withLoad(odds.bearing, {
      rate: RATES.bearing,
      ratios: ratios.bearing,
      at,
      growing: { share: GROWING_SHARE, by: 1 },
    }),
  };
}

export function buildWith(known: BuildOdds | undefined, { spindleId, ratios, last: { at, pair } }: Load): BuildOdds {
  const before = known?.pair === pair ? known : newBuildOdds(pair);
  const misread = before.misread.map((one, nth) => Math.min(one * (ratios.misread[nth] ?? 1), ODDS_MOST));
  const odds = withLoad(before.odds, { rate: RATES.assembly, ratios: ratios.assembly, at });
  const spindles = before.spindles.includes(spindleId)
    ? before.spindles
    : [...before.spindles, spindleId].slice(-BUILD_SPINDLES_MAX);
  return { ...before, misread, odds, spindles };
}

/** What else may have made the loads of a build in other spindles: odds that those have changed, or that a speed of theirs is so. */
export function elsewhereOf(floor: Floor, spindleId: string, { spindles }: BuildOdds): number {
  let all = 0;
  for (const id of spindles) {
    const relating = id === spindleId ? undefined : floor.relating.get(id);
    if (relating === undefined) continue;
    const { spindle, drawbar, sensor, bearing } = relating.odds;
    for (const odds of [spindle, drawbar, sensor, bearing]) all += sumOf(odds);
    for (const { odds } of relating.resonances) all += sumOf(odds);
  }
  return all;
}

/** Where one speed is all that runs, or has long been run, that it answers otherwise is no resonance. */
function resonancesWith({ relating, told, last, ratios }: Load): readonly BinOdds[] {
  const { levels } = relating.guesses;
  const isNew = (bin: number): boolean =>
    levels.length > 1 && (levels.find((level) => level.bin === bin)?.loads ?? 0) < RESONANCE_LOADS_MAX;
  const bins = told.speeds.flatMap(({ bin }) => (isNew(bin) ? [bin] : []));
  const others = relating.resonances.filter(({ bin }) => !bins.includes(bin) && isNew(bin));
  const these = bins.map((bin) => {
    const before = relating.resonances.find((one) => one.bin === bin)?.odds ?? newOdds(RESONANCE_SIZES.length);
    return { bin, odds: withLoad(before, { rate: RATES.resonance, ratios: ratios.resonance, at: last.at }) };
  });
  return [...others, ...these].slice(-RESONANCE_SPEEDS_MAX);
}

/** A bench's measurements with what a load says of the one in force, by which its build is known so. */
export function measuredWith(
  known: readonly MeasuredSum[],
  { spindleId, last, ratios }: Load,
  build: BuildOdds,
): readonly MeasuredSum[] {
  if (last.bench === undefined || last.measured === 0) return known;
  const place = known.findIndex(({ pair }) => pair === last.pair);
  const before = known[place] ?? newMeasuredSum(last.pair, last.measured, last.at);
  const isNew = !before.spindles.includes(spindleId) && before.spindles.length < BENCH_SPINDLES_MIN;
  const after: MeasuredSum = {
    ...before,
    logRatios: before.logRatios.map((one, size) => one + Math.log(ratios.bench[size] ?? 1)),
    logMisread: Math.log(misreadOdds(build)),
    spindles: isNew ? [...before.spindles, spindleId] : before.spindles,
  };
  if (place >= 0) return known.with(place, after);
  return [...known, after].toSorted((a, b) => a.measured - b.measured).slice(-BENCH_PAIRS_MAX);
}

/**
 * What is thought from now on, the load being over. What its bench misread is accounted for: of spindle and build it tells nothing, and
 * when the bench is put right nothing of it is left with them. A bearing shows itself beside the 1×.
 */
export function takeLook(floor: Floor, look: Look): void {
  const { relating, last, track, resonances, logOdds } = look;
  const isOfBench = weighed(waysOf(look), track.build).named?.cause === 'bench';
  relating.odds = isOfBench ? { ...newSpindleOdds(), bearing: track.odds.bearing } : track.odds;
  relating.resonances = isOfBench ? [] : resonances;
  relating.logOdds = logOdds;
  floor.buildOdds.set(last.assemblyId, isOfBench ? withoutOdds(track.build) : track.build);
  if (last.bench !== undefined && track.measured.length > 0) floor.benchOdds.set(last.bench, track.measured);
}
