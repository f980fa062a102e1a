// Gives the shell the queue of acts: what waits is sent when the connection is back, and leaving the page with it warns.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { HoldView } from '../../shared/views.ts';
import type { Api } from '../api.ts';
import { ActQueue, freshActId, type WaitingAct } from './act-queue.ts';

/** Where the feed does not come although the service answers. */
const TRY_EVERY_MS = 10_000;

export class WaitingController implements ReactiveController {
  readonly queue: ActQueue;
  #trying: ReturnType<typeof setInterval> | undefined;
  #wasLive = false;

  constructor(host: ReactiveControllerHost, api: () => Api, onSent: (act: WaitingAct, hold: HoldView) => void) {
    this.queue = new ActQueue({
      api,
      clock: () => Date.now(),
      freshId: freshActId,
      onChange: () => host.requestUpdate(),
      onSent,
    });
    host.addController(this);
  }

  hostConnected(): void {
    this.#trying = setInterval(this.#send, TRY_EVERY_MS);
    addEventListener('online', this.#send);
    addEventListener('beforeunload', this.#onLeaving);
  }

  hostDisconnected(): void {
    clearInterval(this.#trying);
    removeEventListener('online', this.#send);
    removeEventListener('beforeunload', this.#onLeaving);
  }

  /** Told at every change of the feed, and of who is signed in. */
  connected(live: boolean): void {
    if (live && !this.#wasLive) this.#send();
    this.#wasLive = live;
  }

  readonly #send = (): void => {
    if (this.queue.holdsBack) void this.queue.send();
  };

  /** The browser asks in its own words whether to stay. */
  readonly #onLeaving = (event: BeforeUnloadEvent): void => {
    if (this.queue.holdsBack) event.preventDefault();
  };
}
