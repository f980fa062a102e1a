// A text to be taken elsewhere as it is: shown whole, copied by a press, or selected where the browser lets nobody copy.
import { css, LitElement } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { look, presses } from '../look.ts';

@customElement('copy-text')
export class CopyText extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      :host {
        margin-bottom: 0.75rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 0.75rem;
        align-items: flex-start;
      }
      pre {
        flex: 1 1 20rem;
        min-width: 0;
        margin: 0;
        padding: 0.6rem 0.75rem;
        border: 1px solid var(--rule);
        background: var(--sheet);
        font-family: var(--font-fixed);
        font-size: var(--small);
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
      p {
        flex-basis: 100%;
        margin: 0;
      }
    `,
  ];

  @property() text = '';
  /** What it is, for whoever hears the button alone. */
  @property({ attribute: 'data-what' }) what = '';
  @state() private said = '';

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('text')) this.said = '';
  }

  override render() {
    return html`<div class="row">
      <pre tabindex="0" role="group" aria-label=${this.what}>${this.text}</pre>
      <button type="button" aria-label="Copy ${this.what}" @click=${() => void this.#copy()}>Copy</button>
      <p class="soft small" role="status">${this.said}</p>
    </div>`;
  }

  async #copy(): Promise<void> {
    try {
      await navigator.clipboard.writeText(this.text);
      this.said = say`Copied.`;
    } catch {
      // Over plain HTTP from another computer a browser gives nobody the clipboard.
      const shown = this.renderRoot.querySelector('pre');
      if (shown !== null) getSelection()?.selectAllChildren(shown);
      this.said = say`Selected: the browser lets nobody copy here; press Ctrl and C.`;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'copy-text': CopyText;
  }
}
