// The causes of what a spindle shows, weighed against each other and against nothing: probabilities that sum to one.
import type { Cause, CauseShare } from '../../../shared/causes.ts';
import { NAMED_FROM } from '../../../shared/causes.ts';
import type { Instant } from '../../../shared/time.ts';
import {
  assemblyWays,
  benchWays,
  clampingWays,
  drawbarWays,
  logSum,
  resonanceWays,
  restWays,
  spindleWays,
  type Way,
} from './likelihoods.ts';
import type { Scene } from './scene.ts';

export interface Weighing {
  /** ln of the odds that something there is now has changed. */
  readonly logOdds: number;
  /** Greatest first; given that something has changed. */
  readonly shares: readonly CauseShare[];
  readonly named: CauseShare | undefined;
  /** That there is nothing, or none of them. */
  readonly unknown: number;
  /** When the likeliest change of the likeliest cause began. */
  readonly since: Instant | undefined;
}

/** What an open hold is about. */
export interface Episode {
  readonly from: Instant;
  readonly assemblyId: string | undefined;
}

/** All ways in which a scene, and what ran elsewhere, may have come about. */
function waysOf(scene: Scene, elsewhere: readonly Scene[], assemblyId: string | undefined): readonly Way[] {
  const scenes = [scene, ...elsewhere];
  const suspects = scene.marks.filter(
    (mark, index) => index >= scene.marks.length - PAIRS_BACK || mark.assemblyId === assemblyId,
  );
  const pairs = new Set(suspects.map((mark) => mark.pair));
  return [
    ...spindleWays(scene),
    ...[...pairs].flatMap((pair) => assemblyWays(scenes, pair)),
    ...clampingWays(scene),
    ...drawbarWays(scene),
    ...resonanceWays(scene),
    ...benchWays(scenes),
    ...restWays(scene),
  ];
}

/** Builds of so many of the last marks may be what has changed. */
const PAIRS_BACK = 12;

/** That one speed answers more than others is how a machine is, and holds nothing by itself. */
const isFault = ({ cause }: Way): boolean => cause !== 'resonance';

const isNow = (way: Way, episodeFrom: Instant | undefined): boolean =>
  !way.past || (episodeFrom !== undefined && way.since >= episodeFrom);

/**
 * Bayes: each way's odds against nothing, summed by cause. A clamping that is over counts as nothing, but where a hold stands
 * for it: `episode` is when the load began that raised it, and what was loaded.
 */
export function weigh(scene: Scene, elsewhere: readonly Scene[], episode?: Episode): Weighing {
  const ways = waysOf(scene, elsewhere, episode?.assemblyId);
  const episodeFrom = episode?.from;
  const now = ways.filter((way) => isNow(way, episodeFrom));
  const nothing = logSum([0, ...ways.filter((way) => !isNow(way, episodeFrom)).map((way) => way.logOdds)]);
  const something = logSum(now.map((way) => way.logOdds));
  const all = logSum([nothing, something]);
  const byCause = new Map<string, { cause: Cause; of: string; logs: number[] }>();
  for (const { cause, of, logOdds } of now) {
    const known = byCause.get(`${cause} ${of}`);
    if (known === undefined) byCause.set(`${cause} ${of}`, { cause, of, logs: [logOdds] });
    else known.logs.push(logOdds);
  }
  const shares = [...byCause.values()]
    .map(({ cause, of, logs }) => ({ cause, of, probability: Math.exp(logSum(logs) - all) }))
    .toSorted((a, b) => b.probability - a.probability);
  const [first] = shares;
  return {
    logOdds:
      logSum(now.filter(isFault).map((way) => way.logOdds)) -
      logSum([nothing, ...now.filter((way) => !isFault(way)).map((way) => way.logOdds)]),
    shares,
    named: first !== undefined && first.probability >= NAMED_FROM ? first : undefined,
    unknown: Math.max(0, 1 - shares.reduce((sum, { probability }) => sum + probability, 0)),
    since: first === undefined ? undefined : likeliest(now, first)?.since,
  };
}

function likeliest(ways: readonly Way[], { cause, of }: CauseShare): Way | undefined {
  let best: Way | undefined;
  for (const way of ways)
    if (way.cause === cause && way.of === of && way.logOdds > (best?.logOdds ?? -Infinity)) best = way;
  return best;
}
