// One spindle's levels: the chunks in use are in memory, the others in the tables; both together are what was read so far.
import type { Instant } from '../../shared/time.ts';
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';
import { Chunk, eachPacked, type VisitBucket } from './chunk.ts';
import { chunkStart, HOURS, LEVELS, type Level } from './levels.ts';
import type { Reading } from './reading.ts';
import { eachPackedReason, ReasonChunk, type VisitReason } from './reason-chunk.ts';
import { eachPackedRun, SpeedChunk, type VisitRun } from './speed-chunk.ts';
import type { ChunkRow, LoadRow, SpindleRow, TrendTables } from './tables.ts';
import { tellsTheSpindle } from './telling.ts';

const REASONS_COLUMN = SERIES_QUANTITIES.length;
const SPEEDS_COLUMN = REASONS_COLUMN + 1;
const SPEED_COLUMN = SERIES_QUANTITIES.indexOf('speedRpm');

/** A minute whose speeds lie further apart than this is one of several speeds, and kept apart by speed. */
const ONE_SPEED_SHARE = 0.01;

/** All columns of one level over one chunk's time. */
interface Page {
  readonly start: Instant;
  readonly columns: readonly Chunk[];
  readonly reasons: ReasonChunk;
  /** Readings that tell of the spindle, apart by speed: of each hour all, of minutes those of the mixed ones; absent without any. */
  speeds: SpeedChunk | undefined;
}

/** A visitor for the buckets of the chunk that begins there. */
export type VisitAt<V> = (chunkStart: Instant) => V;

export class SpindleTrend {
  readonly number: number;
  readonly id: string;
  readonly #tables: TrendTables;
  readonly #pages = LEVELS.map(() => new Map<Instant, Page>());
  /** The page of each level that was used last: most readings belong on it again. */
  readonly #last: (Page | undefined)[] = LEVELS.map(() => undefined);
  #loads: number;
  #lastLoadAt: Instant;
  #newLoads: LoadRow[] = [];
  #changed: boolean;

  constructor(tables: TrendTables, row: SpindleRow, known: boolean) {
    this.#tables = tables;
    this.number = row.number;
    this.id = row.id;
    this.#loads = row.loads;
    this.#lastLoadAt = row.lastLoadAt;
    this.#changed = !known;
  }

  add({ at, values, notComparable }: Reading): void {
    const tells = tellsTheSpindle(notComparable);
    for (const level of LEVELS) {
      const page = this.#pageAt(level, at);
      const bucket = Math.floor((at - page.start) / level.bucketMs);
      if (level === HOURS || isMixedWith(page, bucket, values, tells)) {
        if (tells) (page.speeds ??= new SpeedChunk()).add(bucket, values);
      }
      for (let column = 0; column < values.length; column += 1) {
        const value = values[column];
        if (value !== undefined) page.columns[column]?.add(bucket, value);
      }
      page.reasons.add(bucket, notComparable);
    }
  }

