// Limits as CSV: a head with the names of the fields, a row for each limit; commas or semicolons, quotes where a text holds one.
import { CsvError, parse } from 'csv-parse/sync';
import { say } from '../../shared/language/index.ts';
import { LIMIT_FIELDS, ROWS_MAX, shown, type RawFile, type RawRow } from './rows.ts';

const NUMBERS: ReadonlySet<string> = new Set(['fromSpeedRpm', 'toSpeedRpm', 'limitMmS']);
const NAMES: ReadonlySet<string> = new Set(LIMIT_FIELDS);

interface Parsed {
  readonly record: readonly string[];
  readonly info: { readonly lines: number };
}

export function readCsv(text: string): RawFile {
  try {
    return rowsOf(parsed(text));
  } catch (failure) {
    if (!(failure instanceof CsvError)) throw failure;
    const line = typeof failure['lines'] === 'number' ? failure['lines'] : 0;
    return {
      rows: [],
      faults: [{ line, field: '', want: say`CSV with closed quotes`, got: failure.message.slice(0, 120) }],
    };
  }
}

function parsed(text: string): readonly Parsed[] {
  const [head = ''] = text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'));
  // A spreadsheet of a land whose decimal sign is the comma parts with semicolons.
  const delimiter = head.includes(';') ? ';' : head.includes('\t') ? '\t' : ',';
  return parse(text, {
    bom: true,
    delimiter,
    comment: '#',
    comment_no_infix: true,
    trim: true,
    skip_empty_lines: true,
    relax_column_count: true,
    info: true,
    to: ROWS_MAX + 2,
  }) as unknown as readonly Parsed[];
}

function rowsOf([head, ...records]: readonly Parsed[]): RawFile {
  if (head === undefined) return { rows: [], faults: [{ line: 0, field: '', want: say`a head and rows`, got: '' }] };
  const names = head.record;
  const faults = names.flatMap((name, place) => {
    const twice = names.indexOf(name) !== place;
    if (NAMES.has(name) && !twice) return [];
    const want = twice ? say`each field once` : say`one of ${LIMIT_FIELDS.join(', ')}`;
    return [{ line: head.info.lines, field: name, want, got: name }];
  });
  const rows = records.map(({ record, info }): RawRow => {
    const fields = Object.fromEntries(names.map((name, place) => [name, valueOf(name, record[place] ?? '')]));
    return { kind: 'limits', line: info.lines, lineOf: () => info.lines, fields };
  });
  const long = records.filter(({ record }) => record.length > names.length);
  return {
    rows,
    faults: [
      ...faults,
      ...long.map(({ record, info }) => ({
        line: info.lines,
        field: '',
        want: say`${names.length} fields as in the head`,
        got: `${record.length}: ${shown(record.join(' | '))}`,
      })),
    ],
  };
}

/** An empty cell is a missing field; what is no plain number stays text, and is refused as such. */
function valueOf(name: string, cell: string): unknown {
  if (cell === '') return undefined;
  return NUMBERS.has(name) && /^[+-]?\d+(\.\d+)?$/.test(cell) ? Number(cell) : cell;
}
