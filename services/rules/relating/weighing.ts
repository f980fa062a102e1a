// The causes of what a spindle shows, weighed against each other and against nothing: probabilities that sum to one.
import type { Cause, CauseShare } from '../../../shared/causes.ts';
import { NAMED_FROM } from '../../../shared/causes.ts';
import type { Instant } from '../../../shared/time.ts';
import { benchMisread, type Explained } from './bench-misreading.ts';
import { MISREADINGS } from './changes.ts';
import type { Look } from './look.ts';
import type { BinOdds, BuildOdds, Track } from './relating-state.ts';
import { sinceOf, sumOf, type Odds } from './running-odds.ts';

export interface Weighing {
  /** ln of the odds that something there is now has changed. */
  readonly logOdds: number;
  /** Greatest first. */
  readonly shares: readonly CauseShare[];
  readonly named: CauseShare | undefined;
  /** That there is nothing, or none of them. */
  readonly unknown: number;
  /** When the likeliest change of the likeliest cause began. */
  readonly since: Instant | undefined;
}

/** One cause, and its odds against nothing. */
export interface Way {
  readonly cause: Cause;
  readonly of: string;
  readonly odds: number;
  readonly since: Instant;
  /** Where they are less as far as a hold is in question. */
  readonly toHold?: number;
}

/** What a track is about. */
export interface Tracked {
  readonly spindleId: string;
  readonly sensor: string | undefined;
  readonly assemblyId: string;
  readonly bench: string | undefined;
  readonly track: Track;
  readonly resonances: readonly BinOdds[];
  /** Odds of what may have made the build's loads in other spindles: it takes so much of what they say of the build. */
  readonly elsewhere: number;
  readonly explained: Explained;
}

const of = (cause: Cause, id: string, odds: Odds): Way => ({
  cause,
  of: id,
  odds: sumOf(odds),
  since: sinceOf(odds),
});

/** All ways that a track tells of. */
export function trackWays(tracked: Tracked): readonly Way[] {
  const { spindleId, sensor, assemblyId, bench, track, resonances, elsewhere, explained } = tracked;
  const assembly = of('assembly', assemblyId, track.build.odds);
  const misread = bench === undefined ? undefined : benchMisread(track, explained);
  return [
    { ...assembly, odds: assembly.odds / (1 + elsewhere) },
    of('spindle', spindleId, track.odds.spindle),
    { ...of('drawbar', spindleId, track.odds.drawbar), toHold: sumOf(track.odds.scatter) },
    of('bearing', spindleId, track.odds.bearing),
    of('sensor', sensor ?? spindleId, track.odds.sensor),
    ...resonances.map(({ odds }) => of('resonance', spindleId, odds)),
    ...(bench === undefined || misread === undefined ? [] : [{ cause: 'bench', of: bench, ...misread } as const]),
  ];
}

export const clampingWay = (spindleId: string, odds: number, since: Instant): Way => ({
  cause: 'clamping',
  of: spindleId,
  odds,
  since,
});

/** All ways in which a load, and those before it, may have come about. */
export function waysOf(look: Look): readonly Way[] {
  const { spindleId, relating, last, clamping } = look;
  const { assemblyId, bench } = last;
  return [
    ...trackWays({ ...look, sensor: relating.sensor, assemblyId, bench, explained: 'now' }),
    clampingWay(spindleId, clamping, last.at),
  ];
}

const oddsOf = (ways: readonly Way[]): number => ways.reduce((sum, { odds }) => sum + odds, 0);

const MISREAD_BEFORE = MISREADINGS.reduce((sum, { odds }) => sum + odds, 1);

/** Odds that a build was read a little off or not at all, against not at all: at least 1. */
export const misreadOdds = ({ misread }: BuildOdds): number => misread.reduce((sum, one) => sum + one, 1);

/** How much likelier the loads of a build are with what its bench may not have read than without; 1 before any. */
const misreadBy = (build: BuildOdds): number => misreadOdds(build) / MISREAD_BEFORE;

/** That one speed answers more than others is how a machine is, and holds nothing by itself. */
export function logOddsOf(ways: readonly Way[], build: BuildOdds): number {
  let [faults, usual] = [0, misreadBy(build)];
  for (const { cause, odds, toHold = odds } of ways)
    if (cause === 'resonance') usual += odds;
    else faults += toHold;
  return Math.log(faults / usual);
}

/** Bayes: each cause's odds against nothing. */
export function weighed(ways: readonly Way[], build: BuildOdds): Weighing {
  const nothing = misreadBy(build);
  const all = nothing + oddsOf(ways);
  const byCause = new Map<string, Way>();
  for (const way of ways) {
    const key = `${way.cause} ${way.of}`;
    const known = byCause.get(key);
    const likelier = known === undefined || way.odds > known.odds ? way : known;
    byCause.set(key, { ...likelier, odds: way.odds + (known?.odds ?? 0) });
  }
  const sorted = [...byCause.values()].toSorted((a, b) => b.odds - a.odds);
  const shares = sorted.map(({ cause, of: id, odds }) => ({ cause, of: id, probability: odds / all }));
  const [first] = shares;
  return {
    logOdds: logOddsOf(ways, build),
    shares,
    named: first !== undefined && first.probability >= NAMED_FROM ? first : undefined,
    unknown: nothing / all,
    since: sorted[0]?.since,
  };
}
