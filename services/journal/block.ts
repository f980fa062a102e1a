// A stretch's entries as bytes and back: readings in columns, everything else as JSON, the order kept.
import type { Entry, Position } from '../../shared/entries.ts';
import { placed, type Unplaced } from './as-kept.ts';
import { ByteReader, ByteWriter } from './bytes.ts';
import { foldable, readIntegers, readSmall, writeIntegers, writeSmall, type Effort } from './columns.ts';
import { isReading, type Reading } from './reading.ts';
import { readReadings, writeReadings, type NextReading } from './readings.ts';
import { originCode, originOf, StreamTable, streamsOf, type Origin, type StreamLists } from './streams.ts';

/** A release that changes the layout takes the next number and still reads the ones before. */
export const FORMAT = 1;

/** Kinds by their layout; 0 is everything that is JSON. */
export const SUMMARY = 1;
export const MACHINE = 2;

/** Everything of a block that is text. */
export interface BlockWords extends StreamLists {
  /** Ids of readings that boot and sequence do not say, in order. */
  readonly summaryIds: readonly string[];
  readonly machineIds: readonly string[];
  readonly others: readonly Unplaced[];
  readonly otherOrigins: readonly number[];
}

export interface Block {
  readonly entries: readonly Entry[];
  readonly origins: readonly (Origin | undefined)[];
}

type OtherEntry = Exclude<Entry, Reading>;

/** The entries of one layout, apart from the rest. */
class Apart<E extends Entry> {
  readonly entries: E[] = [];
  readonly origins: (Origin | undefined)[] = [];

  add(entry: E, origin: Origin | undefined): void {
    this.entries.push(entry);
    this.origins.push(origin);
  }
}

/** Used again for every block; nothing is left in them between two calls. */
const whole = new ByteWriter();
const columns = new ByteWriter();

/** Entries of neighbouring positions, as `asKept` gives them; the position of the first is kept beside the block. */
export function encodeEntries({ entries, origins }: Block, effort: Effort): Buffer {
  const count = entries.length;
  const kinds = new Uint8Array(count);
  const summaries = new Apart<Reading>();
  const machines = new Apart<Reading>();
  const others = new Apart<OtherEntry>();
  for (let i = 0; i < count; i += 1) {
    const entry = entries[i];
    if (entry === undefined) continue;
    if (!isReading(entry)) {
      others.add(entry, origins[i]);
    } else if (entry.kind === 'summary') {
      kinds[i] = SUMMARY;
      summaries.add(entry, origins[i]);
    } else {
      kinds[i] = MACHINE;
      machines.add(entry, origins[i]);
    }
  }
  const prefixes: string[] = [];
  columns.clear();
  writeTimes(columns, entries);
  writeSmall(columns, kinds, count);
  const table = { streams: new StreamTable(prefixes), effort };
  const summaryIds = writeReadings(columns, summaries.entries, summaries.origins, table);
  const machineIds = writeReadings(columns, machines.entries, machines.origins, table);
  const words: BlockWords = {
    ...table.streams.lists(),
    summaryIds,
    machineIds,
    others: others.entries.map(fieldsOf),
    otherOrigins: others.entries.map((entry, i) => originCode(deviceOf(entry), others.origins[i], prefixes)),
  };
  whole.clear();
  whole.byte(FORMAT);
  whole.count(count);
  whole.text(JSON.stringify(words));
  whole.bytes(columns.written());
  return whole.taken();
}

/** `origins` stays empty unless asked for: only merging and remembering repeats needs it. */
export function decodeEntries(bytes: Uint8Array, first: Position, withOrigins = false): Block {
  const reader = new BlockReader(bytes, first, withOrigins);
  const origins: (Origin | undefined)[] = [];
  return { entries: reader.take(reader.count, withOrigins ? origins : undefined), origins };
}

/** Gives a block's entries a few at a time: those that were looked at are soon garbage, which is cheap while young. */
export class BlockReader {
  readonly count: number;
  readonly #first: Position;
  readonly #words: BlockWords;
  readonly #ats: Float64Array;
  readonly #kinds: Uint8Array;
  readonly #nextSummary: NextReading;
  readonly #nextMachine: NextReading;
  #place = 0;
  #others = 0;

  constructor(bytes: Uint8Array, first: Position, withOrigins = false) {
    const from = new ByteReader(bytes);
    if (from.byte() !== FORMAT) {
      throw new Error(`the block at position ${first} has a format that this release does not know`);
    }
    const count = from.count();
    const words = JSON.parse(from.text()) as BlockWords;
    const ats = readTimes(from, count);
    const kinds = readSmall(from, count);
    const frame = { streams: streamsOf(words, withOrigins), first, ats };
    this.#nextSummary = readReadings(from, 'summary', occurrences(kinds, SUMMARY), { ...frame, ids: words.summaryIds });
    this.#nextMachine = readReadings(from, 'machine', occurrences(kinds, MACHINE), { ...frame, ids: words.machineIds });
    this.count = count;
    this.#first = first;
    this.#words = words;
    this.#ats = ats;
    this.#kinds = kinds;
  }

  take(count: number, origins?: (Origin | undefined)[]): Entry[] {
    const entries: Entry[] = [];
    const end = Math.min(this.count, this.#place + count);
    for (let place = this.#place; place < end; place += 1) {
      const kind = this.#kinds[place];
      if (kind === SUMMARY) entries.push(this.#nextSummary(place, origins));
      else if (kind === MACHINE) entries.push(this.#nextMachine(place, origins));
      else entries.push(this.#nextOther(place, origins));
    }
    this.#place = end;
    return entries;
  }

  #nextOther(place: number, origins: (Origin | undefined)[] | undefined): Entry {
    const { others, otherOrigins, prefixes } = this.#words;
    const fields = others[this.#others];
    if (fields === undefined) throw new Error(`the block at position ${this.#first} does not hold all of its entries`);
    const entry = placed(fields, this.#first + place, this.#ats[place] ?? 0);
    origins?.push(originOf(deviceOf(entry), otherOrigins[this.#others] ?? 0, prefixes));
    this.#others += 1;
    return entry;
  }
}

/** When things arrived never goes back, so the steps are small. */
function writeTimes(to: ByteWriter, entries: readonly Entry[]): void {
  const count = entries.length;
  const steps = new Float64Array(count);
  let before = entries[0]?.at ?? 0;
  let exact = true;
  for (let i = 1; i < count; i += 1) {
    const at = entries[i]?.at ?? 0;
    const step = at - before;
    if (!foldable(step) || before + step !== at) exact = false;
    steps[i] = step;
    before = at;
  }
  to.double(exact ? (entries[0]?.at ?? 0) : Number.NaN);
  writeIntegers(to, exact ? steps : Float64Array.from(entries, (entry) => entry.at), count);
}

export function readTimes(from: ByteReader, count: number): Float64Array {
  const first = from.double();
  const steps = readIntegers(from, count);
  if (Number.isNaN(first)) return steps;
  for (let i = 0, at = first; i < count; i += 1) {
    at += steps[i] ?? 0;
    steps[i] = at;
  }
  return steps;
}

function occurrences(kinds: Uint8Array, kind: number): number {
  let count = 0;
  for (const one of kinds) if (one === kind) count += 1;
  return count;
}

function fieldsOf(entry: OtherEntry): Unplaced {
  const { position: _position, at: _at, ...fields } = entry;
  return fields;
}

function deviceOf(entry: Entry): string {
  return 'device' in entry ? entry.device : '';
}
