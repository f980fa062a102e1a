// What a spindle does now, in one sentence: read by whoever is about to put a name to it.
import type { SpindleRow } from '../../shared/views.ts';
import { figure, speed, velocity } from './figures.ts';
import { age, type PlantClock } from './instants.ts';

export function nowWords(row: SpindleRow, clock: PlantClock): string {
  const { spindleId, lastReadingAt, speedRpm, loaded, overallMmS, synchronousMmS } = row;
  if (lastReadingAt === undefined || speedRpm === undefined) return `nothing was read of ${spindleId} yet.`;
  const read = `read ${age(lastReadingAt, clock)} ago`;
  const inIt = loaded === undefined ? 'with nothing loaded' : `with ${loaded.assemblyId}`;
  if (speedRpm < 1) return `${spindleId} stands ${inIt}; ${read}.`;
  const overall = `overall ${velocity(overallMmS)}${beside('limit', row.overallLimitMmS)}`;
  const once =
    synchronousMmS === undefined
      ? ''
      : `, 1× ${velocity(synchronousMmS)}${beside('limit', row.synchronousLimitMmS)}${beside('expected', row.expectedMmS)}`;
  return `${spindleId} turns at ${speed(Math.round(speedRpm))} ${inIt}: ${overall}${once}; ${read}.`;
}

const beside = (what: string, value: number | undefined): string =>
  value === undefined ? '' : ` (${what} ${figure(value)})`;
