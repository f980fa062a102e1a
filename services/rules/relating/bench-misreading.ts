// That a bench reads too little: by what the builds that it measured show, wherever they run; and what that leaves of a load.
import type { Instant } from '../../../shared/time.ts';
import { BENCH_ENDED_SHARE, BENCH_PAIRS_MIN, BENCH_SIZES, BENCH_SPINDLES_MIN, RATES } from './limits.ts';
import type { LoadRatios } from './load-ratios.ts';
import type { MeasuredSum, Track } from './relating-state.ts';

/** As far as odds are told (running-odds.ts). */
const LOG_ODDS_MOST = 130;

/** What a bench may explain: what is measured and runs now, or all since a hold was raised, though it was put right meanwhile. */
export type Explained = 'now' | 'since-the-hold';

/** That it began to misread with one of its measurements. */
interface Beginning {
  /** Its place among the measurements. */
  readonly nth: number;
  readonly since: Instant;
  /** Against nothing, by size. */
  readonly odds: readonly number[];
}

interface Misread {
  /** Against nothing. */
  readonly odds: number;
  readonly since: Instant;
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0);

/**
 * Beginnings at each of its measurements, back from a last one, each summing what the builds since then say, where so many in so many
 * spindles did. That it read each of them a little off, one this way and one that, is what speaks against it; what the build at hand may
 * be is weighed by itself.
 */
function beginnings(measured: readonly MeasuredSum[], last: number, atHand?: string): readonly Beginning[] {
  const sums = BENCH_SIZES.map(() => 0);
  const spindles = new Set<string>();
  const found: Beginning[] = [];
  for (let nth = last; nth >= 0; nth -= 1) {
    const one = measured[nth];
    if (one === undefined) continue;
    for (const id of one.spindles) spindles.add(id);
    const usual = one.pair === atHand ? 0 : one.logMisread;
    const odds = sums.map((sum, size) => {
      const log = sum + (one.logRatios[size] ?? 0) - usual;
      sums[size] = log;
      return (RATES.bench / sums.length) * Math.exp(Math.min(log, LOG_ODDS_MOST));
    });
    const isTold = last - nth + 1 >= BENCH_PAIRS_MIN && spindles.size >= BENCH_SPINDLES_MIN;
    if (isTold) found.push({ nth, since: one.since, odds });
  }
  return found;
}

/** Of any of these beginnings, since the likeliest. */
function anyOf(all: readonly Beginning[]): Misread | undefined {
  let [sum, best] = [0, 0];
  let since: Instant | undefined;
  for (const beginning of all) {
    const odds = sumOf(beginning.odds);
    sum += odds;
    if (since === undefined || odds > best) [best, since] = [odds, beginning.since];
  }
  return since === undefined ? undefined : { odds: sum, since };
}

/** Whether a beginning explains what a build shows: no later than that was measured, or with the newest where it is not known yet. */
function explaining(measured: readonly MeasuredSum[], pair: string): (beginning: Beginning) => boolean {
  const place = measured.findIndex((one) => one.pair === pair);
  return ({ nth }) => place < 0 || nth <= place;
}

/**
 * That the bench which measured the build at hand misread it. A beginning after that build was measured explains nothing that it shows.
 * What raised a hold stays explained when the bench was put right since: it may have ended with any measurement.
 */
export function benchMisread({ measured, build }: Track, explained: Explained): Misread | undefined {
  const last = measured.length - 1;
  if (explained === 'now')
    return anyOf(beginnings(measured, last, build.pair).filter(explaining(measured, build.pair)));
  const byEnd = measured.flatMap((_, end) => {
    const misread = anyOf(beginnings(measured, end, build.pair));
    return misread === undefined ? [] : { ...misread, odds: misread.odds * (end === last ? 1 : BENCH_ENDED_SHARE) };
  });
  const [best] = byEnd.toSorted((a, b) => b.odds - a.odds);
  return best === undefined ? undefined : { odds: sumOf(byEnd.map(({ odds }) => odds)), since: best.since };
}

/**
 * What a load says of all but its bench: by the odds before it, as much as what the bench misread explains is taken out, for that is
 * accounted for.
 */
export function besideBench(ratios: LoadRatios, known: readonly MeasuredSum[], pair: string): LoadRatios {
  const explains = explaining(known, pair);
  let [explained, all] = [1, 1];
  for (const beginning of beginnings(known, known.length - 1))
    beginning.odds.forEach((one, size) => {
      all += one;
      explained += one * (explains(beginning) ? (ratios.bench[size] ?? 1) : 1);
    });
  const times = explained / all;
  if (times <= 1) return ratios;
  const less = (of: Float64Array): Float64Array => of.map((ratio) => ratio / times);
  const { assembly, spindle, drawbar, scatter, resonance, sensor } = ratios;
  return {
    ...ratios,
    assembly: less(assembly),
    spindle: less(spindle),
    drawbar: less(drawbar),
    scatter: less(scatter),
    resonance: less(resonance),
    sensor: less(sensor),
  };
}
