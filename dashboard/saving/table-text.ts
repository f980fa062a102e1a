// A table as a file of comma-separated values: RFC 4180, numbers with a point, units in the head. Pure.

export interface TableCells {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export interface Marks {
  readonly group: string;
  readonly decimal: string;
}

/** What the dashboard writes where there is no number. */
const MISSING = '–';
const AMOUNT = /^(?<sign>[-−])?(?<digits>\d[\d.,\u00A0\u202F]*)(?<unit>[\u00A0 ]?[^\d\s][^\d]*)?$/u;
/** A cell that begins so is reckoned by spreadsheet programs: it is kept a text. */
const RECKONED = /^[=+@\t\r]/u;

/** A column of which every cell is a number with the same unit: the unit goes to its head. */
export function tableText({ head, rows }: TableCells, marks: Marks): string {
  const columns = head.map((word, nth) =>
    column(
      word,
      rows.map((row) => row[nth] ?? ''),
      marks,
    ),
  );
  const lines = [columns.map((one) => one.head), ...rows.map((_, row) => columns.map((one) => one.cells[row] ?? ''))];
  return lines.map((line) => `${line.map(quoted).join(',')}\r\n`).join('');
}

function column(head: string, cells: readonly string[], marks: Marks): { head: string; cells: readonly string[] } {
  const read = cells.map((cell) => amountOf(cell, marks));
  const units = new Set(read.flatMap((one) => (one === undefined ? [] : [one.unit])));
  const whole = cells.every((cell, nth) => read[nth] !== undefined || cell === '' || cell === MISSING);
  if (!whole || units.size !== 1)
    return { head, cells: cells.map((cell) => (RECKONED.test(cell) ? `'${cell}` : cell)) };
  const [unit = ''] = units;
  const named = unit === '' || head.endsWith(unit) ? head : `${head}, ${unit}`;
  return {
    head: named,
    cells: read.map((one, nth) => one?.number ?? (cells[nth] === MISSING ? '' : (cells[nth] ?? ''))),
  };
}

/** "1.250,5 mm/s" with German marks is 1250.5 and mm/s. */
export function amountOf(cell: string, { group, decimal }: Marks): { number: string; unit: string } | undefined {
  const { sign, digits = '', unit = '' } = AMOUNT.exec(cell)?.groups ?? {};
  if (digits === '') return undefined;
  const [before = '', after, ...more] = digits.split(decimal);
  if (more.length > 0 || (after !== undefined && !/^\d+$/u.test(after))) return undefined;
  const groups = before
    .split(/[\u00A0\u202F]/u)
    .join(group === '' ? '\u00A0' : group)
    .split(group === '' ? '\u00A0' : group);
  const grouped = groups.length === 1 || groups.every((one, nth) => (nth === 0 ? /^\d{1,3}$/u : /^\d{3}$/u).test(one));
  if (!grouped || !groups.every((one) => /^\d+$/u.test(one))) return undefined;
  return {
    number: `${sign === undefined ? '' : '-'}${groups.join('')}${after === undefined ? '' : `.${after}`}`,
    unit: unit.trim(),
  };
}

const quoted = (cell: string): string => (/[",\r\n]/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
