// What a channel has to be able to do, whatever it sends over.
import type { HoldView } from '../../shared/views.ts';
import type { NoticeOf } from './notice.ts';

export interface Delivery {
  readonly ok: boolean;
  /** What happened, in words for a person who has to mend it; at most 300 characters. */
  readonly detail: string;
}

export interface Way {
  /** Where to, as it may be shown. */
  readonly to: string;
  /** Whom this notice goes to, as it may be shown; at most 200 characters. */
  toOf(hold: HoldView, about: Pick<NoticeOf, 'reason'>): string;
  /** One try of one notice. Never rejects: what goes wrong out there is a value. `broken` ends it early. */
  tell(hold: HoldView, about: NoticeOf, broken: AbortSignal): Promise<Delivery>;
  /** About no hold, to find out whether the way is open. */
  test(plant: string, channel: string, at: number, broken: AbortSignal): Promise<Delivery>;
}
