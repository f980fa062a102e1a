// One plan: what it would leave, where on the face, how deep from the side, and the steps in the order of work.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AdvicePlan, AdviceStep, Predicted } from '../../shared/advice.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import { MAY_RECORD_CORRECTION } from '../../shared/rights.ts';
import type { SessionView } from '../../shared/session.ts';
import type { Api } from '../api.ts';
import { look, presses, tables } from '../look.ts';
import { FORETOLD_WORDS } from '../wording/advice-words.ts';
import { MISSING, amount, degrees, figure, unbalance, vector } from '../wording/figures.ts';
import type { PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import './end-view.ts';
import { planeGroups } from './plane-groups.ts';
import './record-correction.ts';
import './residual-rose.ts';
import './section-row.ts';
import { retell, say } from '../../shared/language/index.ts';
import { plainNumber } from './plain-number.ts';

@customElement('correction-plan')
export class CorrectionPlan extends LitElement {
  static override styles = [
    look,
    presses,
    tables,
    css`
      h3 {
        margin: 0.75rem 0 0.35rem;
      }
      .pictures {
        display: grid;
        grid-template-columns: minmax(0, 1.5fr) minmax(0, 1fr);
        gap: 0.5rem 1.5rem;
        align-items: start;
        margin-bottom: 0.75rem;
      }
      figure {
        margin: 0;
        break-inside: avoid;
      }
      figcaption {
        font-size: var(--small);
        font-weight: 600;
      }
      @media (max-width: 81rem) {
        .pictures {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @property({ attribute: false }) plan!: AdvicePlan;
  @property({ attribute: false }) assembly!: AssemblyView;
  @property({ attribute: false }) measurement!: MeasurementView;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) person: SessionView | undefined;

  override render() {
    const { plan } = this;
    return html`<h3>What it would leave</h3>
      ${this.#predictedTable()} ${plan.notes.map((note) => html`<p class="small">${asSentence(retell(note))}</p>`)}
      ${this.#searchWords()} ${planeGroups(plan.steps, this.measurement.planes).map((group) => this.#pictures(group))}
      <section-row .features=${this.assembly.features} .steps=${plan.steps}></section-row>
      ${this.#steps()} ${this.#record()}`;
  }

  #predictedTable() {
    const { whole, predicted } = this.plan;
    const rows = predicted.length > 1 ? [whole, ...predicted] : [whole];
    return html`<div class="scrolls" tabindex="0" role="group" aria-label="Predicted">
      <table>
        <thead>
          <tr>
            <th scope="col">Of</th>
            <th scope="col" class="number">Now</th>
            <th scope="col" class="number">Predicted ± its error</th>
            <th scope="col" class="number">Permissible</th>
            <th scope="col">In words</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map((row) => this.#predictedRow(row, row === whole))}
        </tbody>
      </table>
    </div>`;
  }

  #predictedRow(row: Predicted, whole: boolean) {
    const plane = this.measurement.planes.find(({ name }) => name === row.plane);
    const now = whole ? this.measurement.residualGmm : plane?.residualGmm;
    return html`<tr>
      <th scope="row">${whole ? say`the whole` : say`plane ${row.plane}`}</th>
      <td class="number">${unbalance(now)}</td>
      <td class="number">${amount(row.residualGmm, 'g.mm')} ± ${unbalance(row.errorGmm)}</td>
      <td class="number">${unbalance(row.permissibleGmm)}</td>
      <td>${FORETOLD_WORDS[row.verdict]}</td>
    </tr>`;
  }

  /** What a first answer is, its notes say; here stands what they cannot know: how much better it could get at best. */
  #searchWords() {
    const { search, leastPossibleGmm } = this.plan;
    if (search === 'exact')
      return html`<p class="soft small">
        No other settings within these limits leave less: all of them were searched.
      </p>`;
    if (leastPossibleGmm === undefined) return nothing;
    return html`<p class="soft small">
      No settings within these limits can leave less than ${unbalance(leastPossibleGmm)}.
    </p>`;
  }

  #pictures({ plane, steps, numbers }: ReturnType<typeof planeGroups>[number]) {
    const features = this.assembly.features.filter(({ featureId }) =>
      steps.some((step) => step.featureId === featureId),
    );
    const predicted = plane === undefined ? this.plan.whole : this.plan.predicted.find((one) => one.plane === plane);
    return html`<div class="pictures">
      <figure>
        <figcaption>${plane === undefined ? say`On the face` : say`On the face, plane ${plane}`}</figcaption>
        <end-view .features=${features} .steps=${steps} .numbers=${numbers} .plane=${plane}></end-view>
      </figure>
      <figure>
        <figcaption>Now, and predicted</figcaption>
        <residual-rose
          small
          .keyless=${true}
          .measurements=${[this.measurement]}
          .plane=${plane}
          .predicted=${predicted}
          .clock=${this.clock}
        ></residual-rose>
        <p class="soft small">
          Filled: measured. Cross: predicted, its disk the error of measuring and setting together. Circle: permissible.
        </p>
      </figure>
    </div>`;
  }

  #steps() {
    const { steps } = this.plan;
    const has = (field: 'diameterMm' | 'depthMm' | 'massG'): boolean => steps.some((step) => step[field] !== undefined);
    const columns = { drill: has('diameterMm'), depth: has('depthMm'), mass: has('massG') };
    return html`<h3>Steps, in this order</h3>
      <div class="scrolls" tabindex="0" role="group" aria-label="Steps">
        <table>
          <thead>
            <tr>
              <th scope="col">Step</th>
              <th scope="col">What to do</th>
              <th scope="col" class="number">Angle</th>
              ${columns.drill ? html`<th scope="col" class="number">Drill ⌀, mm</th>` : nothing}
              ${columns.depth ? html`<th scope="col" class="number">Depth, mm</th>` : nothing}
              ${columns.mass ? html`<th scope="col" class="number">Mass, g</th>` : nothing}
              <th scope="col" class="number">Changes</th>
            </tr>
          </thead>
          <tbody>
            ${steps.map((step, index) => this.#step(step, index, columns))}
          </tbody>
        </table>
      </div>
      <p class="soft small">${this.#moved(columns.depth)}</p>`;
  }

  #moved(depth: boolean): string {
    const { removedG, addedG } = this.plan;
    const words = [
      ...(removedG > 0 ? [say`Takes off ${figure(removedG)} g.`] : []),
      ...(addedG > 0 ? [say`Adds ${figure(addedG)} g.`] : []),
      ...(depth ? [say`Depth of a hole: its cylindrical part; the point of the drill comes on top.`] : []),
    ];
    return words.join(' ');
  }

  #step(step: AdviceStep, index: number, columns: { drill: boolean; depth: boolean; mass: boolean }) {
    const cell = (value: number | undefined) =>
      html`<td class="number">${value === undefined ? MISSING : plainNumber(value)}</td>`;
    return html`<tr>
      <th scope="row">${index + 1}</th>
      <td>
        ${asSentence(retell(step.words))}
        <span class="small soft"
          >${step.featureId}${step.plane === undefined ? nothing : html`, plane ${step.plane}`}</span
        >
      </td>
      <td class="number"><b>${degrees(step.angleDeg)}</b></td>
      ${columns.drill ? cell(step.diameterMm) : nothing} ${columns.depth ? cell(step.depthMm) : nothing}
      ${columns.mass ? cell(step.massG) : nothing}
      <td class="number">${vector(step.effect.gmm, step.effect.angleDeg)}</td>
    </tr>`;
  }

  #record() {
    if (this.person?.roles.some((role) => MAY_RECORD_CORRECTION.includes(role)) !== true) return nothing;
    return html`<record-correction
      class="not-printed"
      .plan=${this.plan}
      .assemblyId=${this.assembly.row.assemblyId}
      .buildId=${this.measurement.buildId}
      .features=${this.assembly.features}
      .api=${this.api}
    ></record-correction>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'correction-plan': CorrectionPlan;
  }
}
