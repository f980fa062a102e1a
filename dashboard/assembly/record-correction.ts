// What was done goes on record: the plan's steps as they were really set, each editable, confirmed by a second press elsewhere.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AdvicePlan } from '../../shared/advice.ts';
import type { Correction, CorrectionFeature } from '../../shared/messages/index.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses, tables } from '../look.ts';
import { openedForm } from '../opened-form.ts';
import { beyondLimits, type Beyond } from '../../shared/correction/index.ts';
import { METHOD_WORDS } from '../../shared/method-words.ts';
import { doneStep, doneSteps, FIELDS, fieldsOf, FIELD_WORDS, type DoneField, type DoneStep } from './done-steps.ts';
import { say } from '../../shared/language/index.ts';
import { asTyped } from '../wording/typed-number.ts';

const NOTE_CHARACTERS_MAX = 200;

export class CorrectedEvent extends Event {
  constructor() {
    super('counterpoise-corrected', { bubbles: true, composed: true });
  }
}

@customElement('record-correction')
export class RecordCorrection extends LitElement {
  static override styles = [
    look,
    presses,
    tables,
    openedForm,
    css`
      form {
        margin-top: 0.75rem;
      }
      td input:not([type='checkbox']) {
        width: 6.5rem;
        text-align: right;
      }
      .done {
        display: inline-flex;
        align-items: center;
        gap: 0.5rem;
        min-height: var(--target);
        min-width: var(--target);
        font-weight: 400;
      }
      input[type='checkbox'] {
        width: 24px;
        min-height: 24px;
        accent-color: var(--ink);
      }
      .answers {
        justify-content: flex-end;
        margin-top: 0.75rem;
      }
      .wrong,
      td .beyond {
        font-weight: 600;
      }
      .wrong {
        margin: 0.5rem 0 0;
      }
      td .beyond {
        display: block;
        max-width: 14rem;
        margin-left: auto;
        text-align: right;
        white-space: normal;
        text-wrap: balance;
      }
      div.beyond {
        border: 2px solid var(--ochre);
        padding: 0.5rem 0.9rem 0.25rem;
        margin-top: 0.75rem;
      }
      input[aria-describedby] {
        border-color: var(--ochre);
        border-width: 2.5px;
      }
    `,
  ];

  @property({ attribute: false }) plan!: AdvicePlan;
  @property({ attribute: false }) assemblyId = '';
  @property({ attribute: false }) buildId = '';
  @property({ attribute: false }) features: readonly CorrectionFeature[] = [];
  @property({ attribute: false }) api!: Api;
  /** Undefined while nobody is recording. */
  @state() private rows: readonly DoneStep[] | undefined;
  @state() private of: string | undefined;
  @state() private note = '';
  /** That what lies beyond the limits was really done so. */
  @state() private reallySo = false;
  @state() private wrong: string | undefined;
  @state() private sending = false;

  override willUpdate(): void {
    // Another plan was chosen: what was typed belongs to the one before.
    if (this.of !== undefined && this.of !== this.plan.planId) this.#close();
  }

