// The rows of a file before anything is known to be right of them: which kind, on which line, with which fields.
import type * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import type { LimitFileFault } from '../../shared/limits-import.ts';

export const ROW_KINDS = ['limits', 'zones', 'bearings'] as const;
export type RowKind = (typeof ROW_KINDS)[number];

export interface RawRow {
  readonly kind: RowKind;
  readonly line: number;
  /** Where a field stands; the row's own line where it is missing. */
  readonly lineOf: (field: string) => number;
  readonly fields: Readonly<Record<string, unknown>>;
}

export interface RawFile {
  readonly rows: readonly RawRow[];
  readonly faults: readonly LimitFileFault[];
}

/** Rows of one file; a plant has thousands of spindles, and what is more is a mistake. */
export const ROWS_MAX = 20_000;

export const LIMIT_FIELDS = [
  'spindleId',
  'quantity',
  'fromSpeedRpm',
  'toSpeedRpm',
  'limitMmS',
  'source',
  'sourceDate',
] as const;

const SHOWN_MAX = 60;

/** What stands in the file, short enough to be said. */
export function shown(value: unknown): string {
  if (value === undefined) return '';
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? '');
  return text.length > SHOWN_MAX ? `${text.slice(0, SHOWN_MAX)}…` : text;
}

/** As a person goes through the file. What has no line comes first. */
export function inLineOrder<T extends { readonly line: number }>(faults: readonly T[]): readonly T[] {
  return faults.toSorted((a, b) => a.line - b.line);
}

interface FieldWanted {
  readonly path: readonly PropertyKey[];
  readonly want: string;
}

/** Each field that nobody knows is a fault of its own, on its own line; the schema tells them together, of what holds them. */
export function fieldsOf(issue: z.core.$ZodIssue): readonly FieldWanted[] {
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({ path: [...issue.path, key], want: say`no field named ${key}` }));
  return [{ path: issue.path, want: issue.message.replace(/^expected /, '') }];
}
