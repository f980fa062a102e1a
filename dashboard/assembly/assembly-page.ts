// Assembly: what is its balance, up to what speed, what would correct it, and what was done so far.
import { nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { Advice } from '../../shared/advice.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import type { HoldView } from '../../shared/views.ts';
import type { Answer } from '../api.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { benchSigns } from '../feed-signs.ts';
import { look, presses, tables } from '../look.ts';
import { NOT_FOUND, PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import type { Route } from '../router.ts';
import { holdLines } from '../spindle/spindle-parts.ts';
import { subjectLook } from '../subject-look.ts';
import { moment } from '../wording/instants.ts';
import { assemblyAsWritten } from './as-written.ts';
import { assemblyHead } from './assembly-head.ts';
import { assemblyLook, featuresTable, loadsTable, partsTable } from './assembly-parts.ts';
import './balance-pictures.ts';
import './correction-advice.ts';
import { historyTable } from './history-table.ts';
import { uncheckedCorrection } from './history-rows.ts';
import { ofBuild } from './rose-shape.ts';
import { stairCells } from './speed-stair.ts';
import { tellsAnOlder, whyNoneCounts } from './what-counts.ts';
import { retell, say } from '../../shared/language/index.ts';
import '../saving/save-picture.ts';

const ASK_AGAIN_LEAST_MS = 4000;
const HISTORY_ROWS_AT_ONCE = 12;
const ASK_FOR_PROOF_MS = 5000;
const PROOFS_ASKED_MAX = 6;

@customElement('assembly-page')
export class AssemblyPage extends Page {
  static override styles = [look, tables, presses, markLook, subjectLook, assemblyLook];

  @property({ attribute: false }) replace!: (route: Route) => void;
  @state() private historyMax = HISTORY_ROWS_AT_ONCE;
  readonly #assembly = new PageData<AssemblyView>(this, () => this.#ask());
  readonly #advice = new PageData<Advice>(this, () => this.api.advice(this.#id, this.#measured().at(-1)?.position));
  #seen = '';
  #advised = '';
  #proofsAsked = 0;

  get #id(): string {
    return this.route.page === 'assembly' ? this.route.assemblyId : '';
  }

  async #ask(): Promise<Answer<AssemblyView>> {
    const typed = this.#id;
    const answer = await this.api.assembly(typed);
    if (answer.kind !== 'problem' || answer.status !== NOT_FOUND) return answer;
    const assemblyId = await assemblyAsWritten(this.api, typed);
    if (assemblyId === undefined || typed !== this.#id) return answer;
    this.replace({ page: 'assembly', assemblyId });
    return this.api.assembly(assemblyId);
  }

  override willUpdate(): void {
    this.#assembly.want(this.#id);
    this.#askAdvice();
    const signs = this.#signs();
    if (signs === this.#seen || !this.#assembly.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#seen = signs;
    void this.#assembly.again();
  }

  /** Advice is about the newest measurement of the build in force, and is asked for anew when there is another one. */
  #askAdvice(): void {
    const newest = this.#measured().at(-1);
    if (newest === undefined) return;
    const key = `${this.#id} ${newest.position} ${this.#assembly.value?.features.length ?? 0}`;
    if (key === this.#advised) {
      this.#askForProof();
      return;
    }
    this.#advised = key;
    this.#proofsAsked = 0;
    this.#advice.want(key, this.#advice.value !== undefined);
  }

  /** A first answer is searched on behind the question: a few times it is asked whether it is proven meanwhile. */
  #askForProof(): void {
    const open = this.#advice.value?.plans.some(({ search }) => search === 'first-answer') ?? false;
    if (!open || this.#proofsAsked >= PROOFS_ASKED_MAX || !this.#advice.mayAskAgain(ASK_FOR_PROOF_MS)) return;
    this.#proofsAsked += 1;
    void this.#advice.again();
  }

  /** What is told about an assembly changes with its holds, with where it is loaded, and with what its bench sends. */
  #signs(): string {
    const { picture } = this;
    if (picture === undefined) return '';
    const loaded = [...picture.spindles.values()]
      .filter((row) => row.loaded?.assemblyId === this.#id)
      .map((row) => row.spindleId);
    const holds = [...picture.holds.values()]
      .filter((hold) => hold.subject.id === this.#id)
      .map((hold) => `${hold.holdId} ${hold.state}`);
    return [...loaded, ...holds, benchSigns(picture)].join(' ');
  }

  #measured(): MeasurementView[] {
    const assembly = this.#assembly.value;
    return assembly === undefined ? [] : ofBuild(assembly.measurements, assembly.row.buildId);
  }

  override render() {
    const instead = insteadOf(this.#assembly.state, { what: say`assembly ${this.#id}`, absent: this.#absent() });
    const assembly = this.#assembly.value;
    if (assembly === undefined)
      return html`<h1>Assembly ${this.#id}</h1>
        ${instead ?? nothing}`;
    return html`
      ${assemblyHead(assembly, this.clock, this.person)} ${this.oldWords(this.#assembly.state)}
      ${holdLines(assembly.holds, this.clock, (hold) => this.#besides(hold, assembly))} ${this.#measureAgain(assembly)}
      <div class="columns">
        <section aria-labelledby="rose">
          <h2 id="rose">Residual unbalance of this build</h2>
          <balance-pictures
            .assembly=${assembly}
            .measurements=${this.#measured()}
            .clock=${this.clock}
            .choices=${this.choices}
          ></balance-pictures>
        </section>
        <div>
          <section aria-labelledby="stair">
            <h2 id="stair">How fast, by which limit</h2>
            <speed-stair
              .steps=${assembly.speedStair}
              .serviceSpeedRpm=${assembly.row.serviceSpeedRpm}
              .noneCounts=${whyNoneCounts(assembly)}
            ></speed-stair>
            <save-picture
              .name=${say`How fast, by which limit: ${assembly.row.assemblyId}`}
              .cells=${stairCells(assembly.speedStair)}
            ></save-picture>
            ${this.#cautions(assembly.cautions)}
          </section>
          ${partsTable(assembly)}
        </div>
      </div>
      ${this.#work(assembly)} ${this.#history(assembly)}
      <div class="columns">${featuresTable(assembly.features)} ${loadsTable(assembly.loads, this.clock)}</div>
    `;
  }

  #besides(hold: HoldView, assembly: AssemblyView): string | undefined {
    if (!tellsAnOlder(hold, assembly)) return undefined;
    return say`As measured when it was raised, ${moment(hold.raisedAt, this.clock)}; it has been measured since.`;
  }

  #absent() {
    return html`<p>
      No assembly is known by this id, and no spindle or hold either. Was it built under another id?
      <a href="/assemblies">All assemblies</a>
    </p>`;
  }

  /** Between a correction and the next measurement nothing that is shown here is true of the assembly any more. */
  #measureAgain({ corrections, row }: AssemblyView) {
    const correction = uncheckedCorrection(corrections, row.buildId);
    if (correction === undefined) return nothing;
    return html`<p class="again" role="status">
      ${mark('watch', { size: 28 })}
      <span>
        <b>Measure again.</b> Corrected
        ${moment(correction.at, this.clock)}${correction.by === undefined ? nothing : html` by ${correction.by}`}; what
        is shown below was measured before it. Clean out chips and coolant first.
      </span>
    </p>`;
  }

  #work(assembly: AssemblyView) {
    const newest = this.#measured().at(-1);
    if (newest === undefined) return nothing;
    // Advice on what was measured before a correction would be followed a second time.
    if (uncheckedCorrection(assembly.corrections, assembly.row.buildId) !== undefined)
      return html`<section class="wide" aria-labelledby="work">
        <h2 id="work">What would correct it</h2>
        <p>It was corrected since it was measured: what is advised next follows its next measurement.</p>
      </section>`;
    const advice = this.#advice.value;
    return html`<section
      class="wide"
      aria-labelledby="work"
      @counterpoise-corrected=${() => void this.#assembly.again()}
    >
      <h2 id="work">What would correct it</h2>
      ${
        advice === undefined
          ? insteadOf(this.#advice.state, {
              what: say`advice`,
              absent: html`<p class="soft">There is no advice for it.</p>`,
            })
          : html`<correction-advice
              .advice=${advice}
              .assembly=${assembly}
              .measurement=${newest}
              .clock=${this.clock}
              .api=${this.api}
              .person=${this.person}
            ></correction-advice>`
      }
    </section>`;
  }

  #history(assembly: AssemblyView) {
    return historyTable(assembly, {
      clock: this.clock,
      api: this.api,
      rowsMax: this.historyMax,
      onMore: () => (this.historyMax = Infinity),
    });
  }

  #cautions(cautions: readonly string[]) {
    if (cautions.length === 0) return nothing;
    return html`<ul class="cautions">
      ${cautions.map((caution) => html`<li>${retell(caution)}</li>`)}
    </ul>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'assembly-page': AssemblyPage;
  }
}
