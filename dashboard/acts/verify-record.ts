// Checks that the record is still what was written down: begun by a press, looked after while it runs, told whole or broken and where.
import { css, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { retell, say } from '../../shared/language/index.ts';
import type { ChainVerdictView, VerificationView } from '../../shared/record.ts';
import { whyNot, type Answer, type Api } from '../api.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import '../raw-message.ts';
import { whole } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { beginVerification, fetchVerification, giveUpVerification } from './record-api.ts';

/** Between two questions how far it is. */
const ASK_AGAIN_MS = 500;
const LINK = /^\d{1,15}:[0-9a-f]{64}$/i;

@customElement('verify-record')
export class VerifyRecord extends LitElement {
  static override styles = [
    look,
    presses,
    tables,
    css`
      .answers {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem;
        align-items: center;
      }
      .verdict {
        border-left: 3px solid var(--slate);
        padding-left: 0.75rem;
        margin: 0.75rem 0;
      }
      .verdict.broken {
        border-left: 6px double var(--plum);
      }
      .link {
        font-family: var(--font-fixed);
        overflow-wrap: anywhere;
        user-select: all;
      }
      progress {
        width: min(24rem, 100%);
        accent-color: var(--ink);
      }
      #noted {
        font-family: var(--font-fixed);
        margin-bottom: 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) clock: PlantClock = { zone: 'UTC', now: 0 };
  /** Who looks: whoever began a check may give it up. */
  @property({ attribute: false }) name: string | undefined;
  @property({ type: Boolean }) admin = false;
  @state() private view: VerificationView | undefined;
  @state() private wrong: string | undefined;
  @state() private noted = '';
  #timer: number | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    void this.updateComplete.then(() => this.#look());
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  override render() {
    const isRunning = this.view?.state === 'running';
    const mayGiveUp = isRunning && (this.admin || this.view?.by === this.name);
    return html`<section aria-labelledby="verify">
      <h2 id="verify">Is it still what was written down?</h2>
      <div role="status">${this.#told()}</div>
      ${this.wrong === undefined ? nothing : html`<p role="alert"><b>${this.wrong}</b></p>`}
      <form class="not-printed" @submit=${(event: SubmitEvent) => void this.#begin(event)}>
        <div class="answers">
          <button ?disabled=${isRunning}>Verify</button>
          ${
            mayGiveUp
              ? html`<button type="button" @click=${() => void this.#answered(giveUpVerification(this.api))}>
                  Give up
                </button>`
              : nothing
          }
        </div>
        <details>
          <summary>Compare with a link that was noted elsewhere</summary>
          <p>
            Whoever can write in the whole store could make the whole chain anew, or cut off its end. Only a link that
            was noted somewhere else shows that.
          </p>
          <label for="noted">Noted link: position, colon, 64 hexadecimal digits</label>
          <input
            id="noted"
            autocomplete="off"
            spellcheck="false"
            .value=${this.noted}
            @input=${(event: InputEvent) => (this.noted = (event.target as HTMLInputElement).value.trim())}
          />
        </details>
      </form>
    </section>`;
  }

  #told(): TemplateResult | typeof nothing {
    const { view } = this;
    if (view === undefined) return nothing;
    switch (view.state) {
      case 'none':
        return html`<p class="soft">
          Every decision and every act is chained, each with the one before. Not checked since the service started.
        </p>`;
      case 'running':
        return html`<label for="far">Checking for ${view.by ?? ''}, ${view.percent} %</label>
          <progress id="far" max="100" value=${view.percent}></progress>`;
      case 'cancelled':
        return html`<p>Given up before it was done.</p>`;
      case 'failed':
        return html`<p>The check failed: ${retell(view.why ?? '')}</p>`;
      case 'done':
        return html`${view.verdict === undefined ? nothing : this.#verdict(view.verdict, view.noted)}
          <p class="soft small">Checked ${moment(view.endedAt, this.clock)} for ${view.by ?? ''}.</p>`;
    }
  }

  #verdict(verdict: ChainVerdictView, noted: string | undefined): TemplateResult {
    const before =
      verdict.after === 0
        ? nothing
        : html`<p>Up to ${whole(verdict.after)} nothing is chained: an earlier release wrote that.</p>`;
    if (verdict.kind === 'broken') {
      const { first, last, wholeThrough, why } = verdict;
      return html`<div class="verdict broken" role="alert">
        <p><b>Not whole, ${whereWords(first, last)}: ${retell(why)}</b></p>
        <p>
          Up to ${whole(wholeThrough)} it is as it was written down. Tell whoever looks after the service, and keep the
          store as it is.
        </p>
        <p><raw-message .api=${this.api} .position=${first}></raw-message></p>
        ${before}
      </div>`;
    }
    const { after, through, items, head } = verdict;
    return html`<div class="verdict">
      <p>
        <b>Whole</b> from ${whole(after + 1)} to ${whole(through)}: ${whole(items)} decisions and acts are as they were
        written down.
      </p>
      ${noted === undefined ? nothing : html`<p>The link that was noted is in it.</p>`}
      ${head === undefined ? nothing : html`<p>Note elsewhere: <span class="link">${head}</span></p>`} ${before}
    </div>`;
  }

  async #begin(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.noted !== '' && !LINK.test(this.noted)) {
      this.wrong = say`That is no link: a position, a colon and 64 hexadecimal digits are expected.`;
      return;
    }
    await this.#answered(beginVerification(this.api, this.noted === '' ? undefined : this.noted));
  }

  #look(): Promise<void> {
    return this.#answered(fetchVerification(this.api));
  }

  async #answered(asked: Promise<Answer<VerificationView>>): Promise<void> {
    const answer = await asked;
    clearTimeout(this.#timer);
    this.wrong = answer.kind === 'answer' ? undefined : whyNot(answer);
    if (answer.kind === 'answer') this.view = answer.value;
    // No answer is no end: it goes on there meanwhile. Another's check that was in the way is shown as well.
    if (this.isConnected && this.view?.state === 'running')
      this.#timer = window.setTimeout(() => void this.#look(), ASK_AGAIN_MS);
  }
}

function whereWords(first: number, last: number): string {
  return first === last ? say`at position ${whole(first)}` : say`at positions ${whole(first)} to ${whole(last)}`;
}

declare global {
  interface HTMLElementTagNameMap {
    'verify-record': VerifyRecord;
  }
}
