// Who was told of a hold, try by try.
import type { ActEntry } from '../../shared/entries.ts';
import type { Floor } from './floor.ts';
import { NOTICES_PER_HOLD_MAX } from './limits.ts';

export function foldNotice(floor: Floor, { data, at }: Extract<ActEntry, { kind: 'notice-try' }>): void {
  const { noticeId, holdId, channel, to, outcome, attempt, detail } = data;
  // A hold that is no longer remembered needs no list of its notices; they stand in the journal.
  if (!floor.holds.has(holdId)) return;
  const known = floor.notices.get(holdId) ?? [];
  const notice = { noticeId, channel, to, outcome, attempt, at, detail };
  floor.notices.set(holdId, [...known, notice].slice(-NOTICES_PER_HOLD_MAX));
}
