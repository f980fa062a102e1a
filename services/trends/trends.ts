// Follows the journal and keeps the levels of each spindle up to date; answers from them. For a thread that has time.
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { AnalysedEntry, EntryOf, Position } from '../../shared/entries.ts';
import type { ReadingFeatures } from '../../shared/outcomes.ts';
import type { MonthHappened } from '../../shared/month.ts';
import type { RibbonsView, RibbonView } from '../../shared/ribbons.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { Instant } from '../../shared/time.ts';
import type { SeriesView } from '../../shared/views.ts';
import type { RecordPage } from '../../shared/record.ts';
import type { SpectrogramView } from '../../shared/wave-views.ts';
import type { JournalReader, Stretch } from '../journal/index.ts';
import { ribbonView, seriesView } from './answers.ts';
import { gridFor, LEVELS, type Asked } from './levels.ts';
import { monthCounted } from './month-count.ts';
import { measuredAt, readingOf } from './reading.ts';
import type { RecordAsked } from './record-tables.ts';
import { SpindleTrend } from './spindle-trend.ts';
import type { SpeedRange } from './steady-minutes.ts';
import { TrendTables } from './tables.ts';
import {
  spectrogramView,
  windowsFound,
  type SpectrogramAsked,
  type WindowsAsked,
  type WindowsFound,
} from './window-answers.ts';
import { WINDOWS_PER_SPINDLE_MAX, type FoundWindow } from './window-tables.ts';

export interface SeriesAsked extends Asked {
  readonly spindleId: string;
  readonly quantity: SeriesQuantity;
  /** Only readings at these speeds that tell of the spindle; all without it. */
  readonly speeds?: SpeedRange;
}

/** A month, or as much of it as has passed. */
export interface MonthAsked {
  readonly from: Instant;
  readonly to: Instant;
}

export interface RibbonsAsked extends Asked {
  /** Only these; all without it. */
  readonly spindleIds?: readonly string[];
}

/** Pages in memory beyond two of each spindle's levels: with more, what is there is written down before more is read. */
const MORE_PAGES_MAX = 2000;
/** The present is written down this often; what a stop loses of it is read from the journal again. */
const FLUSH_MS = 60_000;
/** Long reading lets questions in between. */
const TURN_MS = 20;

export type JournalFollowed = Pick<JournalReader, 'read' | 'head' | 'wavesOf'>;

export class Trends {
  readonly #journal: JournalFollowed;
  readonly #tables: TrendTables;
  readonly #spindles = new Map<string, SpindleTrend>();
  #position: Position;
  #flushedAt = performance.now();
  #underWay: Promise<Position> | undefined;
  #stopping = false;
  /** Of what the journal had at the start not all was read yet. */
  #isBehind = true;
  /** How far the journal goes that is being read. */
  #end: Position;
  #name: string;

  private constructor(
    journal: JournalFollowed,
    tables: TrendTables,
    { name, end }: { readonly name: string; readonly end: Position },
  ) {
    this.#end = end;
    this.#journal = journal;
    this.#name = name;
    this.#tables = tables;
    this.#position = tables.position;
    for (const row of tables.spindles()) this.#spindles.set(row.id, new SpindleTrend(tables, row, true));
  }

  static async open(journal: JournalFollowed, file: string): Promise<Trends> {
    const { position } = await journal.head();
    const name = await nameOf(journal);
    return new Trends(journal, TrendTables.open(file, name, position), { name, end: position });
  }

  get position(): Position {
    return this.#position;
  }

