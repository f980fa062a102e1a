// The floor as it is now, to be written down while the floor itself goes on: what folds change in place is copied, the rest shared.
import { copyOfRelating } from './relating/relating-state.ts';
import { copyOfDaily } from './daily-levels.ts';
import { copyOfHeadroom } from './headroom.ts';
import type { Floor, SeverityState, SpeedBin, SpindleLive, SpindleState } from './floor.ts';

/** Costs a few milliseconds for thousands of spindles, where writing all of them down would cost hundreds. */
export function copyOfFloor(floor: Floor): Floor {
  return {
    ...floor,
    assemblies: new Map(floor.assemblies),
    spindles: mapped(floor.spindles, copyOfSpindle),
    devices: mapped(floor.devices, (lane) => ({ ...lane })),
    benches: new Map(floor.benches),
    holds: new Map(floor.holds),
    openHolds: new Map(floor.openHolds),
    endedHolds: [...floor.endedHolds],
    notices: new Map(floor.notices),
    windows: new Map(floor.windows),
    cutters: new Map(floor.cutters),
    headroom: mapped(floor.headroom, copyOfHeadroom),
    relating: mapped(floor.relating, copyOfRelating),
    buildOdds: new Map(floor.buildOdds),
    benchOdds: new Map(floor.benchOdds),
  };
}

function mapped<K, V>(map: ReadonlyMap<K, V>, copyOf: (value: V) => V): Map<K, V> {
  const copies = new Map<K, V>();
  for (const [key, value] of map) copies.set(key, copyOf(value));
  return copies;
}

const copyOfSpindle = (spindle: SpindleState): SpindleState => ({ ...spindle, live: copyOfLive(spindle.live) });

function copyOfLive(live: SpindleLive): SpindleLive {
  return {
    ...live,
    oddInRow: { ...live.oddInRow },
    inMotion: { ...live.inMotion },
    watches: live.watches.map((watch) => ({ ...watch, positions: [...watch.positions] })),
    bins: mapped(live.bins, copyOfBin),
    severityChanges: [...live.severityChanges],
    doubt: live.doubt === undefined ? undefined : { ...live.doubt, positions: [...live.doubt.positions] },
    trial: live.trial === undefined ? undefined : { ...live.trial },
    ...(live.speedDoubt === undefined ? {} : { speedDoubt: { ...live.speedDoubt } }),
  };
}

/** Marks of loads that ended stay as they are; only the last one may still grow. */
function copyOfBin(bin: SpeedBin): SpeedBin {
  const last = bin.points.at(-1);
  const points = last === undefined ? [] : [...bin.points.slice(0, -1), { ...last }];
  return {
    ...bin,
    points,
    severity: bin.severity === undefined ? undefined : copyOfSeverity(bin.severity),
    ...(bin.daily === undefined ? {} : { daily: copyOfDaily(bin.daily) }),
  };
}

function copyOfSeverity(severity: SeverityState): SeverityState {
  return { ...severity, held: { ...severity.held }, change: { ...severity.change } };
}
