// A position in the journal that opens the message behind it, as it came: every verdict can be followed down to it.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from './language/html.ts';
import { whyNot, type Api } from './api.ts';
import { look, presses } from './look.ts';

@customElement('raw-message')
export class RawMessage extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      :host {
        display: inline-block;
        position: relative;
        max-width: 100%;
      }
      :host([open]) {
        flex-basis: 100%;
      }
      button {
        padding: 0.1rem 0.5rem;
        min-height: 32px;
        font-size: var(--small);
      }
      /* On paper nothing is pressed: the position alone. */
      @media print {
        button {
          border: 0;
          padding: 0;
          min-height: 0;
          min-width: 0;
          background: none;
        }
      }
      @media screen and (pointer: coarse) {
        button {
          min-height: var(--target);
        }
      }
      pre {
        background: var(--sheet);
        border: 1px solid var(--rule);
        padding: 0.5rem;
        margin: 0.25rem 0 0.75rem;
        font-family: var(--font-fixed);
        font-size: var(--small);
        max-height: 24rem;
        overflow: auto;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) position = 0;
  @state() private shown: string | undefined;

  override updated(): void {
    this.toggleAttribute('open', this.shown !== undefined);
  }

  override render() {
    const open = this.shown !== undefined;
    return html`<button aria-expanded=${open ? 'true' : 'false'} @click=${() => void this.#toggle()}>
        <span class="only-heard">Message at position </span>${this.position}
      </button>
      ${open ? html`<pre tabindex="0">${this.shown}</pre>` : nothing}`;
  }

  async #toggle(): Promise<void> {
    if (this.shown !== undefined) {
      this.shown = undefined;
      return;
    }
    const answer = await this.api.journalEntry(this.position);
    this.shown = answer.kind === 'answer' ? JSON.stringify(answer.value, undefined, 2) : whyNot(answer);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'raw-message': RawMessage;
  }
}
