// At open: what is remembered of repeats, from what was written down and the tail behind it.
import type { Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import type { Head } from './index.ts';
import { RECENT_TAIL_ENTRIES } from './limits.ts';
import { RepeatMemory } from './repeats.ts';
import { blockOf } from './stretches.ts';

export interface Recalling {
  readonly head: Head;
  readonly saved: { readonly position: Position; readonly record: Uint8Array } | undefined;
  readonly find: (position: Position) => StretchRow | undefined;
}

/**
 * Sequences are remembered exactly: noting one again changes nothing, so the tail may overlap what was written down.
 * Recent ids are remembered as far as the tail goes back.
 */
export function recalled({ head, saved, find }: Recalling): { memory: RepeatMemory; unsaved: number } {
  const memory = new RepeatMemory();
  if (saved !== undefined) memory.restore(saved.record);
  const through = saved?.position ?? 0;
  let next = Math.max(1, Math.min(through, head.position - RECENT_TAIL_ENTRIES) + 1);
  while (next <= head.position) {
    const row = find(next);
    if (row === undefined) throw new Error(`the journal ends at ${head.position} but holds nothing at ${next}`);
    const { entries, origins } = blockOf(row);
    memory.recall(entries, origins);
    next = row.first + row.count;
  }
  return { memory, unsaved: head.position - through };
}
