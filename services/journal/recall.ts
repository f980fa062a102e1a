// At open: what is remembered of repeats, from what was written down and the tail behind it.
import type { Position } from '../../shared/entries.ts';
import type { Head } from './index.ts';
import { RECENT_TAIL_ENTRIES } from './limits.ts';
import { RepeatMemory } from './repeats.ts';
import { blockOf, rowsBetween, type FindStretches } from './stretches.ts';

export interface Recalling {
  readonly head: Head;
  /** What was written down of sequences, and the position up to which it counts. */
  readonly saved: { readonly position: Position; readonly record: Uint8Array } | undefined;
  readonly find: FindStretches;
}

/**
 * Sequences are remembered exactly: noting one again changes nothing, so the tail may overlap what was written down.
 * Recent ids are remembered as far as the tail goes back.
 */
export async function recalled({ head, saved, find }: Recalling): Promise<{ memory: RepeatMemory; unsaved: number }> {
  const memory = new RepeatMemory();
  if (saved !== undefined) memory.restore(saved.record);
  const through = saved?.position ?? 0;
  const from = Math.max(0, Math.min(through, head.position - RECENT_TAIL_ENTRIES)) + 1;
  let next = from;
  for await (const row of rowsBetween(find, from, head.position)) {
    const { entries, origins } = blockOf(row);
    memory.recall(entries, origins);
    next = row.first + row.count;
  }
  if (next <= head.position) throw new Error(`the journal holds nothing at position ${next}`);
  return { memory, unsaved: head.position - through };
}
