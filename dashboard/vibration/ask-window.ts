// Asks a spindle's sensor for a raw window now, says that it waits, and when it came.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { SpindleView } from '../../shared/views.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { age, moment, type PlantClock } from '../wording/instants.ts';

@customElement('ask-window')
export class AskWindow extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      div {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        margin-bottom: 0.75rem;
      }
      p {
        margin: 0;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) spindle!: SpindleView;
  @property({ attribute: false }) clock!: PlantClock;
  /** Whether whoever looks may ask. */
  @property({ type: Boolean }) mayAsk = false;
  /** The newest window when one was asked for here. */
  @state() private asked: { readonly spindleId: string; readonly newestId: number } | undefined;
  @state() private refused: string | undefined;

  override render() {
    return html`<div>
      ${this.mayAsk ? html`<button class="not-printed" @click=${this.#onAsk}>Ask for a window now</button>` : nothing}
      <p role="status">${this.#words()}</p>
      ${this.refused === undefined ? nothing : html`<p role="alert">${this.refused}</p>`}
    </div>`;
  }

  #words() {
    const { windows, row } = this.spindle;
    if (windows === undefined) return nothing;
    if (windows.asked !== undefined)
      return html`Asked by ${windows.asked.by} ${age(windows.asked.at, this.clock)} ago; it has not come yet.`;
    if (this.asked?.spindleId !== row.spindleId)
      return html`<span class="soft">The last came ${age(windows.at, this.clock)} ago.</span>`;
    return windows.waveId > this.asked.newestId
      ? html`The window that was asked for has come: measured ${moment(windows.at, this.clock)}.`
      : html`Asked just now; it has not come yet.`;
  }

  readonly #onAsk = async (): Promise<void> => {
    const { windows, row } = this.spindle;
    this.refused = undefined;
    const answer = await this.api.askWave(row.spindleId);
    if (answer.kind === 'answer') {
      this.asked = { spindleId: row.spindleId, newestId: windows?.waveId ?? 0 };
      this.dispatchEvent(new Event('counterpoise-asked'));
    } else this.refused = whyNot(answer);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'ask-window': AskWindow;
  }
}
