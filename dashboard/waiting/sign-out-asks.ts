// Asks before somebody signs out with acts of theirs still waiting: which, and that they would not be sent. Also says when nobody
// could be signed out, because the service did not answer. Nothing on screen otherwise.
import { css, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { look, presses } from '../look.ts';
import { actPress } from '../wording/hold-words.ts';
import { count } from '../wording/figures.ts';
import { clockTime } from '../wording/instants.ts';
import type { ActQueue, WaitingAct } from './act-queue.ts';

/** May be on the record already: it cannot be taken back. */
const isOnItsWay = ({ state }: WaitingAct): boolean => state === 'trying' || state === 'sending';

@customElement('sign-out-asks')
export class SignOutAsks extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      dialog {
        width: min(38rem, calc(100vw - 2rem));
        border: 2px solid var(--ink);
        border-radius: 0;
        padding: 1.25rem;
        background: var(--ground);
        color: var(--ink);
      }
      dialog::backdrop {
        background: color-mix(in srgb, var(--ink) 40%, transparent);
      }
      h2 {
        margin-top: 0;
      }
      ul {
        margin: 0.75rem 0;
        padding-left: 1.25rem;
      }
      .answers {
        display: flex;
        flex-wrap: wrap;
        justify-content: flex-end;
        gap: 0.75rem;
        margin-top: 1rem;
      }
      button {
        min-height: var(--glove);
        min-width: max(9rem, var(--glove));
      }
    `,
  ];

  @property({ attribute: false }) queue!: ActQueue;
  /** Its list, given anew at each change. */
  @property({ attribute: false }) acts: readonly WaitingAct[] = [];
  /** Who is signed in. */
  @property() name = '';
  @property() zone = 'UTC';
  /** Ends the session; false where the service did not answer. */
  @property({ attribute: false }) signOut!: () => Promise<boolean>;
  @state() private shown: 'question' | 'still-in' | undefined;
  @query('dialog') private readonly dialog!: HTMLDialogElement | null;

  /** Signs out, at once where nothing of this person waits. */
  async begin(): Promise<void> {
    if (this.#mine().length > 0) this.#show('question');
    else await this.#leave();
  }

  override render() {
    if (this.shown === undefined) return nothing;
    return html`<dialog aria-labelledby="title" @close=${() => (this.shown = undefined)}>
      ${this.shown === 'question' ? this.#question() : this.#stillIn()}
    </dialog>`;
  }

  /** Acts of others wait for them, whoever signs out here. */
  #mine(): readonly WaitingAct[] {
    return this.acts.filter(({ by, state }) => by === this.name && state !== 'refused');
  }

  #question(): TemplateResult {
    const mine = this.#mine();
    const waiting = mine.filter((act) => !isOnItsWay(act)).length;
    return html`<h2 id="title">Sign out, with acts not sent yet?</h2>
      ${
        waiting === 0
          ? html`<p role="status">Nothing waits any more.</p>`
          : html`<p>
              ${count(waiting, 'act waits', 'acts wait')} for the connection. What waits would not be sent, neither now
              nor later: it would have to be pressed again.
            </p>`
      }
      <ul>
        ${mine.map((act) => html`<li>${this.#told(act)}</li>`)}
      </ul>
      <div class="answers">
        <button @click=${() => void this.#leave()}>
          ${waiting === 0 ? say`Sign out` : say`Sign out, send nothing`}
        </button>
        <button class="first" autofocus @click=${() => this.dialog?.close()}>Stay signed in</button>
      </div>`;
  }

  #told(act: WaitingAct): TemplateResult {
    const on = html`<b>${act.holdId}</b>: “${actPress(act.act, act.seen)}”, pressed
      ${clockTime(act.pressedAt, this.zone)}`;
    return isOnItsWay(act) ? html`${on}; on its way now, it may be done all the same` : on;
  }

  #stillIn(): TemplateResult {
    return html`<h2 id="title">Still signed in</h2>
      <p role="alert">
        The service does not answer, so ${this.name} could not be signed out: whatever is pressed here is still done
        under that name. Sign out again once the connection is back, and do not leave this screen to others until then.
      </p>
      <div class="answers">
        <button class="first" autofocus @click=${() => this.dialog?.close()}>I have read it</button>
      </div>`;
  }

  async #leave(): Promise<void> {
    const { name, queue } = this;
    if (!(await this.signOut())) return this.#show('still-in');
    for (const act of queue.acts)
      if (act.by === name && act.state !== 'refused' && !isOnItsWay(act)) queue.takeBack(act.id);
    this.dialog?.close();
    this.shown = undefined;
  }

  #show(what: 'question' | 'still-in'): void {
    this.shown = what;
    void this.updateComplete.then(() => {
      if (this.dialog?.open === false) this.dialog.showModal();
    });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'sign-out-asks': SignOutAsks;
  }
}