  /** A load that was measured before the last change is history that came late: it has no place in the count. */
  addLoad(at: Instant, assembly: string | undefined): void {
    if (at < this.#lastLoadAt) return;
    this.#lastLoadAt = at;
    this.#changed = true;
    if (assembly === undefined) return;
    this.#loads += 1;
    this.#newLoads.push({ spindle: this.number, at, ordinal: this.#loads, assembly });
  }

  /** Each stored bucket of the time that has readings, with its start. */
  each(level: Level, stretch: { column: number; from: Instant; to: Instant }, visit: VisitAt<VisitBucket>): void {
    const { column } = stretch;
    for (const page of this.#pagesOf(level, stretch)) page.columns[column]?.each(visit(page.start));
    for (const { start, body } of this.#storedOf(level, stretch)) eachPacked(body, visit(start));
  }

  /** The same of how many could be compared, and why not. */
  eachReason(level: Level, stretch: { from: Instant; to: Instant }, visit: VisitAt<VisitReason>): void {
    for (const page of this.#pagesOf(level, stretch)) page.reasons.each(visit(page.start));
    const stored = this.#storedOf(level, { ...stretch, column: REASONS_COLUMN });
    for (const { start, body } of stored) eachPackedReason(body, visit(start));
  }

  /** What was kept apart by speed: of an hour all that tells of the spindle, of minutes that of the mixed ones. */
  eachRun(level: Level, stretch: { column: number; from: Instant; to: Instant }, visit: VisitAt<VisitRun>): void {
    const { column } = stretch;
    for (const page of this.#pagesOf(level, stretch)) page.speeds?.each(column, visit(page.start));
    const stored = this.#storedOf(level, { ...stretch, column: SPEEDS_COLUMN });
    for (const { start, body } of stored) eachPackedRun(body, column, visit(start));
  }

  loads(from: Instant, to: Instant, limit: number): readonly Omit<LoadRow, 'spindle'>[] {
    const fresh = this.#newLoads.filter((load) => load.at >= from && load.at < to);
    return [...this.#tables.loads(this.number, from, to, limit), ...fresh].slice(-limit);
  }

  get pagesInMemory(): number {
    return this.#pages.reduce((sum, pages) => sum + pages.size, 0);
  }

  /** What a flush has to write. */
  *dirtyChunks(): Generator<ChunkRow> {
    for (const [level, pages] of this.#pages.entries()) {
      for (const { start, columns, reasons, speeds } of pages.values()) {
        const at = { level, spindle: this.number, start };
        for (const [column, chunk] of columns.entries()) if (chunk.dirty) yield { ...at, column, body: chunk.pack() };
        if (reasons.dirty) yield { ...at, column: REASONS_COLUMN, body: reasons.pack() };
        if (speeds?.dirty === true) yield { ...at, column: SPEEDS_COLUMN, body: speeds.pack() };
      }
    }
  }

  dirtySpindle(): readonly SpindleRow[] {
    if (!this.#changed) return [];
    return [{ number: this.number, id: this.id, loads: this.#loads, lastLoadAt: this.#lastLoadAt }];
  }

  dirtyLoads(): readonly LoadRow[] {
    return this.#newLoads;
  }

  /** After the flush's commit: what is not in use any more leaves memory. */
  flushed(): void {
    this.#newLoads = [];
    this.#changed = false;
    for (const [level, pages] of this.#pages.entries()) {
      const last = this.#last[level];
      pages.clear();
      if (last === undefined) continue;
      for (const chunk of last.columns) chunk.dirty = false;
      last.reasons.dirty = false;
      if (last.speeds !== undefined) last.speeds.dirty = false;
      pages.set(last.start, last);
    }
  }

  #pagesOf(level: Level, { from, to }: { from: Instant; to: Instant }): readonly Page[] {
    const first = chunkStart(level, from);
    return [...(this.#pages[level.number]?.values() ?? [])].filter((page) => page.start >= first && page.start < to);
  }

  /** What is in memory too is newer there. */
  #storedOf(level: Level, { column, from, to }: { column: number; from: Instant; to: Instant }) {
    const at = { level: level.number, spindle: this.number, column };
    const pages = this.#pages[level.number];
    return this.#tables.chunks(at, chunkStart(level, from), to).filter(({ start }) => pages?.has(start) !== true);
  }

  #pageAt(level: Level, at: Instant): Page {
    const start = chunkStart(level, at);
    const last = this.#last[level.number];
    if (last?.start === start) return last;
    const pages = this.#pages[level.number] ?? new Map<Instant, Page>();
    const page = pages.get(start) ?? this.#readPage(level, start);
    pages.set(start, page);
    this.#last[level.number] = page;
    return page;
  }

  #readPage({ number, perChunk }: Level, start: Instant): Page {
    const columns = SERIES_QUANTITIES.map((_, column) => {
      const body = this.#tables.chunk(number, this.number, column, start);
      return body === undefined ? new Chunk(perChunk) : Chunk.unpack(body, perChunk);
    });
    const reasons = this.#tables.chunk(number, this.number, REASONS_COLUMN, start);
    const speeds = this.#tables.chunk(number, this.number, SPEEDS_COLUMN, start);
    return {
      start,
      columns,
      reasons: reasons === undefined ? new ReasonChunk(perChunk) : ReasonChunk.unpack(reasons, perChunk),
      speeds: speeds === undefined ? undefined : SpeedChunk.unpack(speeds),
    };
  }
}

/**
 * Whether a minute is one of several speeds, or one of readings of which only some tell of the spindle, with this reading at the
 * latest; with the one that makes it so, what it held before is taken to those that are kept apart. Asked before the reading is
 * taken in.
 */
function isMixedWith(page: Page, bucket: number, values: Reading['values'], tells: boolean): boolean {
  if (page.speeds?.has(bucket) === true) return true;
  const speeds = page.columns[SPEED_COLUMN];
  if (speeds === undefined || speeds.count[bucket] === 0) return false;
  const told = page.reasons.tells(bucket);
  if (told === tells && (!told || isOneSpeed(speeds, bucket, values[SPEED_COLUMN] ?? 0))) return false;
  if (told) (page.speeds ??= new SpeedChunk()).addBefore(bucket, page.columns);
  return true;
}

function isOneSpeed(speeds: Chunk, bucket: number, speedRpm: number): boolean {
  const least = Math.min(speeds.min[bucket] ?? 0, speedRpm);
  return Math.max(speeds.max[bucket] ?? 0, speedRpm) <= least * (1 + ONE_SPEED_SHARE);
}
