// The lines of the table of limits as they are shown, as CSV (RFC 4180): maxima and zones too, so it is not the file that is imported. Pure.
import type { LimitLine } from './limit-lines.ts';

const FIELDS = [
  'spindleId',
  'cell',
  'of',
  'fromSpeedRpm',
  'toSpeedRpm',
  'maxSpeedRpm',
  'limitMmS',
  'abMmS',
  'bcMmS',
  'cdMmS',
  'source',
  'sourceDate',
  'generalTable',
  'enteredBy',
  'declaredLastUtc',
] as const;
type Field = (typeof FIELDS)[number];
type Cells = Partial<Readonly<Record<Field, string | number | undefined>>>;

export function shownCsv(lines: readonly LimitLine[]): string {
  const rows = lines.map((line) => {
    const { spindleId, cell: where, declaredAt } = line.row;
    const cells: Cells = {
      spindleId,
      cell: where,
      ...saidOf(line),
      declaredLastUtc: declaredAt === undefined ? undefined : new Date(declaredAt).toISOString(),
    };
    return FIELDS.map((field) => cells[field] ?? '');
  });
  return [FIELDS, ...rows].map((row) => row.map(cell).join(',')).join('\r\n') + '\r\n';
}

function saidOf(line: LimitLine): Cells {
  switch (line.kind) {
    case 'maximum':
      return { of: 'maximum', maxSpeedRpm: line.maxSpeedRpm, enteredBy: line.row.declaredBy };
    case 'limit': {
      const { quantity, ...limit } = line.limit;
      return { of: quantity, ...limit };
    }
    case 'zones': {
      const { generic, ...zones } = line.zones;
      return { of: 'zones', ...zones, generalTable: generic ? 'yes' : 'no' };
    }
    case 'none':
      return { of: 'no limit' };
  }
}

/** What a person typed must not become a formula in a program that opens the file. */
const FORMULA = /^[=+\-@\t\r]/;

function cell(value: string | number): string {
  const text = typeof value === 'string' && FORMULA.test(value) ? `'${value}` : String(value);
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
