// The columns of a block that are wanted to go over many readings: who, when, speed, overall and 1× velocity.
import type { Entry, Position } from '../../shared/entries.ts';
import { placed } from './as-kept.ts';
import { FORMAT, MACHINE, readTimes, SUMMARY, type BlockWords } from './block.ts';
import { ByteReader } from './bytes.ts';
import { readIndexes, readIntegers, readSmall, skipIntegers } from './columns.ts';
import { AS_THEY_ARE, HAS_TIME, readQuantity, type Column } from './readings.ts';
import { streamsOf, type Stream } from './streams.ts';

export interface SummaryColumns {
  readonly count: number;
  /** The place of each in the stretch. */
  readonly places: Uint32Array;
  /** The stream of each, by its index. */
  readonly streamOf: ArrayLike<number>;
  readonly streams: readonly Stream[];
  /** The device's own time, ms UTC; NaN where it told none. */
  readonly times: Float64Array;
  readonly speedRpm: Column;
  /** mm/s RMS. */
  readonly overallMmS: Column;
  readonly synchronousMmS: Column;
}

export class ColumnBlock {
  readonly count: number;
  readonly ats: Float64Array;
  readonly summaries: SummaryColumns;
  readonly others: readonly Entry[];

  constructor(bytes: Uint8Array, first: Position) {
    const from = new ByteReader(bytes);
    if (from.byte() !== FORMAT)
      throw new Error(`the block at position ${first} has a format that this release does not know`);
    this.count = from.count();
    const words = JSON.parse(from.text()) as BlockWords;
    this.ats = readTimes(from, this.count);
    const kinds = readSmall(from, this.count);
    const { ats } = this;
    this.others = othersOf(kinds, words, ats, first);
    this.summaries = summariesOf(from, kinds, ats, streamsOf(words, false));
  }
}

function othersOf(kinds: Uint8Array, { others }: BlockWords, ats: Float64Array, first: Position): readonly Entry[] {
  const entries: Entry[] = [];
  let next = 0;
  for (let place = 0; place < kinds.length && next < others.length; place += 1) {
    if (kinds[place] === SUMMARY || kinds[place] === MACHINE) continue;
    const fields = others[next];
    next += 1;
    if (fields !== undefined) entries.push(placed(fields, first + place, ats[place] ?? 0));
  }
  return entries;
}

function summariesOf(
  from: ByteReader,
  kinds: Uint8Array,
  ats: Float64Array,
  streams: readonly Stream[],
): SummaryColumns {
  const places = new Uint32Array(kinds.length);
  let count = 0;
  for (let place = 0; place < kinds.length; place += 1) if (kinds[place] === SUMMARY) places[count++] = place;
  if (count === 0)
    return { count, places, streamOf: [], streams, times: ats, speedRpm: [], overallMmS: [], synchronousMmS: [] };
  const streamOf = readIndexes(from, count);
  const has = readSmall(from, count);
  // What was told of cutting and faults is in the reason that the rules found.
  readSmall(from, count);
  const asTheyAre = from.byte() === AS_THEY_ARE;
  const times = readIntegers(from, count);
  for (let i = 0; i < count; i += 1) {
    if (((has[i] ?? 0) & HAS_TIME) === 0) times[i] = Number.NaN;
    else if (!asTheyAre) times[i] = (ats[places[i] ?? 0] ?? 0) - (times[i] ?? 0);
  }
  skipIntegers(from, count);
  const speedRpm = readQuantity(from, count);
  const overallMmS = readQuantity(from, count);
  const synchronousMmS = readQuantity(from, count);
  return { count, places, streamOf, streams, times, speedRpm, overallMmS, synchronousMmS };
}
