// Putting a draft in force: a reason, then a second press; it counts from then on, and the set before can be put back the same way.
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { DraftInForce } from '../../shared/try-out.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { openedForm } from '../opened-form.ts';

const WHY_CHARACTERS_MAX = 1000;

export class InForceEvent extends Event {
  constructor() {
    super('counterpoise-in-force', { bubbles: true, composed: true });
  }
}

@customElement('put-in-force')
export class PutInForce extends LitElement {
  static override styles = [
    look,
    presses,
    openedForm,
    css`
      form {
        display: grid;
        gap: 0.5rem;
        max-width: 44rem;
      }
      textarea {
        min-height: 4.5rem;
        resize: vertical;
      }
      .answers {
        justify-content: flex-end;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  /** What would be put in force; in words why not, where it cannot be. */
  @property({ attribute: false }) draft: Omit<DraftInForce, 'why'> | string = '';
  @state() private open = false;
  @state() private why = '';
  @state() private sending = false;
  @state() private wrong: string | undefined;

  override render() {
    if (!this.open)
      return html`<p><button aria-expanded="false" @click=${this.#begin}>Put in force, with a reason</button></p>`;
    const cannot = typeof this.draft === 'string' ? this.draft : undefined;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>From then on holds are raised by it, on your name.</b> Holds that stand stay as they are. The limits of the
        machine and tool makers govern.
      </p>
      <div>
        <label for="why">Why</label>
        <textarea
          id="why"
          maxlength=${WHY_CHARACTERS_MAX}
          .value=${this.why}
          @input=${(event: InputEvent) => (this.why = (event.target as HTMLTextAreaElement).value)}
        ></textarea>
      </div>
      ${cannot === undefined && this.wrong === undefined ? nothing : html`<p role="alert"><b>${cannot ?? this.wrong}</b></p>`}
      <div class="answers">
        <button type="button" @click=${() => (this.open = false)}>Leave it</button>
        <button class="first" type="submit" ?disabled=${this.why.trim() === '' || this.sending || cannot !== undefined}>
          ${this.sending ? 'On its way …' : 'Confirm: put in force'}
        </button>
      </div>
    </form>`;
  }

  readonly #begin = (): void => {
    this.open = true;
    this.wrong = undefined;
    void this.updateComplete.then(() => this.renderRoot.querySelector('textarea')?.focus());
  };

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.sending || typeof this.draft === 'string') return;
    this.sending = true;
    const answer = await this.api.putInForce({ ...this.draft, why: this.why.trim() });
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.open = false;
    this.why = '';
    this.dispatchEvent(new InForceEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'put-in-force': PutInForce;
  }
}
