// The readings of a stretch as columns, without an object for each: for going over millions of them in seconds.
import type { Entry, Position } from '../../shared/entries.ts';
import { NOT_COMPARABLE_REASONS, type Outcome } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { StretchRow } from './appender.ts';
import { ColumnBlock, type SummaryColumns } from './column-block.ts';
import { OutcomeColumns } from './outcomes.ts';
import { unpacked } from './packing.ts';
import { rowsBetween, type FindStretches } from './stretches.ts';

/** What the rules made of a reading is not told: it was never decided, or its rules failed. */
export const NO_FEATURES = 255;
/** It could be compared. */
export const COMPARABLE_CODE = 0;

/** The code of a reason in `reasons`. */
export const reasonCode = (reason: (typeof NOT_COMPARABLE_REASONS)[number]): number =>
  NOT_COMPARABLE_REASONS.indexOf(reason) + 1;

/** One stretch. Columns are good until the next one is asked for. */
export interface ReadingColumns {
  readonly first: Position;
  readonly count: number;
  /** Arrival of each entry, ms UTC, by its place. */
  readonly ats: Float64Array;
  readonly summaries: SummaryColumns;
  /** By an entry's place: 0 comparable, the code of the reason why not, or NO_FEATURES. */
  readonly reasons: Uint8Array;
  /** All that is no reading, in order; and what the rules made beside the features, in order. */
  readonly others: readonly Entry[];
  readonly outcomes: readonly Exclude<Outcome, { kind: 'reading-features' }>[];
}

/** Stretches that hold positions from `from` to `to`; the first and the last may reach beyond them. */
export async function* readColumns(
  find: FindStretches,
  from: Position,
  to: Position,
): AsyncGenerator<ReadingColumns, void> {
  for await (const row of rowsBetween(find, Math.max(1, from), to)) yield columnsOf(row);
}

/** Of a row whose bytes may be packed still. */
export function columnsOf(row: StretchRow): ReadingColumns {
  const block = new ColumnBlock(unpacked(row.entries), row.first);
  const reasons = new Uint8Array(block.count).fill(NO_FEATURES);
  const outcomes =
    row.outcomes === undefined ? [] : new OutcomeColumns(unpacked(row.outcomes), row.first).read(reasons);
  const { first, count } = row;
  return { first, count, ats: block.ats, summaries: block.summaries, reasons, others: block.others, outcomes };
}

/** The first position that arrived at an instant or later, one past the head where none did: times never go back. */
export async function positionFrom(find: FindStretches, head: Position, at: Instant): Promise<Position> {
  let low = 1;
  let high = head + 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const [row] = await find(middle, 1);
    if (row === undefined) return low;
    if (row.atLast < at) low = row.first + row.count;
    else if (row.atFirst >= at) high = row.first;
    else {
      const { ats } = new ColumnBlock(unpacked(row.entries), row.first);
      const place = ats.findIndex((arrived) => arrived >= at);
      return row.first + place;
    }
  }
  return low;
}
