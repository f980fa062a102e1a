// The readings of a block, column by column: who, when, sequence, flags, and a column for each quantity that occurs.
import type { MachineState, Summary } from '../../shared/messages/index.ts';
import type { ByteReader, ByteWriter } from './bytes.ts';
import {
  foldable,
  readIndexes,
  readIntegers,
  readSingles,
  readSmall,
  writeIndexes,
  writeIntegers,
  writeSingles,
  writeSmall,
  type Effort,
} from './columns.ts';
import {
  MACHINE_QUANTITIES,
  machineFlags,
  machineOf,
  readingId,
  readingOf,
  SUMMARY_QUANTITIES,
  summaryFlags,
  summaryOf,
  type Heading,
  type Reading,
  type SummaryFields,
} from './reading.ts';
import type { Origin, Stream, StreamTable } from './streams.ts';

export const HAS_TIME = 1;
const HAS_SEQUENCE = 2;

/** Times and sequences: whole numbers as differences, any others as they are. */
const AS_DIFFERENCES = 0;
export const AS_THEY_ARE = 1;

const ALL = 0;
const SOME = 1;
const NONE = 2;

/** Writes the readings of one kind; gives back the ids that boot and sequence do not say, in order. */
export function writeReadings(
  to: ByteWriter,
  readings: readonly Reading[],
  origins: readonly (Origin | undefined)[],
  table: { readonly streams: StreamTable; readonly effort: Effort },
): readonly string[] {
  const count = readings.length;
  const ids: string[] = [];
  if (count === 0) return ids;
  const places = new Uint32Array(count);
  const has = new Uint8Array(count);
  const flags = new Uint8Array(count);
  const lags = new Float64Array(count);
  const steps = new Float64Array(count);
  // The last sequence of each stream: the next is written as its difference.
  const before: number[] = [];
  let exact = true;
  for (let i = 0; i < count; i += 1) {
    const entry = readings[i];
    if (entry === undefined) continue;
    const { bootId, sequence, time, data } = entry;
    const stream = table.streams.of(entry.device, bootId, data.spindleId, origins[i]);
    places[i] = stream.index;
    if (time !== undefined) {
      has[i] = HAS_TIME;
      const lag = entry.at - time;
      if (!foldable(lag) || entry.at - lag !== time) exact = false;
      lags[i] = lag;
    }
    if (sequence !== undefined) {
      has[i] = (has[i] ?? 0) | HAS_SEQUENCE;
      const last = before[stream.index] ?? 0;
      const step = sequence - last;
      if (!foldable(step) || last + step !== sequence) exact = false;
      steps[i] = step;
      before[stream.index] = sequence;
    }
    flags[i] = entry.kind === 'summary' ? summaryFlags(entry.data) : machineFlags(entry.data);
    if (bootId === undefined || sequence === undefined) ids.push(entry.id);
  }
  writeIndexes(to, places, count, table.streams.size);
  writeSmall(to, has, count);
  writeSmall(to, flags, count);
  to.byte(exact ? AS_DIFFERENCES : AS_THEY_ARE);
  writeIntegers(to, exact ? lags : Float64Array.from(readings, (entry) => entry.time ?? 0), count);
  writeIntegers(to, exact ? steps : Float64Array.from(readings, (entry) => entry.sequence ?? 0), count);
  writeQuantities(to, readings, table.effort);
  return ids;
}

function writeQuantities(to: ByteWriter, readings: readonly Reading[], effort: Effort): void {
  // A block's readings of one call are of one kind.
  if (readings[0]?.kind === 'summary') {
    for (const quantity of SUMMARY_QUANTITIES)
      writeQuantity(to, readings as readonly { data: Summary }[], quantity, effort);
  } else {
    const machines = readings as readonly { data: MachineState }[];
    for (const quantity of MACHINE_QUANTITIES) writeQuantity(to, machines, quantity, effort);
  }
}

function writeQuantity<D>(
  to: ByteWriter,
  readings: readonly { readonly data: D }[],
  quantity: (data: D) => number | undefined,
  effort: Effort,
): void {
  const count = readings.length;
  const values = new Float32Array(count);
  let present: Uint8Array | undefined;
  let said = 0;
  for (let i = 0; i < count; i += 1) {
    const reading = readings[i];
    const value = reading === undefined ? undefined : quantity(reading.data);
    if (value === undefined) {
      present ??= new Uint8Array(count).fill(1, 0, i);
    } else {
      values[said++] = value;
      if (present !== undefined) present[i] = 1;
    }
  }
  to.byte(said === 0 ? NONE : present === undefined ? ALL : SOME);
  if (said === 0) return;
  if (present !== undefined) {
    writeBits(to, present);
    to.count(said);
  }
  writeSingles(to, values, said, effort);
}

