// Reads a file of limits: YAML or CSV, each row held against its schema; every fault with its line and field.
import type * as z from 'zod';
import { LimitMmS, VibrationLimit } from '../../shared/acts.ts';
import { Bearing } from '../../shared/bearing.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { Id } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { LimitFileFault } from '../../shared/limits-import.ts';
import { ZoneTable } from '../../shared/zones.ts';
import { readCsv } from './read-csv.ts';
import { readYaml } from './read-yaml.ts';
import { fieldsOf, inLineOrder, ROWS_MAX, shown, type RawFile, type RawRow } from './rows.ts';

/** A row that is right by itself. */
export interface RowOf<T> {
  readonly spindleId: string;
  readonly line: number;
  readonly lineOf: (field: string) => number;
  readonly value: T;
}

export interface LimitFile {
  readonly limits: readonly RowOf<VibrationLimit>[];
  readonly zones: readonly RowOf<ZoneTable>[];
  readonly bearings: readonly RowOf<Bearing>[];
  readonly faults: readonly LimitFileFault[];
}

/** The first line with anything on it tells CSV: names of fields, parted. */
const CSV_HEAD = /^\uFEFF?"?[A-Za-z]+"?[ \t]*[,;\t]/;

export function readLimitFile(text: string): LimitFile {
  const first = text.split(/\r?\n/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  const raw = CSV_HEAD.test(first) ? readCsv(text) : readYaml(text);
  return checked(raw);
}

/** What was declared may hold a 0, and is read for ever; in a file that a person writes it is a cell that was filled in wrongly. */
const LimitRow = VibrationLimit.extend({
  limitMmS: LimitMmS,
}).strict();

/** Also within: a contact angle by a misspelt name would be taken for none, and the bearing looked for elsewhere. */
const BearingRow = Bearing.safeExtend({
  geometry: Bearing.shape.geometry.unwrap().strict().optional(),
  multiples: Bearing.shape.multiples.unwrap().strict().optional(),
}).strict();

function checked(raw: RawFile): LimitFile {
  const faults = [...raw.faults];
  if (raw.rows.length > ROWS_MAX)
    faults.push({ line: 0, field: '', want: say`at most ${ROWS_MAX} rows`, got: String(raw.rows.length) });
  // A fault of the head would be one of each row too.
  if (raw.rows.length === 0 && faults.length === 0)
    faults.push({ line: 0, field: '', want: say`at least one row`, got: 'none' });
  if (faults.length > 0) return { limits: [], zones: [], bearings: [], faults: inLineOrder(faults) };
  const rows = raw.rows;
  const limits = of(rows, 'limits', LimitRow, faults);
  const zones = of(rows, 'zones', ZoneTable.strict(), faults);
  const bearings = of(rows, 'bearings', BearingRow, faults);
  return { limits, zones, bearings, faults: inLineOrder(faults) };
}

function of<T>(
  rows: readonly RawRow[],
  kind: RawRow['kind'],
  schema: z.ZodType<T>,
  faults: LimitFileFault[],
): readonly RowOf<T>[] {
  return rows.flatMap((row) => {
    if (row.kind !== kind) return [];
    const { spindleId, ...fields } = row.fields;
    const id = Id.safeParse(spindleId, PLAIN);
    const value = schema.safeParse(withDate(fields), PLAIN);
    if (!id.success) faults.push(...faultsIn(row, id.error, ['spindleId']));
    if (!value.success) faults.push(...faultsIn(row, value.error, []));
    if (!id.success || !value.success) return [];
    return [{ spindleId: id.data, line: row.line, lineOf: row.lineOf, value: value.data }];
  });
}

const DATE_WANTED = say`a day such as 2026-03-12, or an RFC 3339 time`;

/** A day stands for its beginning, UTC. */
function withDate(fields: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const { sourceDate } = fields;
  const isDay = typeof sourceDate === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(sourceDate);
  return isDay ? { ...fields, sourceDate: `${sourceDate}T00:00:00Z` } : { ...fields };
}

function faultsIn(row: RawRow, { issues }: z.ZodError, within: readonly string[]): readonly LimitFileFault[] {
  return issues.flatMap(fieldsOf).map((issue) => {
    const path = [...within, ...issue.path.map(String)];
    const field = path.join('.');
    const want = field === 'sourceDate' ? DATE_WANTED : issue.want;
    return { line: row.lineOf(field), field, want, got: shown(at(row, path)) };
  });
}

function at({ fields }: RawRow, path: readonly string[]): unknown {
  let value: unknown = fields;
  for (const name of path) value = typeof value === 'object' && value !== null ? Reflect.get(value, name) : undefined;
  return path.length === 0 ? undefined : value;
}
