// What would correct this assembly: whose limits and which cautions first, then the ranked plans, then what stands in the way of others.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { Advice, AdvicePlan } from '../../shared/advice.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import type { SessionView } from '../../shared/session.ts';
import type { Api } from '../api.ts';
import { look, presses } from '../look.ts';
import type { PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import './correction-plan.ts';
import { retell, say } from '../../shared/language/index.ts';

@customElement('correction-advice')
export class CorrectionAdvice extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      .sentence {
        font-size: var(--large);
      }
      .first {
        border-left: 3px solid var(--ink);
        padding: 0.1rem 0 0.1rem 1rem;
        margin: 0.75rem 0 1rem;
        font-size: var(--small);
      }
      .first p {
        max-width: none;
      }
      h3 {
        margin-top: 1rem;
      }
      .first ul,
      .refusals {
        margin: 0.25rem 0 0;
        padding-left: 1.1rem;
      }
      .plans {
        display: grid;
        grid-template-columns: minmax(15rem, 21rem) minmax(0, 1fr);
        gap: 1rem 2rem;
        align-items: start;
      }
      ol {
        list-style: none;
        margin: 0;
        padding: 0;
        display: grid;
        gap: 0.5rem;
      }
      ol button {
        width: 100%;
        display: block;
        text-align: left;
        padding: 0.6rem 0.8rem;
        border-width: 1.5px;
      }
      ol button[aria-pressed='true'] {
        border-color: var(--ink);
        border-width: 3px;
        padding: calc(0.6rem - 1.5px) calc(0.8rem - 1.5px);
      }
      ol span {
        display: block;
      }
      @media (max-width: 62rem) {
        .plans {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @property({ attribute: false }) advice!: Advice;
  @property({ attribute: false }) assembly!: AssemblyView;
  @property({ attribute: false }) measurement!: MeasurementView;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) person: SessionView | undefined;
  @state() private chosen: string | undefined;

  /** What is looked at stays, even when advice that is told anew has another one first: nothing jumps under a hand. */
  override willUpdate(): void {
    const { plans } = this.advice;
    if (!plans.some(({ planId }) => planId === this.chosen)) this.chosen = plans[0]?.planId;
  }

  override render() {
    const { needed, sentence, plans } = this.advice;
    const plan = plans.find(({ planId }) => planId === this.chosen) ?? plans[0];
    const doubted = !needed && this.assembly.row.standing !== 'in-family';
    return html`<p class=${needed ? 'sentence' : ''}>${asSentence(this.#sentence(sentence))}</p>
      ${doubted ? html`<p>That is by what was measured; what speaks against it now stands at the head of this page.</p>` : nothing}
      ${plan === undefined ? this.#refusals() : html`${this.#first()} ${this.#plans(plans, plan)}`}`;
  }

  /** It begins with the best plan's title, which is a sentence of its own. */
  #sentence(sentence: string): string {
    const title = this.advice.plans[0]?.title;
    if (title === undefined || !sentence.startsWith(`${title}: `)) return retell(sentence);
    return `${titleWords(title)}: ${retell(sentence.slice(title.length + 2))}`;
  }

  /** Above everything that tempts to take up a drill. */
  #first() {
    const { limitsOf, cautions } = this.advice;
    return html`<div class="first" role="group" aria-label="Before anything is done">
      <p>
        <b>The holder maker’s limits come first.</b>
        ${limitsOf.map(({ featureId, source }) => html`<span>${featureId}: ${source ?? say`nobody is named who permits this: ask the holder’s maker`}. </span>`)}
      </p>
      <ul>
        ${cautions.map((caution) => html`<li>${retell(caution)}</li>`)}
      </ul>
    </div>`;
  }

  #plans(plans: readonly AdvicePlan[], chosen: AdvicePlan) {
    return html`<div class="plans">
      <div>
        <h3 class="only-heard">Plans, best first</h3>
        <ol>
          ${plans.map((plan, index) => this.#choice(plan, index, plan === chosen))}
        </ol>
        ${this.#refusals()}
      </div>
      <correction-plan
        .plan=${chosen}
        .assembly=${this.assembly}
        .measurement=${this.measurement}
        .clock=${this.clock}
        .api=${this.api}
        .person=${this.person}
      ></correction-plan>
    </div>`;
  }

  #choice(plan: AdvicePlan, index: number, chosen: boolean) {
    return html`<li>
      <button aria-pressed=${chosen ? 'true' : 'false'} @click=${() => (this.chosen = plan.planId)}>
        <span><b>${index + 1}. ${asSentence(titleWords(plan.title)).replace(/\.$/, '')}</b></span>
        <span class="small">${asSentence(retell(plan.because))}</span>
      </button>
    </li>`;
  }

  #refusals() {
    const { refusals } = this.advice;
    if (refusals.length === 0) return nothing;
    return html`<h3>What is not feasible, and why</h3>
      <ul class="refusals small">
        ${refusals.map(
          ({ method, featureIds, why, wouldNeed }) =>
            html`<li>
              <b>${retell(method)}${featureIds.length > 0 ? html` (${featureIds.join(', ')})` : nothing}:</b>
              ${retell(why)}. <i>It would be with:</i> ${retell(wouldNeed)}.
            </li>`,
        )}
      </ul>`;
  }
}

/** What is done in each plane is told by itself. */
const titleWords = (title: string): string => title.split('; ').map(retell).join('; ');

declare global {
  interface HTMLElementTagNameMap {
    'correction-advice': CorrectionAdvice;
  }
}
