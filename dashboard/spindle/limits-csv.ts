// Limits as the CSV that can be imported again, of one spindle to be changed by hand or of many. Pure.
import type { LimitView } from './spindle-rows.ts';

const FIELDS = ['spindleId', 'quantity', 'fromSpeedRpm', 'toSpeedRpm', 'limitMmS', 'source', 'sourceDate'] as const;

/** With a head; without limits the head alone. */
export function csvOf(spindleId: string, limits: readonly LimitView[]): string {
  return csvOfMany([{ spindleId, limits }]);
}

export function csvOfMany(
  spindles: readonly { readonly spindleId: string; readonly limits: readonly LimitView[] }[],
): string {
  const rows = spindles.flatMap(({ spindleId, limits }) =>
    limits.map((limit) => FIELDS.map((field) => cell(field === 'spindleId' ? spindleId : limit[field]))),
  );
  return [FIELDS, ...rows].map((row) => row.join(',')).join('\n') + '\n';
}

/** Quoted where it holds what parts cells (RFC 4180). */
function cell(value: string | number | undefined): string {
  const text = value === undefined ? '' : String(value);
  return /[",\n\r#]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
