// Pure: from a hold, the tries on record and the time now follows the one notice to send next on a channel, or why none.
// Each occasion of a hold is one notice. One that was overtaken before it could be told is not told by itself: the
// later notice carries every step. Later messages that say the same as a hold (its dependents) are never a notice.
import { isOpen } from '../../shared/holds.ts';
import type { HoldView, NoticeView } from '../../shared/views.ts';
import type { Instant } from '../../shared/time.ts';
import { occasionsOf, type NoticeReason } from './occasion.ts';
import type { AlertLimits } from './settings.ts';

/** The last try of a notice. */
export type NoticeSent = Pick<NoticeView, 'outcome' | 'attempt' | 'at'>;

export type NextNotice =
  | { readonly kind: 'send'; readonly noticeId: string; readonly reason: NoticeReason; readonly attempt: number }
  | { readonly kind: 'wait'; readonly noticeId: string; readonly until: Instant }
  /** To be recorded as given up, without another try. */
  | {
      readonly kind: 'give-up';
      readonly noticeId: string;
      readonly attempt: number;
      readonly why: 'overtaken' | 'attempts';
    }
  | { readonly kind: 'nothing'; readonly why: 'told' | 'given-up' | 'end-of-untold' | 'ended-long-ago' };

export type PlanLimits = Pick<AlertLimits, 'firstWaitMs' | 'longestWaitMs' | 'attemptsMax' | 'endToldWithinMs'>;

export function noticeIdOf(holdId: string, occasion: string, channel: string): string {
  return `${holdId}-${occasion}-${channel}`;
}

/** What to do now on this channel about this hold. `tried` knows the last try of each notice id. */
export function nextNotice(
  hold: HoldView,
  channel: string,
  tried: (noticeId: string) => NoticeSent | undefined,
  limits: PlanLimits,
  now: Instant,
): NextNotice {
  const occasions = occasionsOf(hold);
  const { word, reason } = occasions.at(-1) ?? { word: hold.state, reason: hold.state };
  const noticeId = noticeIdOf(hold.holdId, word, channel);
  const earlier = occasions.slice(0, -1).map((one) => noticeIdOf(hold.holdId, one.word, channel));
  for (const id of earlier) {
    const last = tried(id);
    if (last?.outcome === 'failed') return { kind: 'give-up', noticeId: id, attempt: last.attempt, why: 'overtaken' };
  }
  const last = tried(noticeId);
  switch (last?.outcome) {
    case 'sent':
      return { kind: 'nothing', why: 'told' };
    case 'given-up':
      return { kind: 'nothing', why: 'given-up' };
    case 'failed':
    case undefined:
      break;
  }
  if (!isOpen(hold)) {
    // Who was never told that it began need not be told that it ended; and old news is no alert.
    if (last === undefined && !earlier.some((id) => tried(id) !== undefined))
      return { kind: 'nothing', why: 'end-of-untold' };
    if (now - hold.changedAt > limits.endToldWithinMs) return { kind: 'nothing', why: 'ended-long-ago' };
  }
  return nextTry(noticeId, reason, last, limits, now);
}

function nextTry(
  noticeId: string,
  reason: NoticeReason,
  last: NoticeSent | undefined,
  limits: PlanLimits,
  now: Instant,
): NextNotice {
  if (last === undefined) return { kind: 'send', noticeId, reason, attempt: 1 };
  if (last.attempt >= limits.attemptsMax) return { kind: 'give-up', noticeId, attempt: last.attempt, why: 'attempts' };
  // A try from the future (the clock was set back) is waited for no longer.
  const until = last.at > now ? now : last.at + waitAfter(last.attempt, limits);
  return until <= now
    ? { kind: 'send', noticeId, reason, attempt: last.attempt + 1 }
    : { kind: 'wait', noticeId, until };
}

/** Wait in ms after a failed try: doubled each time up to the longest. */
export function waitAfter(attempt: number, { firstWaitMs, longestWaitMs }: PlanLimits): number {
  return Math.min(longestWaitMs, firstWaitMs * 2 ** (attempt - 1));
}
