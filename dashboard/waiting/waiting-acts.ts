// Acts that wait for the connection: which, whose, since when, and the way to take each back. Nothing where none waits.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { HoldView } from '../../shared/views.ts';
import { look, presses } from '../look.ts';
import { holdAddress } from '../router.ts';
import { actPress } from '../wording/hold-words.ts';
import { clockTime } from '../wording/instants.ts';
import type { ActQueue, WaitingAct } from './act-queue.ts';

@customElement('waiting-acts')
export class WaitingActs extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      section {
        border: 2px dashed var(--cobalt);
        margin: 0.75rem 1.25rem 0;
        padding: 0.5rem 0.75rem;
      }
      ul {
        list-style: none;
        margin: 0;
        padding: 0;
      }
      li {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 1.5rem;
        padding: 0.35rem 0;
      }
      li + li {
        border-top: 1px solid var(--rule);
      }
      p {
        flex: 1 1 24rem;
        margin: 0;
      }
      .answers {
        margin-left: auto;
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      button {
        min-height: var(--glove);
        min-width: max(9rem, var(--glove));
      }
      @media (max-width: 40rem) {
        section {
          margin-inline: 0.75rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) queue!: ActQueue;
  /** Its list, given anew at each change. */
  @property({ attribute: false }) acts: readonly WaitingAct[] = [];
  @property({ attribute: false }) holds: ReadonlyMap<string, HoldView> | undefined;
  /** Who is signed in. */
  @property() name = '';
  @property() zone = 'UTC';

  override render() {
    // What is on its way for the first time is told where it was pressed.
    const acts = this.acts.filter(({ state }) => state !== 'trying');
    if (acts.length === 0) return nothing;
    return html`<section class="not-printed" aria-labelledby="title">
      <h2 id="title">Not done yet</h2>
      <ul>
        ${repeat(
          acts,
          ({ id }) => id,
          (act) => html`<li>${this.#told(act)} ${this.#answers(act)}</li>`,
        )}
      </ul>
    </section>`;
  }

  #told(act: WaitingAct) {
    const what = html`<a href=${holdAddress(act.holdId)}>${act.holdId}</a>: “${actPress(act.act, act.seen)}”, pressed
      ${clockTime(act.pressedAt, this.zone)}${act.by === this.name ? nothing : say` by ${act.by}`}.`;
    switch (act.state) {
      case 'trying':
        return nothing;
      case 'sending':
        return html`<p role="status"><strong>On its way now.</strong> ${what}</p>`;
      case 'waiting':
        return html`<p role="status"><strong>Waiting, not sent yet.</strong> ${what} ${this.#until(act)}</p>`;
      case 'changed':
        return html`<p role="alert">
          <strong>Not sent: the hold has changed since.</strong> ${what} Read the hold as it is now, then send it or
          take it back.
        </p>`;
      case 'refused':
        return html`<p role="alert"><strong>Refused, nothing was done.</strong> ${what} ${act.why ?? nothing}</p>`;
    }
  }

  #until({ by, why }: WaitingAct): string {
    const when =
      by === this.name
        ? say`It is sent by itself once the connection is back, as long as this page stays open.`
        : say`It is sent once ${by} is signed in here again.`;
    return why === undefined ? when : `${when} ${why}`;
  }

  #answers(act: WaitingAct) {
    // What may have arrived already cannot be taken back.
    if (act.state === 'sending') return nothing;
    const seen = this.holds?.get(act.holdId);
    const back = act.state === 'refused' ? say`I have read it` : say`Take it back`;
    return html`<div class="answers">
      <button @click=${() => this.queue.takeBack(act.id)}>${back}</button>
      ${
        act.state === 'changed' && seen !== undefined && act.by === this.name
          ? html`<button @click=${() => this.queue.sendAsItIsNow(act.id, seen)}>Send it all the same</button>`
          : nothing
      }
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'waiting-acts': WaitingActs;
  }
}
