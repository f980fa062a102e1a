// Speed bins that follow the speeds a spindle really runs: readings at nearly the same speed are compared with each other only.
import type { Instant } from '../../shared/time.ts';
import { longerDaily } from './daily-levels.ts';
import type { SpeedBin, SpindleLive } from './floor.ts';
import {
  SPEED_BIN_CENTRE_READINGS_MAX,
  SPEED_BIN_CENTRE_WANDER_SHARE,
  SPEED_BIN_HALF_WIDTH_SHARE,
  SPEED_BIN_MERGE_SHARE,
  SPEED_BIN_SETTLED_READINGS,
  SPEED_BINS_PER_SPINDLE_MAX,
} from './limits.ts';
import { lineThrough } from './response.ts';

/** The bin of standstill. */
export const STANDSTILL_BIN = -1;
/** Numbers below this were bins with fixed edges: they stand in what older rules recorded. */
const FOUNDED_FROM = 1000;

/** Of a bin, between two looks at its neighbours. */
const MERGE_EVERY_READINGS = 16;

/** A bin bears the speed at which it was founded in its number, so that the number says the same for ever. */
const numberAt = (speedRpm: number): number => FOUNDED_FROM + Math.round(speedRpm);

/** Where a bin ends on either side. */
export function speedBinEnds({ centreRpm }: Pick<SpeedBin, 'centreRpm'>): readonly [number, number] {
  return [centreRpm * (1 - SPEED_BIN_HALF_WIDTH_SHARE), centreRpm * (1 + SPEED_BIN_HALF_WIDTH_SHARE)];
}

/** The bin whose centre lies nearest, where one is near enough. */
export function nearestBin({ bins }: Pick<SpindleLive, 'bins'>, speedRpm: number): SpeedBin | undefined {
  let nearest: SpeedBin | undefined;
  let least = SPEED_BIN_HALF_WIDTH_SHARE;
  for (const bin of bins.values()) {
    const off = Math.abs(speedRpm / bin.centreRpm - 1);
    if (off > least) continue;
    least = off;
    nearest = bin;
  }
  return nearest;
}

/** The number of the bin that a speed belongs to, or of the one that would be founded for it. */
export function speedBinOf(live: Pick<SpindleLive, 'bins'> | undefined, speedRpm: number): number {
  if (!(speedRpm >= 1)) return STANDSTILL_BIN;
  return (live === undefined ? undefined : nearestBin(live, speedRpm)?.bin) ?? numberAt(speedRpm);
}

/**
 * Takes a reading at a steady speed into its bin. The bin is the one that was recorded with it; where that is not known any
 * more, or was one with fixed edges, it is the bin that takes its speed now.
 */
export function takeSpeed(live: SpindleLive, recorded: number, speedRpm: number, at: Instant): SpeedBin {
  const bin = live.bins.get(recorded) ?? nearestBin(live, speedRpm) ?? founded(live, speedRpm, at);
  bin.readings += 1;
  bin.lastAt = Math.max(bin.lastAt, at);
  const weight = 1 / Math.min(bin.readings, SPEED_BIN_CENTRE_READINGS_MAX);
  const wander = bin.foundedRpm * SPEED_BIN_CENTRE_WANDER_SHARE;
  const centre = bin.centreRpm + (speedRpm - bin.centreRpm) * weight;
  bin.centreRpm = Math.min(Math.max(centre, bin.foundedRpm - wander), bin.foundedRpm + wander);
  // Centres move slowly: it is enough to look now and then whether two have come together.
  return live.bins.size > 1 && bin.readings % MERGE_EVERY_READINGS === 0 ? mergedInto(live, bin) : bin;
}

function founded(live: SpindleLive, speedRpm: number, at: Instant): SpeedBin {
  if (live.bins.size >= SPEED_BINS_PER_SPINDLE_MAX) dropOne(live);
  const bin: SpeedBin = {
    bin: numberAt(speedRpm),
    foundedRpm: speedRpm,
    centreRpm: speedRpm,
    readings: 0,
    lastAt: at,
    points: [],
    line: undefined,
    severity: undefined,
  };
  live.bins.set(bin.bin, bin);
  return bin;
}

/** A speed that was only passed through goes first; then the one that was not run for the longest time. */
function dropOne(live: SpindleLive): void {
  let first: SpeedBin | undefined;
  for (const bin of live.bins.values()) if (first === undefined || goesBefore(bin, first)) first = bin;
  if (first !== undefined) live.bins.delete(first.bin);
}

function goesBefore(one: SpeedBin, other: SpeedBin): boolean {
  const [oneSettled, otherSettled] = [isSettled(one), isSettled(other)];
  if (oneSettled !== otherSettled) return otherSettled;
  return one.lastAt < other.lastAt;
}

const isSettled = ({ readings }: SpeedBin): boolean => readings >= SPEED_BIN_SETTLED_READINGS;

/** Two bins whose centres came together are one: the one with more readings stays, with the marks of both. */
function mergedInto(live: SpindleLive, bin: SpeedBin): SpeedBin {
  for (const other of live.bins.values()) {
    if (other === bin || Math.abs(other.centreRpm / bin.centreRpm - 1) >= SPEED_BIN_MERGE_SHARE) continue;
    const [stays, goes] = other.readings > bin.readings ? [other, bin] : [bin, other];
    live.bins.delete(goes.bin);
    take(stays, goes);
    return stays;
  }
  return bin;
}

function take(stays: SpeedBin, goes: SpeedBin): void {
  stays.readings += goes.readings;
  stays.lastAt = Math.max(stays.lastAt, goes.lastAt);
  stays.severity ??= goes.severity;
  stays.daily = longerDaily(stays.daily, goes.daily);
  const known = new Set(stays.points.map((point) => point.loadOrdinal));
  const more = goes.points.filter((point) => !known.has(point.loadOrdinal));
  if (more.length === 0) return;
  stays.points = [...stays.points, ...more.map((point) => ({ ...point, speedBin: stays.bin }))].toSorted(
    (a, b) => a.loadOrdinal - b.loadOrdinal,
  );
  stays.line = lineThrough(stays.bin, stays.points.slice(0, -1)) ?? stays.line;
}
