// Who is told when nobody answers a hold: everybody reads it, whoever answers for it changes it in place.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import { MAY_DECLARE_ANSWERING } from '../../shared/rights.ts';
import type { Api } from '../api.ts';
import { look, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import type { PlantClock } from '../wording/instants.ts';
import './answering-form.ts';
import { levelsInForce, levelsLook } from './answering-table.ts';

/** Another person may change it meanwhile; what a form begins with is no older than this. */
const ASK_AGAIN_MS = 60_000;

@customElement('answering-levels')
export class AnsweringLevels extends LitElement {
  static override styles = [
    look,
    tables,
    levelsLook,
    css`
      .scrolls {
        max-width: 58rem;
        margin-bottom: 0.75rem;
      }
      .how {
        max-width: 84ch;
        text-wrap: pretty;
      }
      answering-form {
        margin-top: 1rem;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ type: Boolean }) live = false;
  @property({ type: Boolean }) mayDeclare = false;
  readonly #answering = new PageData<AnsweringView>(this, () => this.api.answering());

  override willUpdate(): void {
    this.#answering.want('answering');
    if (this.live && this.#answering.mayAskAgain(ASK_AGAIN_MS)) void this.#answering.again();
  }

  override render() {
    const { value, state } = this.#answering;
    return html`<section aria-labelledby="answering">
      <h2 id="answering">Who is told when nobody answers</h2>
      <p class="how">
        Whoever is expected to answer a hold is told of it when it is raised. While nobody takes or checks it more
        people are told, level by level; so they are of a deviation that nobody confirms. Being told ends no hold. Time
        in which work is planned on the spindle does not count as waiting.
      </p>
      ${insteadOf(state, { what: say`who is told`, absent: html`` }) ?? nothing}
      ${value === undefined ? nothing : this.#body(value)}
    </section>`;
  }

  #body(value: AnsweringView) {
    return html`${levelsInForce(value, this.clock)}
    ${
      this.mayDeclare
        ? html`<answering-form
            class="not-printed"
            .api=${this.api}
            .answering=${value}
            @counterpoise-answering-declared=${() => void this.#answering.again()}
          ></answering-form>`
        : html`<p class="soft not-printed">
            Changed by: ${MAY_DECLARE_ANSWERING.map((role) => ROLE_WORDS[role]).join(say` or `)}.
          </p>`
    }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'answering-levels': AnsweringLevels;
  }
}
