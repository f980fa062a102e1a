// What a spindle does now, in one sentence: read by whoever is about to put a name to it.
import { say } from '../../shared/language/index.ts';
import type { SpindleRow } from '../../shared/views.ts';
import { figure, speed, velocity } from './figures.ts';
import { age, type PlantClock } from './instants.ts';

export function nowWords(row: SpindleRow, clock: PlantClock): string {
  const { spindleId, lastReadingAt, speedRpm, loaded, overallMmS, synchronousMmS } = row;
  if (lastReadingAt === undefined || speedRpm === undefined) return say`nothing was read of ${spindleId} yet.`;
  const read = say`read ${age(lastReadingAt, clock)} ago`;
  if (speedRpm < 1)
    return loaded === undefined
      ? say`${spindleId} stands with nothing loaded; ${read}.`
      : say`${spindleId} stands with ${loaded.assemblyId}; ${read}.`;
  const overall = say`overall ${velocity(overallMmS)}${besideLimit(row.overallLimitMmS)}`;
  const once =
    synchronousMmS === undefined
      ? ''
      : say`, 1× ${velocity(synchronousMmS)}${besideLimit(row.synchronousLimitMmS)}${besideExpected(row.expectedMmS)}`;
  const turns = speed(Math.round(speedRpm));
  return loaded === undefined
    ? say`${spindleId} turns at ${turns} with nothing loaded: ${overall}${once}; ${read}.`
    : say`${spindleId} turns at ${turns} with ${loaded.assemblyId}: ${overall}${once}; ${read}.`;
}

const besideLimit = (value: number | undefined): string => (value === undefined ? '' : say` (limit ${figure(value)})`);
const besideExpected = (value: number | undefined): string =>
  value === undefined ? '' : say` (expected ${figure(value)})`;
