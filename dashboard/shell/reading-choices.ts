// Units and the mark of numbers, as this reader wants them: a dialog from the top line, kept in this browser like the colours.
import { css, LitElement } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { chooseLanguage, chosenLanguage, LANGUAGES, nameOf } from '../language/begin.ts';
import { chosenDecimalMark, DECIMAL_MARKS, keepDecimalMark, type DecimalMarkChoice } from '../language/number-mark.ts';
import { look, presses } from '../look.ts';
import { topLineLook } from './top-line-look.ts';
import { chosenUnits, keepUnits, UNIT_CHOICES, UNIT_QUANTITIES, type UnitQuantity } from '../wording/units.ts';

const QUANTITY_NAMES: Readonly<Record<UnitQuantity, string>> = {
  velocity: say`Vibration velocity`,
  acceleration: say`Acceleration`,
  unbalance: say`Unbalance`,
  displacement: say`Displacement, eccentricity`,
  mass: say`Mass`,
};

/** A mass is told in the larger unit of the two where it is a tool's. */
const UNIT_PAIRS: Readonly<Record<string, string>> = { g: 'g, kg', oz: 'oz, lb' };

const MARK_NAMES: Readonly<Record<DecimalMarkChoice, string>> = {
  language: say`as the language has it`,
  comma: say`comma: 0,85`,
  point: say`point: 0.85`,
};

/** Of a field that holds text; none of these holds a file. */
function textIn(typed: FormData, name: string): string {
  const value = typed.get(name);
  return typeof value === 'string' ? value.trim() : '';
}

@customElement('counterpoise-reading-choices')
export class ReadingChoices extends LitElement {
  static override styles = [
    look,
    presses,
    topLineLook,
    css`
      :host {
        display: inline-block;
      }
      dialog {
        width: min(34rem, calc(100vw - 2rem));
        border: 2px solid var(--ink);
        border-radius: 0;
        padding: 1.25rem;
        background: var(--ground);
        color: var(--ink);
      }
      dialog::backdrop {
        background: color-mix(in srgb, var(--ink) 40%, transparent);
      }
      form {
        padding: 0;
      }
      .fields {
        display: grid;
        grid-template-columns: auto 1fr;
        align-items: center;
        gap: 0.5rem 1rem;
        margin: 1rem 0;
      }
      select {
        min-height: var(--target);
        width: 100%;
      }
      .answers {
        display: flex;
        flex-wrap: wrap;
        justify-content: flex-end;
        gap: 0.75rem;
      }
    `,
  ];

  @state() private shown = false;
  @query('dialog') private readonly dialog!: HTMLDialogElement | null;

  override render() {
    return html`<button class="quiet" aria-haspopup="dialog" @click=${this.#open}>Units</button>
      ${this.shown ? this.#dialog() : ''}`;
  }

  #dialog() {
    const units = chosenUnits();
    return html`<dialog aria-labelledby="title" @close=${() => (this.shown = false)}>
      <form method="dialog" @submit=${this.#take}>
        <h2 id="title">Units and language</h2>
        <p class="soft small">
          Kept in this browser. What is measured and kept on record stays as it was measured; sentences of the service
          name the unit that they were judged in. What is typed is in the unit that stands beside its field.
        </p>
        <div class="fields">
          <label for="language">Language</label>
          <select id="language" name="language">
            ${LANGUAGES.map((tag) => html`<option value=${tag} lang=${tag} ?selected=${tag === chosenLanguage()}>${nameOf(tag)}</option>`)}
          </select>
          <label for="mark">Decimal mark</label>
          <select id="mark" name="mark">
            ${DECIMAL_MARKS.map((mark) => html`<option value=${mark} ?selected=${mark === chosenDecimalMark()}>${MARK_NAMES[mark]}</option>`)}
          </select>
          ${UNIT_QUANTITIES.map(
            (quantity) =>
              html`<label for=${quantity}>${QUANTITY_NAMES[quantity]}</label>
                <select id=${quantity} name=${quantity}>
                  ${UNIT_CHOICES[quantity].map(
                    (unit) =>
                      html`<option value=${unit} ?selected=${unit === units[quantity]}>
                        ${(quantity === 'mass' ? UNIT_PAIRS[unit] : undefined) ?? unit}
                      </option>`,
                  )}
                </select>`,
          )}
        </div>
        <div class="answers">
          <button type="button" @click=${() => this.dialog?.close()}>Leave it</button>
          <button class="first" type="submit">Show it so</button>
        </div>
      </form>
    </dialog>`;
  }

  readonly #open = (): void => {
    this.shown = true;
    void this.updateComplete.then(() => this.dialog?.showModal());
  };

  readonly #take = (event: SubmitEvent): void => {
    event.preventDefault();
    const typed = new FormData(event.target as HTMLFormElement);
    const of = (name: string): string => textIn(typed, name);
    const mark = DECIMAL_MARKS.find((one) => one === of('mark')) ?? 'language';
    keepDecimalMark(mark);
    const units = UNIT_QUANTITIES.map((quantity) => [quantity, of(quantity)] as const);
    keepUnits({ ...chosenUnits(), ...Object.fromEntries(units) });
    // Words and units stand in tables that are made once: the page begins anew, at the same address.
    chooseLanguage(of('language'));
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'counterpoise-reading-choices': ReadingChoices;
  }
}
