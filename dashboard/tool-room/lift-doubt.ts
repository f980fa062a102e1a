// Whoever answers for a bench lifts the doubt about its results, with a reason that stays on record.
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { openedForm } from '../opened-form.ts';

const NOTE_CHARACTERS_MAX = 1000;

export class DoubtLiftedEvent extends Event {
  constructor() {
    super('counterpoise-doubt-lifted', { bubbles: true, composed: true });
  }
}

@customElement('lift-doubt')
export class LiftDoubt extends LitElement {
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
  @property({ attribute: false }) bench = '';
  @state() private open = false;
  @state() private note = '';
  @state() private sending = false;
  @state() private wrong: string | undefined;

  override render() {
    if (!this.open)
      return html`<p><button aria-expanded="false" @click=${this.#begin}>Lift the doubt, with a reason</button></p>`;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>Its results since the last good check count again, on your name.</b> A check that was set up wrongly is a
        reason; that work is waiting is none.
      </p>
      <div>
        <label for="why">Why its results can be believed</label>
        <textarea
          id="why"
          maxlength=${NOTE_CHARACTERS_MAX}
          .value=${this.note}
          @input=${(event: InputEvent) => (this.note = (event.target as HTMLTextAreaElement).value)}
        ></textarea>
      </div>
      ${this.wrong === undefined ? nothing : html`<p role="alert"><b>${this.wrong}</b></p>`}
      <div class="answers">
        <button type="button" @click=${() => (this.open = false)}>Leave it</button>
        <button class="first" type="submit" ?disabled=${this.note.trim() === '' || this.sending}>
          ${this.sending ? 'On its way …' : 'Confirm: lift the doubt'}
        </button>
      </div>
    </form>`;
  }

  readonly #begin = (): void => {
    this.open = true;
    void this.updateComplete.then(() => this.renderRoot.querySelector('textarea')?.focus());
  };

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.sending) return;
    this.sending = true;
    const answer = await this.api.liftDoubt(this.bench, this.note.trim());
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.open = false;
    this.note = '';
    this.wrong = undefined;
    this.dispatchEvent(new DoubtLiftedEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'lift-doubt': LiftDoubt;
  }
}
