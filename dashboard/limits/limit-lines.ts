// What is declared of the spindles as lines of one table, in an order that stays; what of it is looked for, and what is missing. Pure.
import type { DeclaredLimits, DeclaredRow } from '../../shared/declared-limits.ts';
import { asCounted } from '../floor/floor-order.ts';
import type { LimitView } from '../spindle/spindle-rows.ts';

interface OfSpindle {
  readonly row: DeclaredRow;
}

export type LimitLine = OfSpindle &
  (
    | { readonly kind: 'maximum'; readonly maxSpeedRpm: number }
    | { readonly kind: 'limit'; readonly limit: LimitView }
    | { readonly kind: 'zones'; readonly zones: NonNullable<DeclaredRow['zones']> }
    | { readonly kind: 'none' }
  );

export interface Wanted {
  readonly cell?: string | undefined;
  readonly find?: string | undefined;
  readonly onlyMissing: boolean;
}

/** By cell and name as people count; those that belong to no cell come first, for somebody has to declare them. */
export function inOrder(rows: readonly DeclaredRow[]): readonly DeclaredRow[] {
  return rows.toSorted((a, b) => asCounted(a.cell ?? '', b.cell ?? '') || asCounted(a.spindleId, b.spindleId));
}

/** Of one spindle: its maximum, the limits by quantity and speed, its table; one that says so where there is nothing. */
export function linesOf(row: DeclaredRow): readonly LimitLine[] {
  const limits = row.limits.toSorted(
    (a, b) =>
      a.quantity.localeCompare(b.quantity, 'en') || a.fromSpeedRpm - b.fromSpeedRpm || a.toSpeedRpm - b.toSpeedRpm,
  );
  const lines: readonly LimitLine[] = [
    ...(row.maxSpeedRpm === undefined ? [] : [{ row, kind: 'maximum', maxSpeedRpm: row.maxSpeedRpm } as const]),
    ...(isUnlimited(row) ? [{ row, kind: 'none' } as const] : []),
    ...limits.map((limit) => ({ row, kind: 'limit', limit }) as const),
    ...(row.zones === undefined ? [] : [{ row, kind: 'zones', zones: row.zones } as const]),
  ];
  return lines;
}

/** Neither a limit nor a table of zones: its vibration raises no hold by a limit. */
export const isUnlimited = ({ limits, zones }: DeclaredRow): boolean => limits.length === 0 && zones === undefined;

const undated = ({ source, sourceDate }: { readonly source: string; readonly sourceDate?: string | undefined }) =>
  source.trim() === '' || sourceDate === undefined;

export interface Missing {
  readonly undeclared: readonly DeclaredRow[];
  readonly unlimited: readonly DeclaredRow[];
  /** Some limit or table of it names no source, or no day of it. */
  readonly undated: readonly DeclaredRow[];
  readonly withoutMaximum: readonly DeclaredRow[];
  /** Judged by a general table of machines alone. */
  readonly generic: readonly DeclaredRow[];
}

export function missingOf({ spindles }: Pick<DeclaredLimits, 'spindles'>): Missing {
  const rows = inOrder(spindles);
  const declared = rows.filter((row) => row.declaredAt !== undefined);
  return {
    undeclared: rows.filter((row) => row.declaredAt === undefined),
    unlimited: declared.filter(isUnlimited),
    undated: declared.filter(isUndated),
    withoutMaximum: declared.filter((row) => row.maxSpeedRpm === undefined),
    generic: declared.filter((row) => row.limits.length === 0 && row.zones?.generic === true),
  };
}

const isUndated = ({ limits, zones }: DeclaredRow): boolean =>
  limits.some(undated) || (zones !== undefined && undated(zones));

const lacks = (row: DeclaredRow): boolean => isUnlimited(row) || isUndated(row) || row.maxSpeedRpm === undefined;

/** What fits all that is looked for; text is found in names, machines, sources and who entered it, whatever its case. */
export function wantedLines(rows: readonly DeclaredRow[], { cell, find, onlyMissing }: Wanted): readonly LimitLine[] {
  const sought = find?.trim().toLowerCase() ?? '';
  return rows
    .filter((row) => (cell === undefined || row.cell === cell) && (!onlyMissing || lacks(row)))
    .flatMap(linesOf)
    .filter((line) => sought === '' || textOf(line).includes(sought));
}

function textOf(line: LimitLine): string {
  const { row } = line;
  const said = line.kind === 'limit' ? line.limit : line.kind === 'zones' ? line.zones : undefined;
  const entered = said === undefined ? row.declaredBy : said.enteredBy;
  return [row.spindleId, row.machine, row.cell, row.interface, said?.source, entered].join('\n').toLowerCase();
}

/** Whole spindles that are in the lines, for a file: a part of what is declared of a quantity would replace all of it. */
export function spindlesOf(lines: readonly LimitLine[]): readonly DeclaredRow[] {
  return [...new Set(lines.map(({ row }) => row))];
}
