// The last try of each notice: from the journal's views, and from memory until those views have caught up.
import type { Instant } from '../../shared/time.ts';
import type { HoldView } from '../../shared/views.ts';
import type { NoticeSent } from './plan.ts';

/** Beyond it the oldest are forgotten: by then the journal's own views show them. */
const TRIES_REMEMBERED_MAX = 10_000;

export class Tries {
  readonly #made = new Map<string, NoticeSent>();

  made(noticeId: string, outcome: NoticeSent['outcome'], attempt: number, at: Instant): void {
    this.#made.delete(noticeId);
    this.#made.set(noticeId, { outcome, attempt, at });
    if (this.#made.size <= TRIES_REMEMBERED_MAX) return;
    for (const oldest of this.#made.keys()) {
      this.#made.delete(oldest);
      return;
    }
  }

  last(hold: HoldView, noticeId: string): NoticeSent | undefined {
    let last = this.#made.get(noticeId);
    for (const notice of hold.notices) {
      if (notice.noticeId === noticeId && (last === undefined || isLater(notice, last))) last = notice;
    }
    return last;
  }
}

const RANK: Record<NoticeSent['outcome'], number> = { failed: 0, 'given-up': 1, sent: 2 };

/** What was sent stays sent, whatever else is on record. */
function isLater(a: NoticeSent, b: NoticeSent): boolean {
  if (a.outcome === 'sent' || b.outcome === 'sent') return RANK[a.outcome] > RANK[b.outcome];
  return a.attempt > b.attempt || (a.attempt === b.attempt && RANK[a.outcome] > RANK[b.outcome]);
}
