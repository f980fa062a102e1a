// Raw windows in SQLite: written within the journal's commit, read on whichever connection.
import type Database from 'better-sqlite3';
import type { Position, WaveKept } from '../../shared/entries.ts';
import type {
  KeptWave,
  WaveChange,
  WaveKnown,
  WaveNew,
  WaveReads,
  WaveRoom,
  WavesOfSpindle,
  WaveStored,
} from './waves.ts';

type Cells = Omit<WaveStored, 'wave' | 'body'> & { readonly wave: string; readonly body: Uint8Array | null };
type Page = { readonly after: Position; readonly limit: number };

const KNOWN = 'position, at, measured_at AS measuredAt, device, spindle AS spindleId, state, packing, wave';
const WHOLE = `SELECT ${KNOWN}, body FROM waves`;

export class SqliteWaves {
  readonly #database: Database.Database;
  /** By their text: what is asked for each hold is not compiled each time. */
  readonly #statements = new Map<string, unknown>();

  constructor(database: Database.Database) {
    this.#database = database;
  }

  #statement<P extends unknown[] = unknown[], R = unknown>(text: string): Database.Statement<P, R> {
    const known = this.#statements.get(text) as Database.Statement<P, R> | undefined;
    if (known !== undefined) return known;
    const statement = this.#database.prepare<P, R>(text);
    this.#statements.set(text, statement);
    return statement;
  }

  /** Within a transaction that its caller began, like `change`. */
  add(waves: readonly WaveNew[]): void {
    const add = this.#statement(
      `INSERT INTO waves (position, at, measured_at, device, spindle, state, packing, bytes, wave, body)
       VALUES (?, ?, ?, ?, ?, 'waiting', 'plain', ?, ?, ?)`,
    );
    for (const { position, at, measuredAt, device, spindleId, wave, body } of waves) {
      add.run(position, at, measuredAt, device, spindleId, body.length, JSON.stringify(wave), body);
    }
  }

  change(changes: readonly WaveChange[]): void {
    const mark = this.#statement('UPDATE waves SET state = ?, summary = ? WHERE position = ?');
    const pack = this.#statement(
      `UPDATE waves SET packing = 'packed', bytes = ?, body = ? WHERE position = ? AND body IS NOT NULL`,
    );
    for (const { position, state, summary, packed } of changes) {
      mark.run(state, summary ?? null, position);
      if (packed !== undefined) pack.run(packed.length, packed, position);
    }
  }

  drop(positions: readonly Position[]): void {
    const drop = this.#statement('UPDATE waves SET body = NULL, bytes = 0 WHERE position = ?');
    this.#database
      .transaction(() => {
        for (const position of positions) drop.run(position);
      })
      .immediate();
  }

  at(position: Position): WaveStored | undefined {
    const cells = this.#statement<[Position], Cells>(`${WHOLE} WHERE position = ?`).get(position);
    return cells && waveStored(cells);
  }

  knownAt(position: Position): WaveKnown | undefined {
    const text = `SELECT ${KNOWN} FROM waves WHERE position = ?`;
    const cells = this.#statement<[Position], Omit<Cells, 'body'>>(text).get(position);
    return cells && { ...cells, wave: JSON.parse(cells.wave) as WaveKept };
  }

  waiting({ after, limit }: Page): readonly WaveStored[] {
    return this.#statement<[Position, number], Cells>(
      `${WHOLE} WHERE state = 'waiting' AND bytes > 0 AND position > ? ORDER BY position LIMIT ?`,
    )
      .all(after, limit)
      .map(waveStored);
  }

  kept({ after, limit }: Page): readonly KeptWave[] {
    return this.#statement<[Position, number], KeptWave>(
      `SELECT position, spindle AS spindleId, state, bytes FROM waves
         WHERE bytes > 0 AND position > ? ORDER BY position LIMIT ?`,
    ).all(after, limit);
  }

  ofSpindle(wanted: WavesOfSpindle): readonly Position[] {
    const isBefore = 'before' in wanted;
    const [comparison, order] = isBefore ? ['<', 'DESC'] : ['>=', 'ASC'];
    return this.#statement<[string, Position, number], Position>(
      `SELECT position FROM waves WHERE bytes > 0 AND spindle = ? AND position ${comparison} ?
         ORDER BY position ${order} LIMIT ?`,
    )
      .pluck()
      .all(wanted.spindleId, isBefore ? wanted.before : wanted.from, wanted.limit);
  }

  behind(positions: readonly Position[]): readonly Position[] {
    return this.#statement<[string], Position>(
      `WITH asked AS MATERIALIZED (SELECT value FROM json_each(?))
         SELECT position FROM waves WHERE bytes > 0 AND position IN (SELECT value FROM asked)
         UNION SELECT position FROM waves
         WHERE bytes > 0 AND summary IS NOT NULL AND summary IN (SELECT value FROM asked) ORDER BY 1`,
    )
      .pluck()
      .all(JSON.stringify(positions));
  }

  room(): WaveRoom {
    const kept = this.#statement<[], Pick<WaveRoom, 'windows' | 'bytes'>>(
      'SELECT count(*) AS windows, coalesce(sum(bytes), 0) AS bytes FROM waves WHERE bytes > 0',
    ).get();
    const waiting = this.#statement<[], number>(`SELECT count(*) FROM waves WHERE state = 'waiting' AND bytes > 0`)
      .pluck()
      .get();
    const skipped = this.#statement<[], number>(`SELECT count(*) FROM waves WHERE state = 'skipped'`).pluck().get();
    return { windows: kept?.windows ?? 0, bytes: kept?.bytes ?? 0, waiting: waiting ?? 0, skipped: skipped ?? 0 };
  }

  face(): WaveReads {
    return {
      waveAt: async (position) => this.at(position),
      waveKnownAt: async (position) => this.knownAt(position),
      wavesWaiting: async (page) => this.waiting(page),
      wavesKept: async (page) => this.kept(page),
      wavesOf: async (wanted) => this.ofSpindle(wanted),
      wavesBehind: async (positions) => this.behind(positions),
      waveRoom: async () => this.room(),
    };
  }
}

function waveStored({ wave, body, ...cells }: Cells): WaveStored {
  return { ...cells, wave: JSON.parse(wave) as WaveKept, body: body ?? undefined };
}
