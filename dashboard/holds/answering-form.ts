// Whoever answers for how holds are answered declares it here: the levels in a table of fields, how many names a deviation needs, and why.
import { css, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { ANSWER_AFTER_MAX_MIN, DEVIATION_NAMES, ESCALATION_LEVELS_MAX } from '../../shared/answering-limits.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import { PRIORITIES, PRIORITY_WORDS, type Priority } from '../../shared/priority-words.ts';
import { ROLES, type Role } from '../../shared/rights.ts';
import { tables } from '../look.ts';
import { StatementForm } from '../statement-form.ts';
import { whole } from '../wording/figures.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import {
  declaredOf,
  draftOf,
  inOtherUnits,
  mayAddLevel,
  toldToNobody,
  withLevel,
  withMinutes,
  withoutLevel,
  withRole,
  type AnsweringDraft,
  type DraftLevel,
} from './answering-draft.ts';
import { levelsHead, levelsLook, NAMES_WORDS } from './answering-table.ts';
import { checkedNumber } from '../wording/number-field.ts';

const MINUTES = { least: 1, most: ANSWER_AFTER_MAX_MIN, whole: true } as const;

export class AnsweringDeclaredEvent extends Event {
  constructor() {
    super('counterpoise-answering-declared', { bubbles: true, composed: true });
  }
}

@customElement('answering-form')
export class AnsweringForm extends StatementForm {
  static override styles = [
    ...StatementForm.styles,
    tables,
    levelsLook,
    css`
      form {
        gap: 0.75rem;
        max-width: 64rem;
      }
      .answers button,
      .begin {
        min-height: var(--glove);
      }
      input.number {
        width: 5.25rem;
        text-align: right;
      }
      td .number {
        display: block;
        width: 5.25rem;
        padding-right: 0.6rem;
      }
      fieldset {
        border: 0;
        margin: 0;
        padding: 0;
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(8.25rem, 1fr));
        gap: 0 0.5rem;
      }
      fieldset label {
        display: inline-flex;
        align-items: center;
        gap: 0.5rem;
        min-height: var(--target);
        font-weight: 400;
      }
      input[type='checkbox'] {
        flex: none;
        width: 24px;
        min-height: 24px;
        accent-color: var(--ink);
      }
      tbody th {
        padding-top: 0.95rem;
      }
      td:has(fieldset) {
        width: 100%;
      }
      td button {
        white-space: nowrap;
      }
      select {
        max-width: 12rem;
      }
    `,
  ];

  @property({ attribute: false }) answering!: AnsweringView;
  @state() private draft: AnsweringDraft = { levels: [], deviationNames: 2 };

  override render() {
    if (!this.open)
      return html`<p>
        <button class="begin" aria-expanded="false" @click=${this.#begin}>Change who is told</button>
      </p>`;
    const { levels } = this.draft;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>Counts at once, for holds that are open already too:</b> shorter waits may tell people of them within
        seconds. A role is told by mail only where the service has an address for it, and by webhook where there is one.
      </p>
      <div class="scrolls">
        <table>
          <caption>
            In minutes, 1 to ${whole(ANSWER_AFTER_MAX_MIN)} (two weeks); each level waits longer than the one before it,
            in every column. At most ${ESCALATION_LEVELS_MAX} levels.
          </caption>
          ${levelsHead(true)}
          <tbody>
            ${levels.map((level, index) => this.#level(level, index))}
          </tbody>
        </table>
      </div>
      ${levels.length === 0 ? html`<p>No level: of a hold that nobody answers nobody else is told.</p>` : html``}
      <div>
        <button type="button" class="add" ?disabled=${!mayAddLevel(this.draft)} @click=${this.#add}>Add a level</button>
      </div>
      <div>
        <label for="names">A deviation needs</label>
        <select id="names" @change=${this.#onNames}>
          ${DEVIATION_NAMES.map((names) => html`<option value=${names} ?selected=${names === this.draft.deviationNames}>${NAMES_WORDS[names]}</option>`)}
        </select>
      </div>
      ${this.words(say`Why it is to be so`)} ${this.answers(say`Put it on record`, this.note.trim() === '')}
    </form>`;
  }

  #level({ afterMin, to }: DraftLevel, index: number): TemplateResult {
    const level = say`Level ${index + 1}`;
    return html`<tr>
      <th scope="row">${level}</th>
      ${PRIORITIES.map((priority) => html`<td>${this.#minutes(index, priority, afterMin[priority])}</td>`)}
      <td>
        <fieldset aria-label="${level}: who is told">
          ${ROLES.map(
            (role) =>
              html`<label>
                <input
                  type="checkbox"
                  .checked=${to.includes(role)}
                  @change=${(event: Event) => this.#onRole(index, role, event)}
                />
                ${ROLE_WORDS[role]}
              </label>`,
          )}
        </fieldset>
      </td>
      <td>
        <button type="button" aria-label="Take out level ${index + 1}" @click=${() => this.#takeOut(index)}>
          Take out
        </button>
      </td>
    </tr>`;
  }

  #minutes(index: number, priority: Priority, typed: string): TemplateResult {
    return html`<input
        class="number"
        inputmode="numeric"
        autocomplete="off"
        required
        aria-label="Level ${index + 1}, answer ${PRIORITY_WORDS[priority]}: minutes without one"
        .value=${typed}
        @input=${(event: Event) =>
          (this.draft = withMinutes(this.draft, index, priority, checkedNumber(event, MINUTES)))}
      /><span class="small soft number">${inOtherUnits(typed) ?? ''}</span>`;
  }

  readonly #begin = (): void => {
    this.draft = draftOf(this.answering);
    this.begin();
  };

  readonly #add = (): void => {
    this.draft = withLevel(this.draft);
    void this.updateComplete.then(() => this.#focus('tbody tr:last-child input'));
  };

  #takeOut(index: number): void {
    this.draft = withoutLevel(this.draft, index);
    void this.updateComplete.then(() => this.#focus('.add'));
  }

  #onRole(index: number, role: Role, event: Event): void {
    const told = (event.target as HTMLInputElement).checked;
    this.draft = withRole(this.draft, index, role, { told, roles: ROLES });
  }

  readonly #onNames = (event: Event): void => {
    const chosen = Number((event.target as HTMLSelectElement).value);
    const deviationNames = DEVIATION_NAMES.find((names) => names === chosen) ?? this.draft.deviationNames;
    this.draft = { ...this.draft, deviationNames };
  };

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const nobody = toldToNobody(this.draft);
    if (nobody >= 0) {
      this.wrong = say`Level ${nobody + 1} tells nobody: tick who is told, or take it out.`;
      this.#focus(`tbody tr:nth-child(${nobody + 1}) input[type='checkbox']`);
      return;
    }
    const declared = declaredOf(this.draft, this.note);
    await this.sendOnce(() => this.api.declareAnswering(declared), new AnsweringDeclaredEvent());
  }

  #focus(selector: string): void {
    this.renderRoot.querySelector<HTMLElement>(selector)?.focus();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'answering-form': AnsweringForm;
  }
}
