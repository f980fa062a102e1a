// The first entry that arrived at an instant or later: times never go back along a journal, so it is found by halving.
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { JournalReader } from '../journal/index.ts';

/** One past the last entry where all arrived before. */
export async function positionAt(journal: Pick<JournalReader, 'read' | 'head'>, at: Instant): Promise<Position> {
  const head = await journal.head();
  if (head.at < at) return head.position + 1;
  let low = 1;
  let high = head.position;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if ((await arrivalOf(journal, middle)) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

async function arrivalOf(journal: Pick<JournalReader, 'read'>, position: Position): Promise<Instant> {
  for await (const { entries } of journal.read(position, position)) {
    const [entry] = entries;
    if (entry !== undefined) return entry.at;
  }
  throw new Error(`the journal holds nothing at position ${position}`);
}
