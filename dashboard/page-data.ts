// What a page asks the gateway for, as a reactive controller: loading, there, old, absent, not allowed or failed.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { retell, say } from '../shared/language/index.ts';
import type { Answer } from './api.ts';

const NO_RIGHTS = 403;
export const NOT_FOUND = 404;

export type Loaded<T> =
  | { readonly kind: 'loading' }
  /** `old`: a later try failed, so this is what was known at `at` (this machine's clock). */
  | { readonly kind: 'ready'; readonly value: T; readonly at: number; readonly old: boolean }
  | { readonly kind: 'absent' }
  | { readonly kind: 'no-rights' }
  | { readonly kind: 'failed'; readonly why: string };

/** What is known after an answer: a failure does not take away what was there before, it makes it old. */
export function afterAnswer<T>(before: Loaded<T>, answer: Answer<T>, at: number): Loaded<T> {
  if (answer.kind === 'answer') return { kind: 'ready', value: answer.value, at, old: false };
  if (answer.kind === 'problem' && answer.status === NOT_FOUND) return { kind: 'absent' };
  if (answer.kind === 'problem' && answer.status === NO_RIGHTS) return { kind: 'no-rights' };
  if (before.kind === 'ready') return { ...before, old: true };
  const why = answer.kind === 'problem' ? retell(answer.problem.title) : say`The service does not answer.`;
  return { kind: 'failed', why };
}

/** A page: `live` tells whether the feed comes. */
type Host = ReactiveControllerHost & { readonly live?: boolean };

export class PageData<T> implements ReactiveController {
  state: Loaded<T> = { kind: 'loading' };
  readonly #host: Host;
  readonly #ask: () => Promise<Answer<T>>;
  #key: string | undefined;
  #asking = 0;
  #wasLive = true;
  #lastAskedAt = 0;

  constructor(host: Host, ask: () => Promise<Answer<T>>) {
    this.#host = host;
    this.#ask = ask;
    host.addController(this);
  }

  /** What failed or is old is asked for again as soon as the picture is live once more; nobody has to press anything. */
  hostUpdated(): void {
    const live = this.#host.live ?? false;
    const back = live && !this.#wasLive;
    this.#wasLive = live;
    if (back && this.#key !== undefined && (this.state.kind === 'failed' || this.state.kind === 'ready'))
      void this.again();
  }

  get value(): T | undefined {
    return this.state.kind === 'ready' ? this.state.value : undefined;
  }

  /** Asks anew when the key is another one: what was shown belongs to something else, unless `keep` says it still helps. */
  want(key: string, keep = false): void {
    if (key === this.#key) return;
    this.#key = key;
    if (!keep) this.state = { kind: 'loading' };
    void this.again();
  }

  /** Whether the last question lies long enough back. */
  mayAskAgain(leastMs: number): boolean {
    return this.#key !== undefined && Date.now() - this.#lastAskedAt >= leastMs;
  }

  async again(): Promise<void> {
    const asked = ++this.#asking;
    this.#lastAskedAt = Date.now();
    const answer = await this.#ask();
    // A later question has been put meanwhile: this answer is to one that nobody asks any more.
    if (asked === this.#asking) this.set(answer);
  }

  /** Takes an answer that came by another way, such as the reply to an act. */
  set(answer: Answer<T>): void {
    this.state = afterAnswer(this.state, answer, Date.now());
    this.#host.requestUpdate();
  }
}
