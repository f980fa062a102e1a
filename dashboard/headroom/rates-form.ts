// Whoever answers for what an hour costs here declares it, with who says so: without it nothing is shown as money.
import { css, html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { RatesDeclared, RatesView } from '../../shared/headroom.ts';
import { StatementForm } from '../statement-form.ts';

export class RatesDeclaredEvent extends Event {
  constructor() {
    super('counterpoise-rates-declared', { bubbles: true, composed: true });
  }
}

@customElement('rates-form')
export class RatesForm extends StatementForm {
  static override styles = [
    ...StatementForm.styles,
    css`
      form {
        max-width: 30rem;
      }
    `,
  ];

  @property({ attribute: false }) rates: RatesView | undefined;

  override render() {
    if (!this.open)
      return html`<p>
        <button aria-expanded="false" @click=${this.begin}>Declare what a spindle hour costs here</button>
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
      ${this.answers('Put it on record', false)}
    </form>`;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const fields = new FormData(event.target as HTMLFormElement);
    const text = (name: string): string => {
      const value = fields.get(name);
      return typeof value === 'string' ? value.trim() : '';
    };
    const declared = declaredOf(text, this.rates);
    await this.sendOnce(() => this.api.declareRates(declared), new RatesDeclaredEvent());
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
