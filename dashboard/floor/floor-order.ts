// The fixed order of the floor: by cell, then by id as people count (S-2 before S-10), so that places are remembered. Pure.
import type { SpindleRow } from '../../shared/views.ts';

export interface Cell {
  readonly cell: string;
  readonly rows: readonly SpindleRow[];
}

/** Beyond this, one ribbon stands for a cell instead of a spindle. */
export const RIBBON_PER_SPINDLE_MAX = 200;

const counting = new Intl.Collator('en', { numeric: true });

export const asCounted = (a: string, b: string): number => counting.compare(a, b);

export function byCell(rows: Iterable<SpindleRow>): Cell[] {
  const cells = new Map<string, SpindleRow[]>();
  for (const row of rows) {
    const known = cells.get(row.cell);
    if (known === undefined) cells.set(row.cell, [row]);
    else known.push(row);
  }
  return [...cells]
    .sort(([a], [b]) => asCounted(a, b))
    .map(([cell, members]) => ({ cell, rows: members.sort((a, b) => asCounted(a.spindleId, b.spindleId)) }));
}

/** Few spindles get tall ribbons, many get ribbons just high enough to be tapped. */
export function ribbonHeight(ribbons: number): number {
  if (ribbons <= 6) return 96;
  return ribbons <= 14 ? 56 : 46;
}

/** How many points of history to ask for: a screen's worth for a few, less for each of many. */
export function pointsFor(spindles: number, widthPx: number): number {
  const share = spindles <= 24 ? 2 : spindles <= 60 ? 4 : spindles <= RIBBON_PER_SPINDLE_MAX ? 8 : 16;
  return Math.max(48, Math.min(600, Math.round(widthPx / share)));
}