  override render() {
    if (this.rows === undefined)
      return html`<p><button aria-expanded="false" @click=${this.#open}>Record what was done</button></p>`;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p><b>As it was really set</b>, not as it was advised: the next advice learns from the difference.</p>
      <div class="scrolls" tabindex="0" role="group" aria-label="What was done">
        <table>
          <thead>
            <tr>
              <th scope="col">Step</th>
              ${this.#fields().map((field) => html`<th scope="col" class="number">${FIELD_WORDS[field]}</th>`)}
            </tr>
          </thead>
          <tbody>
            ${this.rows.map((row, index) => this.#row(row, index))}
          </tbody>
        </table>
      </div>
      <label for="note">Note, where there is something to say</label>
      <input id="note" maxlength=${NOTE_CHARACTERS_MAX} .value=${this.note} @input=${this.#onNote} />
      ${this.#beyond().length === 0 ? nothing : this.#beyondWords()}
      ${this.wrong === undefined ? nothing : html`<p class="wrong" role="alert">${this.wrong}</p>`}
      <div class="answers">
        <button type="button" @click=${this.#close}>Leave it</button>
        <button class="first" type="submit" ?disabled=${this.sending}>
          ${this.sending ? say`On its way …` : say`Confirm: this was done`}
        </button>
      </div>
    </form>`;
  }

  #fields(): readonly DoneField[] {
    return FIELDS.filter((field) => this.rows?.some((row) => fieldsOf(row.step).includes(field)));
  }

  #beyond(rows: readonly DoneStep[] = this.rows ?? []): Beyond[] {
    return rows.flatMap((row) => {
      const read = row.done ? doneStep(row) : undefined;
      if (read?.kind !== 'read') return [];
      const feature = this.features.find(({ featureId }) => featureId === read.step.featureId);
      return feature === undefined ? [] : beyondLimits(feature, read.step);
    });
  }

  #beyondWords() {
    return html`<div class="beyond" role="status">
      <p>
        What is typed goes beyond what its place permits. Whether it may still be used is for the holder’s maker or a
        qualified person to say.
      </p>
      <label class="done">
        <input type="checkbox" .checked=${this.reallySo} @change=${this.#onReallySo} />
        <b>It was really done so</b>
      </label>
    </div>`;
  }

  #row(row: DoneStep, index: number) {
    const beyond = this.#beyond([row]);
    const { kind, ring } = row.step;
    const words = say`Step ${index + 1}, ${ring === undefined ? METHOD_WORDS[kind] : `${METHOD_WORDS[kind]} ${ring}`}`;
    return html`<tr>
      <td>
        <label class="done">
          <input type="checkbox" .checked=${row.done} @change=${() => this.#change(index, { done: !row.done })} />
          ${words}
        </label>
      </td>
      ${this.#fields().map((field) => {
        if (!fieldsOf(row.step).includes(field)) return html`<td></td>`;
        const passed = beyond.find((one) => one.field === field);
        const id = `beyond-${index}-${field}`;
        return html`<td class="number">
          <input
            inputmode="decimal"
            aria-label=${`${words}: ${FIELD_WORDS[field]}`}
            aria-describedby=${passed === undefined ? nothing : id}
            .value=${row.typed[field] ?? ''}
            ?disabled=${!row.done}
            @input=${(event: InputEvent) => this.#type(index, field, (event.target as HTMLInputElement).value)}
          />
          ${passed === undefined ? nothing : html`<span class="small beyond" id=${id}>${passed.words}</span>`}
        </td>`;
      })}
    </tr>`;
  }

  readonly #open = (): void => {
    this.of = this.plan.planId;
    this.rows = this.plan.steps.map((step) => ({
      step,
      done: true,
      typed: Object.fromEntries(fieldsOf(step).map((field) => [field, asTyped(step[field] ?? 0)])),
    }));
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('td input')?.focus());
  };

  readonly #close = (): void => {
    this.rows = undefined;
    this.of = undefined;
    this.wrong = undefined;
    this.reallySo = false;
    this.note = '';
  };

  readonly #onReallySo = (): void => {
    this.reallySo = !this.reallySo;
    this.wrong = undefined;
  };

  readonly #onNote = (event: InputEvent): void => {
    this.note = (event.target as HTMLInputElement).value;
  };

  #type(index: number, field: DoneField, text: string): void {
    const row = this.rows?.[index];
    if (row !== undefined) this.#change(index, { typed: { ...row.typed, [field]: text } });
  }

  #change(index: number, change: Partial<DoneStep>): void {
    // What was confirmed was about the numbers before.
    this.reallySo = false;
    this.rows = this.rows?.map((row, i) => (i === index ? { ...row, ...change } : row));
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.sending || this.rows === undefined) return;
    const read = doneSteps(this.rows);
    if (read.kind === 'wrong') {
      this.wrong = read.why;
      return;
    }
    if (this.#beyond().length > 0 && !this.reallySo) {
      this.wrong = say`Tick that it was really done so, or mend the numbers.`;
      return;
    }
    const note = this.note.trim();
    const { planId } = this.plan;
    const correction: Correction = {
      assemblyId: this.assemblyId,
      buildId: this.buildId,
      planId,
      steps: read.steps,
      ...(note === '' ? {} : { note }),
    };
    this.sending = true;
    const answer = await this.api.recordCorrection(correction);
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.#close();
    this.dispatchEvent(new CorrectedEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'record-correction': RecordCorrection;
  }
}
