// What a hold was raised for goes on being weighed for that hold alone, with each load that says something of it.
import type { Hold } from '../../../shared/holds.ts';
import type { Floor } from '../floor.ts';
import { buildWith, elsewhereOf, measuredWith, spindleWith, type Look } from './look.ts';
import {
  newBuildOdds,
  newSpindleOdds,
  withoutOdds,
  type Episode,
  type Relating,
  type Track,
} from './relating-state.ts';
import { clampingWay, trackWays, weighed, type Way, type Weighing } from './weighing.ts';

/** A hold is raised in the load that ran last: odds as they were before that load go on for it, all others begin anew. */
export function beginEpisode(floor: Floor, relating: Relating, holdId: string): void {
  const last = relating.marks.at(-1);
  if (last === undefined) return;
  const { assemblyId, bench, pair, ordinal } = last;
  const known = floor.buildOdds.get(assemblyId);
  relating.episode = {
    holdId,
    assemblyId,
    bench,
    ordinal,
    since: relating.marks.find((mark) => mark.ordinal === ordinal)?.at ?? last.at,
    track: {
      odds: relating.odds,
      build: known?.pair === pair ? known : newBuildOdds(pair),
      measured: bench === undefined ? [] : (floor.benchOdds.get(bench) ?? []),
    },
    clamping: 0,
  };
  relating.odds = newSpindleOdds();
  relating.logOdds = -Infinity;
  // What it showed goes on to be what it is compared with.
  if (known?.pair === pair) floor.buildOdds.set(assemblyId, withoutOdds(known));
  const hold = floor.holds.get(holdId);
  if (hold?.subject.kind !== 'spindle') return;
  // What other builds showed there may have been the spindle's as well.
  for (const [id, build] of floor.buildOdds)
    if (build.spindles.includes(hold.subject.id)) floor.buildOdds.set(id, withoutOdds(build));
}

/** The episode of a hold, where its spindle still has it. */
export function episodeOf(
  floor: Floor,
  { holdId, evidence }: Hold,
): { readonly relating: Relating; readonly spindleId: string; readonly episode: Episode } | undefined {
  const { spindleId } = evidence;
  const relating = spindleId === undefined ? undefined : floor.relating.get(spindleId);
  const episode = relating?.episode;
  return spindleId === undefined || relating === undefined || episode?.holdId !== holdId
    ? undefined
    : { relating, spindleId, episode };
}

/** The episode's odds with a load, in its spindle or of its build. */
function trackWith({ track, assemblyId, bench }: Episode, spindleId: string, look: Look): Track {
  const isBuild = look.last.assemblyId === assemblyId && look.last.pair === track.build.pair;
  const build = isBuild ? buildWith(track.build, look) : track.build;
  const isBench = bench !== undefined && look.last.bench === bench;
  return {
    odds: look.spindleId === spindleId ? spindleWith(track.odds, look) : track.odds,
    build,
    measured: isBench ? measuredWith(track.measured, look, isBuild ? build : look.track.build) : track.measured,
  };
}

/** Its causes, with the load that is looked at; undefined where they cannot be told any more. */
export function weighEpisode(floor: Floor, hold: Hold, look: Look): Weighing | undefined {
  const found = episodeOf(floor, hold);
  if (found === undefined) return undefined;
  const { relating, spindleId, episode } = found;
  const isHere = look.spindleId === spindleId;
  const isRaising = isHere && look.last.ordinal === episode.ordinal;
  const track = trackWith(episode, spindleId, look);
  const resonances = isHere ? look.resonances : relating.resonances;
  const elsewhere = elsewhereOf(floor, spindleId, track.build);
  const ways: Way[] = [
    ...trackWays({
      ...episode,
      spindleId,
      sensor: relating.sensor,
      track,
      resonances,
      elsewhere,
      explained: 'since-the-hold',
    }),
    clampingWay(spindleId, isRaising ? look.clamping : episode.clamping, episode.since),
  ];
  return weighed(ways, track.build);
}

/** The load has ended: it counts in the episode from now on. */
export function takeIntoEpisode(floor: Floor, hold: Hold, look: Look): void {
  const found = episodeOf(floor, hold);
  if (found === undefined) return;
  const { relating, spindleId, episode } = found;
  const isHere = look.spindleId === spindleId;
  const isRaising = isHere && look.last.ordinal === episode.ordinal;
  // While a hold stands nothing else takes them in, and each load would count alone.
  if (isHere) relating.resonances = look.resonances;
  relating.episode = {
    ...episode,
    track: trackWith(episode, spindleId, look),
    clamping: isRaising ? look.clamping : episode.clamping,
  };
}
