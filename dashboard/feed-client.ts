// The one WebSocket: snapshot, changes, a new snapshot after a gap, and again and again with growing pauses until it is back.
import { FEED_BEAT_MS, type FeedFrame } from '../shared/feed.ts';
import { fold, type Picture } from './feed-fold.ts';

/** No frame for so long: the picture is no longer called live. */
export const LIVE_WITHIN_MS = 3 * FEED_BEAT_MS;
/** No frame for so long: the connection is given up for dead and made anew. */
export const DEAD_AFTER_MS = 6 * FEED_BEAT_MS;
export const PAUSE_FIRST_MS = 500;
export const PAUSE_MAX_MS = 15_000;
/** The gateway closes with this when the session behind the connection has ended. */
export const SESSION_OVER_CODE = 4401;

export interface FeedSocket {
  close(): void;
}

export interface FeedListener {
  readonly message: (data: unknown) => void;
  readonly closed: (code: number) => void;
}

export interface FeedClientOptions {
  /** Opens a connection; after `close()` on it nothing it says is listened to. */
  readonly open: (listener: FeedListener) => FeedSocket;
  readonly clock: () => number;
  /** A number from 0 to 1 that spreads the returns of many screens after a restart of the service. */
  readonly spread: () => number;
  readonly onPicture: (picture: Picture) => void;
  /** The connection is gone: time to see whether the session still holds. */
  readonly onLost: (reason: 'closed' | 'session-over') => void;
}

/** How long to wait before the nth try in a row, n from 0. */
export function pauseBefore(tries: number, spread: number): number {
  return Math.min(PAUSE_MAX_MS, PAUSE_FIRST_MS * 2 ** tries) * (0.75 + spread / 2);
}

export class FeedClient {
  picture: Picture | undefined;
  /** By this machine's clock; undefined before the first frame. */
  lastFrameAt: number | undefined;
  readonly #options: FeedClientOptions;
  #socket: FeedSocket | undefined;
  /** Which connection is listened to: what an earlier one still says is not. */
  #turn = 0;
  #tries = 0;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #watch: ReturnType<typeof setInterval> | undefined;
  #openedAt = 0;
  /** Whether this connection has brought its snapshot. */
  #begun = false;
  /** The connection has ended, and none has brought a frame since: there is no need to wait for one that does not come. */
  #ended = false;

  constructor(options: FeedClientOptions) {
    this.#options = options;
  }

  get running(): boolean {
    return this.#watch !== undefined;
  }

  start(): void {
    if (this.running) return;
    this.#watch = setInterval(() => this.#giveUpTheDead(), FEED_BEAT_MS);
    this.#connect();
  }

  stop(): void {
    clearInterval(this.#watch);
    clearTimeout(this.#retry);
    this.#watch = undefined;
    this.#retry = undefined;
    this.#tries = 0;
    this.#drop();
  }

  /** Forgets what was seen, for the next person at this screen. */
  forget(): void {
    this.picture = undefined;
    this.lastFrameAt = undefined;
  }

  isLive(): boolean {
    return !this.#ended && this.lastFrameAt !== undefined && this.#options.clock() - this.lastFrameAt < LIVE_WITHIN_MS;
  }

  #connect(): void {
    const turn = ++this.#turn;
    this.#openedAt = this.#options.clock();
    this.#begun = false;
    this.#socket = this.#options.open({
      message: (data) => {
        if (turn === this.#turn) this.#receive(data);
      },
      closed: (code) => {
        if (turn === this.#turn) this.#lost(code === SESSION_OVER_CODE ? 'session-over' : 'closed');
      },
    });
  }

  #receive(data: unknown): void {
    if (typeof data !== 'string') return;
    const folded = fold(this.#begun ? this.picture : undefined, JSON.parse(data) as FeedFrame);
    if (folded.kind === 'gap') {
      this.#beginAgain();
      return;
    }
    this.#begun = true;
    this.#ended = false;
    this.#tries = 0;
    this.picture = folded.picture;
    this.lastFrameAt = this.#options.clock();
    this.#options.onPicture(folded.picture);
  }

  /** After a gap what we have may be wrong; a new connection begins with a snapshot, at once unless it began with the gap. */
  #beginAgain(): void {
    if (!this.#begun) return this.#lost('closed');
    this.#drop();
    this.#connect();
  }

  #lost(reason: 'closed' | 'session-over'): void {
    this.#drop();
    this.#ended = true;
    if (!this.running) return;
    this.#retry = setTimeout(() => this.#connect(), pauseBefore(this.#tries, this.#options.spread()));
    this.#tries += 1;
    this.#options.onLost(reason);
  }

  #giveUpTheDead(): void {
    if (this.#socket === undefined) return;
    const lastSign = Math.max(this.lastFrameAt ?? 0, this.#openedAt);
    if (this.#options.clock() - lastSign > DEAD_AFTER_MS) this.#lost('closed');
  }

  #drop(): void {
    this.#turn += 1;
    this.#socket?.close();
    this.#socket = undefined;
  }
}
