// Asks the gate and keeps the answer, as a reactive controller: an answer that lets wait says so after two seconds.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { GateAnswer } from '../../shared/gate.ts';
import { whyNot, type Answer, type GateAsked } from '../api.ts';

export const SLOW_AFTER_MS = 2000;

export type Asking =
  | { readonly kind: 'not-asked' }
  | { readonly kind: 'waiting'; readonly slow: boolean }
  | { readonly kind: 'answered'; readonly answer: GateAnswer }
  | { readonly kind: 'no-answer'; readonly why: string };

export class GateAsking implements ReactiveController {
  state: Asking = { kind: 'not-asked' };
  readonly #host: ReactiveControllerHost;
  readonly #ask: (asked: GateAsked) => Promise<Answer<GateAnswer>>;
  #key = '';
  #turn = 0;
  #lost = false;
  #slow: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost, ask: (asked: GateAsked) => Promise<Answer<GateAnswer>>) {
    this.#host = host;
    this.#ask = ask;
    host.addController(this);
  }

  hostDisconnected(): void {
    clearTimeout(this.#slow);
  }

  /** `key` names the question and what its answer rests on: the same key is not asked twice. */
  want(asked: GateAsked | undefined, key: string): void {
    if (key === this.#key) return;
    this.#key = key;
    if (asked === undefined) {
      this.#turn += 1;
      this.#set({ kind: 'not-asked' });
      return;
    }
    void this.#put(asked);
  }

  /** The connection is gone: what was said may hold no longer, and is shown no more. */
  lose(why: string): void {
    if (this.state.kind !== 'answered') return;
    this.#turn += 1;
    this.#lost = true;
    this.#set({ kind: 'no-answer', why });
  }

  /** It is back: what was taken away is asked for anew. */
  back(): void {
    if (this.#lost) this.again();
    this.#lost = false;
  }

  again(): void {
    this.#key = '';
    this.#host.requestUpdate();
  }

  async #put(asked: GateAsked): Promise<void> {
    const turn = ++this.#turn;
    // No old word stays on screen while another one is on its way.
    this.#set({ kind: 'waiting', slow: false });
    this.#slow = setTimeout(() => {
      if (turn === this.#turn) this.#set({ kind: 'waiting', slow: true });
    }, SLOW_AFTER_MS);
    const answer = await this.#ask(asked);
    if (turn !== this.#turn) return;
    this.#set(
      answer.kind === 'answer'
        ? { kind: 'answered', answer: answer.value }
        : { kind: 'no-answer', why: whyNot(answer) },
    );
  }

  #set(state: Asking): void {
    if (state.kind !== 'waiting') clearTimeout(this.#slow);
    this.state = state;
    this.#host.requestUpdate();
  }
}
