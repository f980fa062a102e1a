// Raw windows in PostgreSQL: what the journal's one statement writes of them, and what can be asked.
import type { Client, Pool } from 'pg';
import type { Position, WaveKept } from '../../shared/entries.ts';
import type { WaveChange, WaveNew, WaveReads, WavesOfSpindle, WaveStored } from './waves.ts';

type Cells = Omit<WaveStored, 'position' | 'wave' | 'body'> & {
  readonly position: string;
  readonly wave: string;
  readonly body: Buffer | null;
};

/** Parts of the statement that appends; `from` is the number of the first of their eleven parameters. */
export function waveClauses(from: number): string {
  const $ = (place: number, type: string): string => `$${from + place}::${type}[]`;
  return `windows AS (
    INSERT INTO waves (position, at, measured_at, device, spindle, state, packing, bytes, wave, body)
    SELECT w.position, w.at, w.measured_at, w.device, w.spindle, 'waiting', 'plain', length(w.body), w.wave, w.body
    FROM unnest(${$(0, 'bigint')}, ${$(1, 'float8')}, ${$(2, 'float8')}, ${$(3, 'text')}, ${$(4, 'text')},
      ${$(5, 'text')}, ${$(6, 'bytea')}) AS w (position, at, measured_at, device, spindle, wave, body)
  ), made AS (
    UPDATE waves SET state = m.state, summary = m.summary,
      packing = CASE WHEN m.packed IS NULL OR waves.body IS NULL THEN waves.packing ELSE 'packed' END,
      bytes = CASE WHEN m.packed IS NULL OR waves.body IS NULL THEN waves.bytes ELSE length(m.packed) END,
      body = CASE WHEN m.packed IS NULL OR waves.body IS NULL THEN waves.body ELSE m.packed END
    FROM unnest(${$(7, 'bigint')}, ${$(8, 'text')}, ${$(9, 'bytea')}, ${$(10, 'bigint')})
      AS m (position, state, packed, summary)
    WHERE waves.position = m.position
  )`;
}

export function waveValues(waves: readonly WaveNew[], changes: readonly WaveChange[]): readonly unknown[] {
  return [
    waves.map(({ position }) => position),
    waves.map(({ at }) => at),
    waves.map(({ measuredAt }) => measuredAt),
    waves.map(({ device }) => device),
    waves.map(({ spindleId }) => spindleId),
    waves.map(({ wave }) => JSON.stringify(wave)),
    waves.map(({ body }) => Buffer.from(body.buffer, body.byteOffset, body.length)),
    changes.map(({ position }) => position),
    changes.map(({ state }) => state),
    changes.map(({ packed }) =>
      packed === undefined ? null : Buffer.from(packed.buffer, packed.byteOffset, packed.length),
    ),
    changes.map(({ summary }) => summary ?? null),
  ];
}

export async function dropWaves(client: Client, positions: readonly Position[]): Promise<void> {
  await client.query('UPDATE waves SET body = NULL, bytes = 0 WHERE position = ANY ($1::bigint[])', [positions]);
}

const KNOWN = 'position, at, measured_at AS "measuredAt", device, spindle AS "spindleId", state, packing, wave';
const WHOLE = `SELECT ${KNOWN}, body FROM waves`;

export function postgresWaves(pool: Pool): WaveReads {
  return {
    waveAt: async (position) => {
      const { rows } = await pool.query<Cells>(`${WHOLE} WHERE position = $1`, [position]);
      return rows[0] && waveStored(rows[0]);
    },
    waveKnownAt: async (position) => {
      const { rows } = await pool.query<Omit<Cells, 'body'>>(`SELECT ${KNOWN} FROM waves WHERE position = $1`, [
        position,
      ]);
      const [row] = rows;
      return row && { ...row, position: Number(row.position), wave: JSON.parse(row.wave) as WaveKept };
    },
    wavesWaiting: async ({ after, limit }) => {
      const text = `${WHOLE} WHERE state = 'waiting' AND bytes > 0 AND position > $1 ORDER BY position LIMIT $2`;
      return (await pool.query<Cells>(text, [after, limit])).rows.map(waveStored);
    },
    wavesKept: async ({ after, limit }) => {
      const { rows } = await pool.query<{
        position: string;
        spindleId: string;
        state: WaveStored['state'];
        bytes: number;
      }>(
        `SELECT position, spindle AS "spindleId", state, bytes FROM waves
         WHERE bytes > 0 AND position > $1 ORDER BY position LIMIT $2`,
        [after, limit],
      );
      return rows.map((row) => ({ ...row, position: Number(row.position) }));
    },
    wavesOf: (wanted) => wavesOf(pool, wanted),
    wavesBehind: async (positions) => {
      const { rows } = await pool.query<{ position: string }>(
        `SELECT position FROM waves WHERE bytes > 0 AND (position = ANY ($1::bigint[]) OR summary = ANY ($1::bigint[]))
         ORDER BY position`,
        [positions],
      );
      return rows.map(({ position }) => Number(position));
    },
    waveRoom: async () => {
      const { rows } = await pool.query<{ windows: string; bytes: string; waiting: string; skipped: string }>(
        `SELECT count(*) AS windows, coalesce(sum(bytes), 0) AS bytes,
           (SELECT count(*) FROM waves WHERE state = 'waiting' AND bytes > 0) AS waiting,
           (SELECT count(*) FROM waves WHERE state = 'skipped') AS skipped FROM waves WHERE bytes > 0`,
      );
      const { windows = 0, bytes = 0, waiting = 0, skipped = 0 } = rows[0] ?? {};
      return { windows: Number(windows), bytes: Number(bytes), waiting: Number(waiting), skipped: Number(skipped) };
    },
  };
}

async function wavesOf(pool: Pool, wanted: WavesOfSpindle): Promise<readonly Position[]> {
  const isBefore = 'before' in wanted;
  const [comparison, order] = isBefore ? ['<', 'DESC'] : ['>=', 'ASC'];
  const { rows } = await pool.query<{ position: string }>(
    `SELECT position FROM waves WHERE bytes > 0 AND spindle = $1 AND position ${comparison} $2
     ORDER BY position ${order} LIMIT $3`,
    [wanted.spindleId, isBefore ? wanted.before : wanted.from, wanted.limit],
  );
  return rows.map(({ position }) => Number(position));
}

function waveStored({ position, wave, body, ...cells }: Cells): WaveStored {
  return { ...cells, position: Number(position), wave: JSON.parse(wave) as WaveKept, body: body ?? undefined };
}
