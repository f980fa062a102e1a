// The lines of the record that are shown, as CSV (RFC 4180). Pure.
import { say } from '../../shared/language/index.ts';
import type { RecordLine } from '../../shared/record.ts';
import type { PlantClock } from '../wording/instants.ts';
import { lineWords } from './line-words.ts';

const FIELDS = ['position', 'ordinal', 'timeUtc', 'kind', 'by', 'what', 'about', 'note'] as const;

export function recordCsv(lines: readonly RecordLine[], clock: PlantClock): string {
  const rows = lines.map((line) => [
    line.position,
    line.ordinal,
    new Date(line.at).toISOString(),
    line.kind,
    line.by ?? say`the rules`,
    lineWords(line, clock),
    line.about.map(({ kind, id }) => `${kind} ${id}`).join('; '),
    line.note ?? '',
  ]);
  return [FIELDS, ...rows].map((row) => row.map(cell).join(',')).join('\r\n') + '\r\n';
}

/** What a person typed must not become a formula in a program that opens the file. */
const FORMULA = /^[=+\-@\t\r]/;

function cell(value: string | number): string {
  const text = typeof value === 'string' && FORMULA.test(value) ? `'${value}` : String(value);
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
