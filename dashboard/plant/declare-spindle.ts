// A spindle that nobody has declared yet gets its machine and cell; what is declared already is changed elsewhere, limit by limit.
import { css, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import type { Answer } from '../api.ts';
import { html } from '../language/html.ts';
import { NOT_FOUND } from '../page-data.ts';
import { StatementForm } from '../statement-form.ts';
import { BelongingEvent } from './connect-guide.ts';
import { declareSpindle } from './plant-asks.ts';

/** Of a field that holds text; none of these holds a file. */
function textIn(typed: FormData, name: string): string {
  const value = typed.get(name);
  return typeof value === 'string' ? value.trim() : '';
}

@customElement('declare-spindle')
export class DeclareSpindle extends StatementForm {
  static override styles = [
    ...StatementForm.styles,
    css`
      .fields {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(12rem, 1fr));
        gap: 0.75rem;
      }
    `,
  ];

  /** Offered for choice: those that were heard of and that nobody declared. */
  @property({ attribute: false }) undeclared: readonly string[] = [];

  override render() {
    if (!this.open)
      return html`<p class="not-printed">
        <button aria-expanded="false" @click=${this.begin}>Declare a spindle</button>
      </p>`;
    return html`<form class="not-printed" @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>Which machine it belongs to, on your name.</b> Take the maximum from the machine maker’s own sheet; it
        governs. Its limits are entered at Limits, with their source.
      </p>
      <div class="fields">
        ${this.#field('spindle', say`Spindle`, { pattern: '[A-Za-z0-9\\-]{1,40}', list: 'undeclared' })}
        ${this.#field('machine', say`Machine`, { maxlength: 80 })} ${this.#field('cell', say`Cell`, { maxlength: 40 })}
        ${this.#field('interface', say`Interface, if known`, { maxlength: 40, optional: true })}
        ${this.#field('maximum', say`Maximum speed of the maker, rpm, if known`, { pattern: '[1-9][0-9]{0,5}', optional: true })}
      </div>
      <datalist id="undeclared">${this.undeclared.map((id) => html`<option value=${id}></option>`)}</datalist>
      ${this.answers(say`Confirm: declare the spindle`, false)}
    </form>`;
  }

  #field(
    id: string,
    label: string,
    {
      pattern,
      maxlength = 40,
      list,
      optional = false,
    }: { pattern?: string; maxlength?: number; list?: string; optional?: boolean },
  ) {
    return html`<div>
      <label for=${id}>${label}</label>
      <input
        id=${id}
        name=${id}
        autocomplete="off"
        maxlength=${maxlength}
        pattern=${pattern ?? nothing}
        list=${list ?? nothing}
        ?required=${!optional}
      />
    </div>`;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const typed = new FormData(event.target as HTMLFormElement);
    const read = (name: string): string => textIn(typed, name);
    const [spindleId, kind, maximum] = [read('spindle'), read('interface'), read('maximum')];
    const declared = {
      machine: read('machine'),
      cell: read('cell'),
      limits: [],
      ...(kind === '' ? {} : { interface: kind }),
      ...(maximum === '' ? {} : { maxSpeedRpm: Number(maximum) }),
    };
    await this.sendOnce(() => this.#declare(spindleId, declared), new BelongingEvent());
  }

  /** A declaration replaces the one before, limits and all: so only where there is none. */
  async #declare(spindleId: string, declared: object): Promise<Answer<unknown>> {
    const known = await this.api.spindle(spindleId);
    const isNew =
      known.kind === 'answer'
        ? known.value.declared === undefined
        : known.kind === 'problem' && known.status === NOT_FOUND;
    if (isNew) return declareSpindle(this.api, spindleId, declared);
    if (known.kind !== 'answer') return known;
    const title = say`${spindleId} is declared already: what is declared of it would be lost.`;
    return { kind: 'problem', status: 409, problem: { type: 'about:blank', title } };
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'declare-spindle': DeclareSpindle;
  }
}
