// Whoever answers for what things cost here declares it, with who says so: an hour, a change of cutter, each kind of cutter. Without it
// nothing is shown as money.
import { css, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { RatesView } from '../../shared/headroom.ts';
import { say } from '../../shared/language/index.ts';
import {
  CURRENCY_CHARACTERS_MAX,
  CUTTER_CHANGE_MAX_MIN,
  CUTTER_NAME_CHARACTERS_MAX,
  CUTTER_RATES_MAX,
  RATE_AMOUNT_MAX,
  RATE_SOURCE_CHARACTERS_MAX,
} from '../../shared/rates-limits.ts';
import { tables } from '../look.ts';
import { StatementForm } from '../statement-form.ts';
import {
  declaredOf,
  draftOf,
  standsTwice,
  unpriced,
  withCutter,
  withCutterChanged,
  withoutCutter,
  type DraftCutter,
  type DraftRate,
  type RatesDraft,
} from './rates-draft.ts';
import { checkedNumber } from '../wording/number-field.ts';

export class RatesDeclaredEvent extends Event {
  constructor() {
    super('counterpoise-rates-declared', { bubbles: true, composed: true });
  }
}

const typed = (event: Event): string => (event.target as HTMLInputElement).value;

@customElement('rates-form')
export class RatesForm extends StatementForm {
  static override styles = [
    ...StatementForm.styles,
    tables,
    css`
      form {
        gap: 0.75rem;
        max-width: 60rem;
      }
      fieldset {
        border: 0;
        margin: 0;
        padding: 0;
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(11rem, 1fr));
        align-items: end;
        gap: 0.5rem 0.75rem;
      }
      td input {
        min-width: 7rem;
      }
      td:first-child input {
        min-width: 13rem;
      }
      /* Room for the ring of what has the focus. */
      .scrolls {
        padding: 4px;
        margin: -4px;
      }
      .short input {
        max-width: 11rem;
      }
      input.number {
        text-align: right;
      }
      td button {
        white-space: nowrap;
      }
    `,
  ];

  @property({ attribute: false }) rates: RatesView | undefined;
  /** Kinds of cutter that lives were told of. */
  @property({ attribute: false }) known: readonly string[] = [];
  @state() private draft: RatesDraft = draftOf(undefined);

  override render() {
    if (!this.open)
      return html`<p>
        <button aria-expanded="false" @click=${this.#begin}>
          ${this.rates === undefined ? say`Declare what a spindle hour costs here` : say`Change what things cost here`}
        </button>
      </p>`;
    const { currency, spindleHour, cutterChange, cutters } = this.draft;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <div class="short">
        <label for="currency">Currency, as it is written behind an amount</label>
        <input
          id="currency"
          maxlength=${CURRENCY_CHARACTERS_MAX}
          required
          .value=${currency}
          @input=${(event: Event) => (this.draft = { ...this.draft, currency: typed(event) })}
        />
      </div>
      <fieldset aria-label="A spindle hour">
        ${this.#rate(
          spindleHour,
          {
            id: 'hour',
            amount: say`A spindle hour costs`,
            source: say`Who says so`,
            date: say`As of`,
            max: RATE_AMOUNT_MAX,
            needed: cutters.length === 0,
          },
          (change) => (this.draft = { ...this.draft, spindleHour: { ...spindleHour, ...change } }),
        )}
      </fieldset>
      ${this.#cutters(cutters)}
      <fieldset aria-label="A change of cutter">
        ${this.#rate(
          cutterChange,
          {
            id: 'change',
            amount: say`A change of cutter takes, min`,
            source: say`Who says how long`,
            date: say`As of, for the change`,
            max: CUTTER_CHANGE_MAX_MIN,
            needed: false,
          },
          (change) => (this.draft = { ...this.draft, cutterChange: { ...cutterChange, ...change } }),
        )}
      </fieldset>
      ${this.answers(say`Put it on record`, false)}
    </form>`;
  }

  /** Three fields that belong together: left empty together, or the first two filled. */
  #rate(
    { amount, source, date }: DraftRate,
    words: { id: string; amount: string; source: string; date: string; max: number; needed: boolean },
    changed: (change: Partial<DraftRate>) => void,
  ): TemplateResult {
    const { id, max, needed } = words;
    return html`<div>
        <label for="${id}-amount">${words.amount}</label>
        <input
          id="${id}-amount"
          class="number"
          inputmode="decimal"
          autocomplete="off"
          ?required=${needed || source.trim() !== ''}
          .value=${amount}
          @input=${(event: Event) => changed({ amount: checkedNumber(event, { least: 0, most: max }) })}
        />
      </div>
      <div>
        <label for="${id}-source">${words.source}</label>
        <input
          id="${id}-source"
          maxlength=${RATE_SOURCE_CHARACTERS_MAX}
          ?required=${needed || amount !== ''}
          .value=${source}
          @input=${(event: Event) => changed({ source: typed(event) })}
        />
      </div>
      <div>
        <label for="${id}-date">${words.date}</label>
        <input id="${id}-date" type="date" .value=${date} @input=${(event: Event) => changed({ date: typed(event) })} />
      </div>`;
  }

  #cutters(cutters: readonly DraftCutter[]): TemplateResult {
    return html`${
        cutters.length === 0
          ? html`<p>No cutter has a price of its own.</p>`
          : html`<div class="scrolls">
              <table>
                <caption>
                  What a cutter costs, by the name that builds give the part. At most ${CUTTER_RATES_MAX} kinds.
                </caption>
                <thead>
                  <tr>
                    <th scope="col">Cutter</th>
                    <th scope="col" class="number">Price</th>
                    <th scope="col">Who says so</th>
                    <th scope="col">As of</th>
                    <th scope="col"><span class="only-heard">Take out</span></th>
                  </tr>
                </thead>
                <tbody>
                  ${cutters.map((one, index) => this.#cutter(one, index))}
                </tbody>
              </table>
            </div>`
      }
      <datalist id="known">
        ${unpriced(this.draft, this.known).map((cutter) => html`<option value=${cutter}></option>`)}
      </datalist>
      <div>
        <button type="button" class="add" ?disabled=${cutters.length >= CUTTER_RATES_MAX} @click=${this.#add}>
          Add a cutter
        </button>
      </div>`;
  }

  #cutter({ cutter, amount, source, date }: DraftCutter, index: number): TemplateResult {
    const row = `${say`Cutter`} ${index + 1}`;
    const changed = (change: Partial<DraftCutter>): void => {
      this.draft = withCutterChanged(this.draft, index, change);
    };
    return html`<tr>
      <td>
        <input
          aria-label="${row}: name of the part"
          list="known"
          maxlength=${CUTTER_NAME_CHARACTERS_MAX}
          autocomplete="off"
          required
          .value=${cutter}
          @input=${(event: Event) => changed({ cutter: typed(event) })}
        />
      </td>
      <td>
        <input
          aria-label="${row}: price"
          class="number"
          inputmode="decimal"
          autocomplete="off"
          required
          .value=${amount}
          @input=${(event: Event) => changed({ amount: checkedNumber(event, { least: 0, most: RATE_AMOUNT_MAX }) })}
        />
      </td>
      <td>
        <input
          aria-label="${row}: who says so"
          maxlength=${RATE_SOURCE_CHARACTERS_MAX}
          required
          .value=${source}
          @input=${(event: Event) => changed({ source: typed(event) })}
        />
      </td>
      <td>
        <input
          aria-label="${row}: as of"
          type="date"
          .value=${date}
          @input=${(event: Event) => changed({ date: typed(event) })}
        />
      </td>
      <td>
        <button type="button" aria-label="Take out cutter ${index + 1}" @click=${() => this.#takeOut(index)}>
          Take out
        </button>
      </td>
    </tr>`;
  }

  readonly #begin = (): void => {
    this.draft = draftOf(this.rates);
    this.begin();
  };

  readonly #add = (): void => {
    this.draft = withCutter(this.draft);
    void this.updateComplete.then(() => this.#focus('tbody tr:last-child input'));
  };

  #takeOut(index: number): void {
    this.draft = withoutCutter(this.draft, index);
    void this.updateComplete.then(() => this.#focus('.add'));
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const twice = standsTwice(this.draft);
    if (twice >= 0) {
      this.wrong = say`${this.draft.cutters[twice]?.cutter.trim() ?? ''} stands twice: one price counts, take the other out.`;
      this.#focus(`tbody tr:nth-child(${twice + 1}) input`);
      return;
    }
    const declared = declaredOf(this.draft);
    await this.sendOnce(() => this.api.declareRates(declared), new RatesDeclaredEvent());
  }

  #focus(selector: string): void {
    this.renderRoot.querySelector<HTMLElement>(selector)?.focus();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'rates-form': RatesForm;
  }
}
