// What alerts ask of the service, and what the service may ask of alerts.
import type { NoticeTry } from '../../shared/acts.ts';
import type { Clock } from '../../shared/time.ts';
import type { HoldView } from '../../shared/views.ts';
import type { After } from './timer.ts';

/** What pino's logger offers, and no more. */
export interface AlertLog {
  info(about: object, text: string): void;
  warn(about: object, text: string): void;
}

export interface AlertPorts {
  /** The wall clock: receivers compare the time of a signature with their own. */
  readonly clock: Clock;
  /** Journals a try; resolves once it is durable. */
  record(tryOfNotice: NoticeTry): Promise<void>;
  /** Open holds, and those that ended within the last day, each with its notices so far. */
  holds(): Promise<readonly HoldView[]>;
  readonly log: AlertLog;
  readonly fetch?: typeof fetch;
  readonly after?: After;
}

export interface ChannelTest {
  readonly ok: boolean;
  readonly detail: string;
}

export interface Alerts {
  /** A hold was raised, stepped or got a notice on record; the same view twice changes nothing. */
  holdChanged(hold: HoldView): void;
  /** Sends a notice that is about no hold, now and once, and says how that went. */
  test(channel: string): Promise<ChannelTest>;
  /** The channels and where they lead, fit to be shown. */
  channels(): readonly { readonly channel: string; readonly to: string }[];
  /** Notices that are waiting or under way. */
  pending(): number;
  /** Waits for what is under way, up to a limit; what waits is planned again at the next start. */
  close(): Promise<void>;
}
