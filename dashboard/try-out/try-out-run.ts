// A try-out as a reactive controller: begun, asked after until it has ended, given up when the page is left.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { TryOutAsked, TryOutView } from '../../shared/try-out.ts';
import { whyNot, type Api } from '../api.ts';

/** Between two questions how far it is. */
const ASK_AGAIN_MS = 300;

export type RunState =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'refused'; readonly why: string }
  | { readonly kind: 'told'; readonly view: TryOutView };

export class TryOutRun implements ReactiveController {
  state: RunState = { kind: 'nothing' };
  readonly #host: ReactiveControllerHost & { readonly api: Api };
  #timer: number | undefined;
  #asking = false;

  constructor(host: ReactiveControllerHost & { readonly api: Api }) {
    this.#host = host;
    host.addController(this);
  }

  get isRunning(): boolean {
    return this.#asking || (this.state.kind === 'told' && this.state.view.state === 'running');
  }

  hostDisconnected(): void {
    if (this.state.kind === 'told' && this.state.view.state === 'running') void this.cancel();
    clearTimeout(this.#timer);
  }

  async begin(asked: TryOutAsked): Promise<void> {
    if (this.isRunning) return;
    this.#asking = true;
    this.#host.requestUpdate();
    const answer = await this.#host.api.tryOut(asked);
    this.#asking = false;
    this.#take(
      answer.kind === 'answer' ? { kind: 'told', view: answer.value } : { kind: 'refused', why: whyNot(answer) },
    );
  }

  async cancel(): Promise<void> {
    if (this.state.kind !== 'told') return;
    clearTimeout(this.#timer);
    const answer = await this.#host.api.cancelTryOut(this.state.view.id);
    if (answer.kind === 'answer') this.#take({ kind: 'told', view: answer.value });
  }

  #take(state: RunState): void {
    this.state = state;
    this.#host.requestUpdate();
    if (state.kind !== 'told' || state.view.state !== 'running') return;
    const { id } = state.view;
    this.#timer = window.setTimeout(() => void this.#ask(id), ASK_AGAIN_MS);
  }

  async #ask(id: string): Promise<void> {
    const answer = await this.#host.api.tryOutView(id);
    if (answer.kind === 'answer') this.#take({ kind: 'told', view: answer.value });
    else if (answer.kind === 'problem') this.#take({ kind: 'refused', why: whyNot(answer) });
    // No answer is no end: it goes on there meanwhile.
    else this.#timer = window.setTimeout(() => void this.#ask(id), ASK_AGAIN_MS);
  }
}