  /** Reads what the journal has more of; a second call while it reads waits for the same. */
  catchUp(): Promise<Position> {
    this.#underWay ??= this.#read().finally(() => {
      this.#underWay = undefined;
    });
    return this.#underWay;
  }

  series({ spindleId, ...asked }: SeriesAsked): SeriesView {
    return { ...seriesView(this.#spindles.get(spindleId), asked), ...this.#stillRead() };
  }

  /** Whose samples are still kept the journal knows, which drops them. */
  async windows(asked: WindowsAsked): Promise<WindowsFound> {
    const { rows, more } = windowsFound(this.#tables.windows, asked);
    const from = Math.min(...rows.map(({ waveId }) => waveId));
    const wanted = { spindleId: asked.spindleId, from, limit: WINDOWS_PER_SPINDLE_MAX };
    const kept = new Set(rows.length === 0 ? [] : await this.#journal.wavesOf(wanted));
    return { waves: rows.map((row) => ({ ...row, kept: kept.has(row.waveId) })), more, ...this.#stillRead() };
  }

  async window(id: Position): Promise<FoundWindow | undefined> {
    const row = this.#tables.windows.row(id);
    if (row === undefined) return undefined;
    const [kept] = await this.#journal.wavesOf({ spindleId: row.spindleId, from: id, limit: 1 });
    return { ...row, kept: kept === id };
  }

  spectrogram(asked: SpectrogramAsked): SpectrogramView {
    return { ...spectrogramView(this.#tables.windows, asked), ...this.#stillRead() };
  }

  month({ from, to }: MonthAsked): MonthHappened {
    return { ...monthCounted(this.#tables.months.rows(from, to), { from, to }), ...this.#stillRead() };
  }

  record(asked: RecordAsked): RecordPage {
    return { ...this.#tables.record.lines(asked), ...this.#stillRead() };
  }

  /** Many spindles take a while: other questions are let in between. */
  async ribbons({ spindleIds, ...asked }: RibbonsAsked): Promise<RibbonsView> {
    const wanted = spindleIds === undefined ? undefined : new Set(spindleIds);
    const ribbons: RibbonView[] = [];
    let turn = performance.now();
    for (const [id, spindle] of this.#spindles) {
      if (wanted?.has(id) === false) continue;
      ribbons.push(ribbonView(spindle, asked));
      if (performance.now() - turn < TURN_MS) continue;
      await nextTurn();
      turn = performance.now();
    }
    return { bucketMs: gridFor(asked).bucketMs, spindles: ribbons, ...this.#stillRead() };
  }

  /** Reading stops where it is; the rest is read at the next start. */
  async close(): Promise<void> {
    this.#stopping = true;
    await this.#underWay;
    this.#flush();
    this.#tables.close();
  }

  async #read(): Promise<Position> {
    const { position: end } = await this.#journal.head();
    this.#end = end;
    if (end > this.#position) {
      let turn = performance.now();
      for await (const stretch of this.#journal.read(this.#position + 1, end)) {
        this.#take(stretch);
        if (performance.now() - turn < TURN_MS) continue;
        if (this.#hasManyPages()) this.#flush();
        await nextTurn();
        if (this.#stopping) return this.#position;
        turn = performance.now();
      }
      if (this.#name === EMPTY) this.#name = await nameOf(this.#journal);
    }
    this.#isBehind = false;
    if (performance.now() - this.#flushedAt > FLUSH_MS) this.#flush();
    return this.#position;
  }

  #take(stretch: Stretch): void {
    const { entries, outcomes } = stretch;
    this.#tables.months.take(stretch);
    const features = new Map<Position, ReadingFeatures>();
    for (const outcome of outcomes) {
      if (outcome.kind === 'reading-features') features.set(outcome.cause, outcome.features);
    }
    const windows: (EntryOf<'wave'> | AnalysedEntry)[] = [];
    for (const entry of entries) {
      if (entry.kind === 'wave' || entry.kind === 'analysed') windows.push(entry);
      if (entry.kind === 'summary') {
        const reading = readingOf(entry, features.get(entry.position));
        if (reading !== undefined) this.#spindle(reading.spindleId).add(reading);
      } else if (entry.kind === 'load') {
        const { action, assemblyId, spindleId } = entry.data;
        // Loads count however late they come.
        this.#spindle(spindleId).addLoad(measuredAt(entry, true), action === 'load' ? assemblyId : undefined);
      }
      this.#position = entry.position;
    }
    this.#tables.windows.take(windows);
    this.#tables.record.take(entries, outcomes);
  }

  /** Only after a start: what comes later is read within a second or two. */
  #stillRead(): { readonly stillReadPercent?: number } {
    if (!this.#isBehind || this.#position >= this.#end) return {};
    return { stillReadPercent: Math.floor((100 * this.#position) / this.#end) };
  }

  #spindle(id: string): SpindleTrend {
    const known = this.#spindles.get(id);
    if (known !== undefined) return known;
    const row = { number: this.#spindles.size + 1, id, loads: 0, lastLoadAt: 0 };
    const spindle = new SpindleTrend(this.#tables, row, false);
    this.#spindles.set(id, spindle);
    return spindle;
  }

  #hasManyPages(): boolean {
    let pages = 0;
    for (const spindle of this.#spindles.values()) pages += spindle.pagesInMemory;
    return pages > 2 * LEVELS.length * this.#spindles.size + MORE_PAGES_MAX;
  }

  #flush(): void {
    const spindles = [...this.#spindles.values()];
    this.#tables.flush({
      position: this.#position,
      journal: this.#name,
      chunks: allOf(spindles, (spindle) => spindle.dirtyChunks()),
      spindles: allOf(spindles, (spindle) => spindle.dirtySpindle()),
      loads: allOf(spindles, (spindle) => spindle.dirtyLoads()),
    });
    for (const spindle of spindles) spindle.flushed();
    this.#flushedAt = performance.now();
  }
}

function* allOf<T>(spindles: readonly SpindleTrend[], rows: (spindle: SpindleTrend) => Iterable<T>): Generator<T> {
  for (const spindle of spindles) yield* rows(spindle);
}

const EMPTY = 'empty';

/** Tells one journal from another by how it begins. */
async function nameOf(journal: JournalFollowed): Promise<string> {
  for await (const { entries } of journal.read(1, 1)) {
    const [first] = entries;
    if (first !== undefined) return `${first.kind} at ${first.at}`;
  }
  return EMPTY;
}
