// Who is signed in at this screen, as a reactive controller: asked at the start, again when the feed is lost, over at a 401.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { SessionView } from '../../shared/session.ts';
import type { Api } from '../api.ts';

const ASK_AGAIN_MS = 3000;
const NOBODY_YET = 'urn:counterpoise:problem:first-sign-in-needed';

export type Who =
  | { readonly kind: 'asking' }
  | { readonly kind: 'unreachable' }
  /** `ended`: somebody was signed in at this screen until just now. `first`: nobody can sign in here yet. */
  | { readonly kind: 'nobody'; readonly ended: boolean; readonly first: boolean }
  | { readonly kind: 'person'; readonly person: SessionView };

export class SessionKeeper implements ReactiveController {
  who: Who = { kind: 'asking' };
  readonly #host: ReactiveControllerHost;
  readonly #api: () => Api;
  readonly #onChange: (who: Who) => void;
  #retry: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost, api: () => Api, onChange: (who: Who) => void) {
    this.#host = host;
    this.#api = api;
    this.#onChange = onChange;
    host.addController(this);
  }

  hostConnected(): void {
    void this.ask();
  }

  hostDisconnected(): void {
    clearTimeout(this.#retry);
  }

  async ask(): Promise<void> {
    clearTimeout(this.#retry);
    const answer = await this.#api().session();
    if (answer.kind === 'answer') this.set({ kind: 'person', person: answer.value });
    else if (answer.kind === 'problem' && answer.status === 401) this.over(answer.problem.type === NOBODY_YET);
    else if (this.who.kind !== 'person') this.#tryLater();
  }

  /** The session has ended, whoever noticed it. */
  over(first = false): void {
    if (this.who.kind === 'nobody' && this.who.first === first) return;
    this.set({ kind: 'nobody', ended: this.who.kind === 'person', first });
  }

  /** False where the service did not answer: the session then goes on, and the screen must not look as if it did not. */
  async signOut(): Promise<boolean> {
    const answer = await this.#api().signOut();
    const ended = answer.kind === 'answer' || (answer.kind === 'problem' && answer.status === 401);
    if (ended) this.set({ kind: 'nobody', ended: false, first: false });
    return ended;
  }

  set(who: Who): void {
    this.who = who;
    this.#onChange(who);
    this.#host.requestUpdate();
  }

  #tryLater(): void {
    this.set({ kind: 'unreachable' });
    this.#retry = setTimeout(() => void this.ask(), ASK_AGAIN_MS);
  }
}
