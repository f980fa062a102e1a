// A journal in SQLite full of readings of many spindles, as the plant itself would have written it, and the same readings as plain rows.
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { deviceSource } from '../../../shared/envelope.ts';
import type { Draft } from '../../../shared/entries.ts';
import { openKeeper } from '../../../services/holds/index.ts';
import { openJournal, type Arrival } from '../../../services/journal/index.ts';

export const HISTORY_PLANT = 'bench';
const START = Date.UTC(2026, 0, 5, 6);
const INTERVAL_MS = 60_000;
const BATCH = 2000;
/** A tool stays for a shift. */
const LOAD_EVERY_ROUNDS = 480;
const SPEEDS_RPM = [8000, 12_000, 18_000];

export interface ReadingHistory {
  readonly file: string;
  readonly rowsFile: string;
  readonly readings: number;
}

/** Every spindle in turn, one reading a minute, a load each shift; no limit is exceeded. The same numbers give the same history. */
export async function writeHistory(folder: string, spindles: number, readings: number): Promise<ReadingHistory> {
  const file = join(folder, `${spindles}-${readings}.sqlite`);
  const rowsFile = join(folder, `${spindles}-${readings}-rows.sqlite`);
  const journal = await openJournal({ store: 'sqlite', file });
  const keeper = await openKeeper({ journal, plant: HISTORY_PLANT, zone: 'UTC', invented: true });
  const rows = plainRows(rowsFile);
  const put = async (arrivals: readonly Arrival[]): Promise<void> => {
    await journal.append(arrivals, (entries) => keeper.decide(entries));
    rows.add(arrivals);
  };
  await put(declarations(spindles));
  let batch: Arrival[] = [];
  for (let n = 0; n < readings; n += 1) {
    const spindle = n % spindles;
    const round = Math.floor(n / spindles);
    if (round % LOAD_EVERY_ROUNDS === 0) batch.push(load(spindle, round));
    batch.push(reading(spindle, round, n));
    if (batch.length < BATCH) continue;
    await put(batch);
    batch = [];
    if (n % (100 * BATCH) < BATCH) await journal.compact();
  }
  await put(batch);
  await journal.compact();
  await journal.close();
  rows.close();
  return { file, rowsFile, readings };
}

const nameOf = (spindle: number): string => `S-${String(spindle + 1).padStart(4, '0')}`;
const atOf = (spindle: number, round: number): number => START + round * INTERVAL_MS + spindle;

function declarations(spindles: number): Arrival[] {
  const actor = { name: 'bench-engineer', roles: ['engineer' as const] };
  const source = 'invented for the bench';
  return Array.from({ length: spindles }, (_, spindle): Arrival => {
    const limits = [
      { quantity: 'overall' as const, fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 4.5, source },
      { quantity: 'synchronous' as const, fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 2.8, source },
    ];
    const data = { spindleId: nameOf(spindle), machine: `M-${spindle}`, cell: 'bench', limits, maxSpeedRpm: 24_000 };
    return { draft: { kind: 'spindle-declared', at: START - 1000, id: `d-${spindle}`, actor, data } };
  });
}

function load(spindle: number, round: number): Arrival {
  const data = { spindleId: nameOf(spindle), action: 'load' as const, assemblyId: `A-${spindle}-${round % 4}` };
  const draft: Draft = { kind: 'load', at: atOf(spindle, round), device: `machine-${spindle}`, id: `l-${round}`, data };
  return { draft };
}

/** Steady, not cutting, well beneath its limits; the scatter is a fixed sequence. */
function reading(spindle: number, round: number, n: number): Arrival {
  const device = `sensor-${spindle}`;
  const at = atOf(spindle, round);
  const speedRpm = SPEEDS_RPM[Math.floor(round / 97) % SPEEDS_RPM.length] ?? 8000;
  const scatter = (Math.imul(n ^ (n >>> 7), 0x9e3779b1) >>> 0) / 2 ** 32;
  const data = {
    spindleId: nameOf(spindle),
    speedRpm: speedRpm + Math.round(10 * scatter),
    overallMmS: 0.7 + 0.2 * scatter,
    synchronousMmS: 0.3 + 0.1 * scatter,
    secondOrderMmS: 0.05 + 0.02 * scatter,
    accelerationRmsMS2: 4 + scatter,
    cutting: false,
    steady: true,
  };
  const bootId = 'bench';
  const draft: Draft = { kind: 'summary', at, device, id: '', time: at - 40, bootId, sequence: round, data };
  return { draft, repeat: { by: 'sequence', source: deviceSource(HISTORY_PLANT, device), bootId, sequence: round } };
}

/** A row a reading: when, of which spindle, and its five quantities. */
function plainRows(file: string): { add(arrivals: readonly Arrival[]): void; close(): void } {
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = OFF');
  database.exec(
    `CREATE TABLE readings (n INTEGER PRIMARY KEY, at REAL, spindle INTEGER, speed REAL, overall REAL, synchronous REAL,
     second REAL, acceleration REAL)`,
  );
  const insert = database.prepare('INSERT INTO readings VALUES (NULL, ?, ?, ?, ?, ?, ?, ?)');
  const add = database.transaction((arrivals: readonly Arrival[]) => {
    for (const { draft } of arrivals) {
      if (draft.kind !== 'summary') continue;
      const { speedRpm, overallMmS, synchronousMmS, secondOrderMmS, accelerationRmsMS2 } = draft.data;
      const spindle = Number(draft.data.spindleId?.slice(2));
      insert.run(draft.at, spindle, speedRpm, overallMmS, synchronousMmS, secondOrderMmS, accelerationRmsMS2);
    }
  });
  return { add: (arrivals) => add(arrivals), close: () => void database.close() };
}

const PAGE_ROWS = 8192;

/** All of the rows, a page of arrays at a time, each number looked at: what merely reading costs. Gives back how many they were. */
export function scanRows(file: string): { readonly rows: number; readonly sum: number } {
  const database = new Database(file, { readonly: true });
  const page = database
    .prepare<[number, number], readonly number[]>(
      `SELECT n, at, spindle, speed, overall, synchronous, second, acceleration FROM readings
       WHERE n > ? ORDER BY n LIMIT ?`,
    )
    .raw();
  let rows = 0;
  let sum = 0;
  for (let after = 0; ;) {
    const found = page.all(after, PAGE_ROWS);
    for (const row of found) for (let column = 3; column < 8; column += 1) sum += row[column] ?? 0;
    rows += found.length;
    after = found.at(-1)?.[0] ?? after;
    if (found.length < PAGE_ROWS) break;
  }
  database.close();
  return { rows, sum };
}
