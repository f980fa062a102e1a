// Whoever answers for what an hour costs here declares it, with who says so: without it nothing is shown as money.
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { RatesDeclared, RatesView } from '../../shared/headroom.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { openedForm } from '../opened-form.ts';

export class RatesDeclaredEvent extends Event {
  constructor() {
    super('counterpoise-rates-declared', { bubbles: true, composed: true });
  }
}

@customElement('rates-form')
export class RatesForm extends LitElement {
  static override styles = [
    look,
    presses,
    openedForm,
    css`
      form {
        display: grid;
        gap: 0.5rem;
        max-width: 30rem;
      }
      .answers {
        justify-content: flex-end;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) rates: RatesView | undefined;
  @state() private open = false;
  @state() private sending = false;
  @state() private wrong: string | undefined;

  override render() {
    if (!this.open)
      return html`<p>
        <button aria-expanded="false" @click=${this.#begin}>Declare what a spindle hour costs here</button>
      </p>`;
    const { currency, spindleHour } = this.rates ?? {};
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <div>
        <label for="amount">A spindle hour costs</label>
        <input
          id="amount"
          name="amount"
          type="number"
          min="0"
          step="any"
          required
          .value=${String(spindleHour?.amount ?? '')}
        />
      </div>
      <div>
        <label for="currency">Currency, as it is written behind an amount</label>
        <input id="currency" name="currency" maxlength="12" required .value=${currency ?? ''} />
      </div>
      <div>
        <label for="source">Who says so</label>
        <input id="source" name="source" maxlength="200" required .value=${spindleHour?.source ?? ''} />
      </div>
      <div>
        <label for="date">As of</label>
        <input id="date" name="date" type="date" .value=${spindleHour?.sourceDate?.slice(0, 10) ?? ''} />
      </div>
      ${this.wrong === undefined ? nothing : html`<p role="alert"><b>${this.wrong}</b></p>`}
      <div class="answers">
        <button type="button" @click=${() => (this.open = false)}>Leave it</button>
        <button class="first" type="submit" ?disabled=${this.sending}>
          ${this.sending ? 'On its way …' : 'Put it on record'}
        </button>
      </div>
    </form>`;
  }

  readonly #begin = (): void => {
    this.open = true;
    void this.updateComplete.then(() => this.renderRoot.querySelector('input')?.focus());
  };

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.sending) return;
    const fields = new FormData(event.target as HTMLFormElement);
    const text = (name: string): string => {
      const value = fields.get(name);
      return typeof value === 'string' ? value.trim() : '';
    };
    this.sending = true;
    const answer = await this.api.declareRates(declaredOf(text, this.rates));
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.open = false;
    this.wrong = undefined;
    this.dispatchEvent(new RatesDeclaredEvent());
  }
}

/** Rates are declared whole: those that this form does not ask for stay as they are. */
function declaredOf(text: (name: string) => string, before: RatesView | undefined): RatesDeclared {
  const date = text('date');
  return {
    currency: text('currency'),
    cutters: before?.cutters ?? [],
    ...(before?.cutterChange === undefined ? {} : { cutterChange: before.cutterChange }),
    spindleHour: {
      amount: Number(text('amount')),
      source: text('source'),
      ...(date === '' ? {} : { sourceDate: `${date}T00:00:00Z` }),
    },
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'rates-form': RatesForm;
  }
}