function writeBits(to: ByteWriter, bits: Uint8Array): void {
  const packed = new Uint8Array((bits.length + 7) >> 3);
  for (let i = 0; i < bits.length; i += 1) {
    if (bits[i] === 1) packed[i >> 3] = (packed[i >> 3] ?? 0) | (1 << (i & 7));
  }
  to.bytes(packed);
}

/** One quantity of every reading; undefined where it was not said. */
export type Column = readonly (number | undefined)[] | Float32Array;

export function readQuantity(from: ByteReader, count: number): Column {
  const presence = from.byte();
  if (presence === NONE) return [];
  if (presence === ALL) return readSingles(from, count);
  const bits = from.bytes((count + 7) >> 3);
  const values = readSingles(from, from.count());
  const column: (number | undefined)[] = [];
  for (let i = 0, next = 0; i < count; i += 1) {
    column.push((((bits[i >> 3] ?? 0) >> (i & 7)) & 1) === 1 ? values[next++] : undefined);
  }
  return column;
}

/** What stands around the columns of one kind. */
export interface ReadingFrame {
  readonly streams: readonly Stream[];
  /** Those of this kind that boot and sequence do not say, in order. */
  readonly ids: readonly string[];
  readonly first: number;
  readonly ats: Float64Array;
}

/** Gives the next reading of its kind, which stands at a place of the block; how a repeat of it is known goes to `origins`. */
export type NextReading = (place: number, origins: (Origin | undefined)[] | undefined) => Reading;

/** The readings of one kind, to be taken in order. */
export function readReadings(from: ByteReader, kind: Reading['kind'], count: number, frame: ReadingFrame): NextReading {
  const { streams, ats, first } = frame;
  if (count === 0) return () => missing('reading');
  const index = readIndexes(from, count);
  const has = readSmall(from, count);
  const flags = readSmall(from, count);
  const asTheyAre = from.byte() === AS_THEY_ARE;
  const times = readIntegers(from, count);
  const sequences = readIntegers(from, count);
  const restore = kind === 'summary' ? readSummaries(from, count, flags) : readMachines(from, count, flags);
  const heading: Heading = {
    position: 0,
    at: 0,
    device: '',
    id: '',
    time: undefined,
    bootId: undefined,
    sequence: undefined,
  };
  const before = new Float64Array(streams.length);
  let i = 0;
  let nextId = 0;
  return (place, origins) => {
    const stream = streams[index[i] ?? 0] ?? missing('stream');
    const said = has[i] ?? 0;
    const at = ats[place] ?? 0;
    heading.position = first + place;
    heading.at = at;
    heading.device = stream.device;
    heading.bootId = stream.bootId;
    const time = times[i] ?? 0;
    heading.time = (said & HAS_TIME) === 0 ? undefined : asTheyAre ? time : at - time;
    if ((said & HAS_SEQUENCE) === 0) {
      heading.sequence = undefined;
    } else {
      const sequence = (asTheyAre ? 0 : (before[stream.index] ?? 0)) + (sequences[i] ?? 0);
      before[stream.index] = sequence;
      heading.sequence = sequence;
    }
    heading.id =
      stream.bootId === undefined || heading.sequence === undefined
        ? (frame.ids[nextId++] ?? missing('id'))
        : readingId(stream.bootId, heading.sequence, '');
    origins?.push(stream.origin);
    const reading = restore(heading, i, stream.spindleId);
    i += 1;
    return reading;
  };
}

function missing(what: string): never {
  throw new Error(`a block of the journal names a ${what} that it does not hold`);
}

type Restore = (heading: Heading, i: number, spindleId: string | undefined) => Reading;

function readSummaries(from: ByteReader, count: number, flags: Uint8Array): Restore {
  const speed = readQuantity(from, count);
  const overall = readQuantity(from, count);
  const synchronous = readQuantity(from, count);
  const phase = readQuantity(from, count);
  const second = readQuantity(from, count);
  const rms = readQuantity(from, count);
  const peak = readQuantity(from, count);
  const kurtosis = readQuantity(from, count);
  const envelope = readQuantity(from, count);
  return (heading, i, spindleId) => {
    const fields: SummaryFields = {
      spindleId,
      speedRpm: speed[i] ?? 0,
      overallMmS: overall[i] ?? 0,
      synchronousMmS: synchronous[i],
      synchronousPhaseDeg: phase[i],
      secondOrderMmS: second[i],
      accelerationRmsMS2: rms[i],
      accelerationPeakMS2: peak[i],
      kurtosis: kurtosis[i],
      envelopeMS2: envelope[i],
    };
    return readingOf('summary', heading, summaryOf(fields, flags[i] ?? 0));
  };
}

function readMachines(from: ByteReader, count: number, flags: Uint8Array): Restore {
  const programmed = readQuantity(from, count);
  const actual = readQuantity(from, count);
  const override = readQuantity(from, count);
  return (heading, i, spindleId) =>
    readingOf('machine', heading, machineOf(spindleId ?? '', programmed[i], actual[i], override[i], flags[i] ?? 0));
}
