// The table of raw windows: what each was, what was made of it, its levels. Written as the journal is read; the same twice is one.
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type Database from 'better-sqlite3';
import type { AnalysedEntry, Position, EntryOf } from '../../shared/entries.ts';
import { clockAheadMsOf, deviceTimeOf } from '../../shared/device-time.ts';
import type { Instant } from '../../shared/time.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import type { WaveRow, WaveState } from '../../shared/wave-views.ts';

export const WINDOWS_SCHEMA = `
  CREATE TABLE windows (
    id INTEGER PRIMARY KEY, spindle TEXT NOT NULL, at INTEGER NOT NULL, ahead INTEGER, device TEXT NOT NULL, channel TEXT NOT NULL,
    rate REAL NOT NULL, samples INTEGER NOT NULL, asked TEXT, state TEXT NOT NULL, why TEXT, summary INTEGER,
    overall REAL, speed REAL, analysis BLOB, lowest REAL, per_octave INTEGER, levels BLOB
  );
  CREATE INDEX windows_of_spindle ON windows (spindle, at, id, channel, overall);`;

/** Windows listed per spindle: at one every five minutes ten weeks. Older ones stand in the journal only. */
export const WINDOWS_PER_SPINDLE_MAX = 20_000;
/** They are thrown away in pieces, so that not every window has to look for an older one. */
const THROWN_AWAY_AT_ONCE = 256;

/** A window as the trends know it: whether its samples are still kept they do not. */
export type WindowRow = Omit<WaveRow, 'kept' | 'pinnedBy'>;

/** With its spindle, and whether its samples are kept. */
export type FoundWindow = WindowRow & { readonly spindleId: string; readonly kept: boolean };

/** The part of a window that it takes to choose among many. */
export interface WindowPlace {
  readonly id: Position;
  readonly at: Instant;
  readonly channel: string;
  /** Absent while nothing was made of it, and where its numbers are not to be used. */
  readonly overall: number | null;
}

export interface WindowLevels {
  readonly id: Position;
  readonly at: Instant;
  readonly speed: number | null;
  readonly lowest: number;
  readonly perOctave: number;
  readonly levels: Float32Array;
}

interface StoredRow {
  readonly id: Position;
  readonly spindle: string;
  readonly at: Instant;
  readonly ahead: number | null;
  readonly device: string;
  readonly channel: string;
  readonly rate: number;
  readonly samples: number;
  readonly asked: string | null;
  readonly state: WaveState;
  readonly why: string | null;
  readonly summary: Position | null;
  readonly analysis: Uint8Array | null;
}

interface StoredLevels extends Omit<WindowLevels, 'levels'> {
  readonly levels: Uint8Array;
}

export class WindowTables {
  readonly #database: Database.Database;
  readonly #places: Database.Statement<[string, Instant, Instant], WindowPlace>;
  readonly #row: Database.Statement<[Position], StoredRow>;
  readonly #levels: Database.Statement<[Position], StoredLevels>;
  readonly #put: Database.Statement;
  readonly #made: Database.Statement;
  readonly #trim: Database.Statement<[string, string, number]>;
  /** Windows since the last look at how many there are. */
  readonly #since = new Map<string, number>();

