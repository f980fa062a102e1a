// Gives an element the feed: it re-renders when the picture changes, and when the picture stops being live.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { FEED_BEAT_MS } from '../../shared/feed.ts';
import { FeedClient, type FeedListener, type FeedSocket } from '../feed-client.ts';
import type { Picture } from '../feed-fold.ts';

/** Many rows change all the time: nobody reads faster than this. A hold is shown at once all the same. */
const MANY_SPINDLES = 200;
const MANY_PAUSE_MS = 1000;

export class FeedController implements ReactiveController {
  readonly client: FeedClient;
  /** What is on screen: the same as the client's picture, or up to a second older on a floor of many spindles. */
  picture: Picture | undefined;
  live = false;
  readonly #host: ReactiveControllerHost;
  readonly #onHolds: (picture: Picture, first: boolean) => void;
  #watch: ReturnType<typeof setInterval> | undefined;
  #later: ReturnType<typeof setTimeout> | undefined;

  constructor(
    host: ReactiveControllerHost,
    on: {
      readonly holds: (picture: Picture, first: boolean) => void;
      readonly lost: (reason: 'closed' | 'session-over') => void;
    },
  ) {
    this.#host = host;
    this.#onHolds = on.holds;
    this.client = new FeedClient({
      open: openSocket,
      clock: () => Date.now(),
      spread: () => Math.random(),
      onPicture: (picture) => this.#take(picture),
      onLost: (reason) => {
        this.#show();
        on.lost(reason);
      },
    });
    host.addController(this);
  }

  hostConnected(): void {
    this.#watch = setInterval(() => this.#look(), FEED_BEAT_MS / 2);
  }

  hostDisconnected(): void {
    clearInterval(this.#watch);
    clearTimeout(this.#later);
    this.client.stop();
  }

  start(): void {
    this.client.start();
  }

  stopAndForget(): void {
    this.client.stop();
    this.client.forget();
    this.#show();
  }

  #take(picture: Picture): void {
    const first = this.picture === undefined;
    if (picture.changedHoldIds.length > 0) this.#onHolds(picture, first);
    const quick = first || picture.changedHoldIds.length > 0 || picture.spindles.size <= MANY_SPINDLES;
    if (quick) this.#show();
    else this.#later ??= setTimeout(() => this.#show(), MANY_PAUSE_MS);
  }

  #show(): void {
    clearTimeout(this.#later);
    this.#later = undefined;
    this.picture = this.client.picture;
    this.live = this.client.isLive();
    this.#host.requestUpdate();
  }

  #look(): void {
    if (this.client.isLive() !== this.live) this.#show();
  }
}

function openSocket({ message, closed }: FeedListener): FeedSocket {
  const address = new URL('/api/feed', location.href);
  address.protocol = address.protocol === 'https:' ? 'wss:' : 'ws:';
  const socket = new WebSocket(address);
  socket.addEventListener('message', (event: MessageEvent<unknown>) => message(event.data));
  socket.addEventListener('close', (event) => closed(event.code));
  return socket;
}