  constructor(database: Database.Database) {
    this.#database = database;
    this.#places = database.prepare(
      'SELECT id, at, channel, overall FROM windows WHERE spindle = ? AND at >= ? AND at < ? ORDER BY at, id',
    );
    this.#row = database.prepare(
      'SELECT id, spindle, at, ahead, device, channel, rate, samples, asked, state, why, summary, analysis FROM windows WHERE id = ?',
    );
    this.#levels = database.prepare(
      'SELECT id, at, speed, lowest, per_octave AS perOctave, levels FROM windows WHERE id = ? AND levels IS NOT NULL',
    );
    this.#put = database.prepare(
      `INSERT OR REPLACE INTO windows (id, spindle, at, ahead, device, channel, rate, samples, asked, state)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 'waiting')`,
    );
    this.#made = database.prepare(
      `UPDATE windows SET state = ?, why = ?, summary = ?, overall = ?, speed = ?, analysis = ?, lowest = ?, per_octave = ?,
       levels = ? WHERE id = ?`,
    );
    this.#trim = database.prepare(
      `DELETE FROM windows WHERE spindle = ? AND id <=
       (SELECT id FROM windows WHERE spindle = ? ORDER BY id DESC LIMIT 1 OFFSET ?)`,
    );
  }

  /** In one commit, in the order of the journal. */
  take(entries: readonly (EntryOf<'wave'> | AnalysedEntry)[]): void {
    if (entries.length === 0) return;
    this.#database.transaction(() => {
      for (const entry of entries) {
        if (entry.kind === 'wave') this.#takeWave(entry);
        else this.#takeAnalysed(entry);
      }
    })();
  }

  /** Oldest first. */
  places(spindleId: string, from: Instant, to: Instant): readonly WindowPlace[] {
    return this.#places.all(spindleId, from, to);
  }

  row(id: Position): Omit<FoundWindow, 'kept'> | undefined {
    const stored = this.#row.get(id);
    if (stored === undefined) return undefined;
    const { spindle, at, ahead, device, channel, rate, samples, asked, state, why, summary, analysis } = stored;
    return {
      waveId: id,
      spindleId: spindle,
      at,
      ...(ahead === null ? {} : { clockAheadMs: ahead }),
      device,
      channel,
      sampleRateHz: rate,
      samples,
      ...(asked === null ? {} : { asked }),
      state,
      ...(why === null ? {} : { why }),
      ...(summary === null ? {} : { summary }),
      ...(analysis === null ? {} : { analysis: unpackedAnalysis(analysis) }),
    };
  }

  levels(id: Position): WindowLevels | undefined {
    const stored = this.#levels.get(id);
    return stored === undefined ? undefined : { ...stored, levels: floatsOf(stored.levels) };
  }

  #takeWave({ position, at, time, device, data }: EntryOf<'wave'>): void {
    const { spindleId, channel, sampleRateHz, asked } = data;
    if (spindleId === undefined) return;
    const [filedAt, ahead] = [deviceTimeOf(at, time), clockAheadMsOf(at, time) ?? null];
    const samples = sampleCountOf(data);
    this.#put.run(position, spindleId, filedAt, ahead, device, channel, sampleRateHz, samples, asked ?? null);
    const since = (this.#since.get(spindleId) ?? 0) + 1;
    this.#since.set(spindleId, since % THROWN_AWAY_AT_ONCE);
    if (since === THROWN_AWAY_AT_ONCE) this.#trim.run(spindleId, spindleId, WINDOWS_PER_SPINDLE_MAX);
  }

  #takeAnalysed({ wave, summary, noReading, outcome }: AnalysedEntry): void {
    if (outcome.kind !== 'analysed') {
      this.#made.run(outcome.kind, outcome.why, summary ?? null, null, null, null, null, null, null, wave);
      return;
    }
    const { levels: told, ...analysis } = outcome.analysis;
    // A scale that is off by a thousand would be the loudest of its stretch, and the only colour in the picture.
    const isUsable = analysis.health.every(({ weight }) => weight !== 'unusable');
    const levels = isUsable ? told : undefined;
    this.#made.run(
      outcome.kind,
      noReading ?? null,
      summary ?? null,
      isUsable ? analysis.overallMmS : null,
      analysis.speedRpm ?? null,
      deflateRawSync(JSON.stringify(analysis)),
      levels?.lowestHz ?? null,
      levels?.bandsPerOctave ?? null,
      levels === undefined ? null : Buffer.from(Float32Array.from(levels.velocityMmS).buffer),
      wave,
    );
  }
}

/** Of journals from before, whose entries still hold the samples. */
function sampleCountOf({ sampleCount, samples, encoding }: EntryOf<'wave'>['data']): number {
  if (sampleCount !== undefined) return sampleCount;
  return Buffer.byteLength(samples ?? '', 'base64') / (encoding === 'int16' ? 2 : 4);
}

function unpackedAnalysis(bytes: Uint8Array): Omit<WaveAnalysis, 'levels'> {
  return JSON.parse(inflateRawSync(bytes).toString()) as Omit<WaveAnalysis, 'levels'>;
}

function floatsOf(bytes: Uint8Array): Float32Array {
  // Bytes from a table may begin anywhere in memory; numbers may not.
  return new Float32Array(Uint8Array.from(bytes).buffer);
}
