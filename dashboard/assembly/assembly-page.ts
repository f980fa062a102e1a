// Assembly: may it run, where, how fast; what is wrong with it? The polar picture, the speed stair, and what they rest on.
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import type { Answer } from '../api.ts';
import { markLook, markWithWord } from '../drawing/standing-mark.ts';
import { look, tables } from '../look.ts';
import { mayAskGate } from '../gate/may-ask.ts';
import { NOT_FOUND, PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf, spindleAddress, type Route } from '../router.ts';
import { subjectLook } from '../subject-look.ts';
import { holdLines } from '../spindle/spindle-parts.ts';
import { MISSING, ofWhat, speed, withUnit } from '../wording/figures.ts';
import { moment } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';
import { assemblyAsWritten } from './as-written.ts';
import { assemblyLook, loadsTable, measurementsTable, partsTable } from './assembly-parts.ts';
import './residual-rose.ts';
import { ofBuild } from './rose-shape.ts';
import './speed-stair.ts';

const ASK_AGAIN_LEAST_MS = 4000;

@customElement('assembly-page')
export class AssemblyPage extends Page {
  static override styles = [look, tables, markLook, subjectLook, assemblyLook];

  @property({ attribute: false }) replace!: (route: Route) => void;
  readonly #assembly = new PageData<AssemblyView>(this, () => this.#ask());
  #seen = '';

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
    // What is told about an assembly changes with its holds and with where it is loaded.
    const signs = this.#signs();
    if (signs === this.#seen || !this.#assembly.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#seen = signs;
    void this.#assembly.again();
  }

  #signs(): string {
    const { picture } = this;
    if (picture === undefined) return '';
    const loaded = [...picture.spindles.values()]
      .filter((row) => row.loaded?.assemblyId === this.#id)
      .map((row) => row.spindleId);
    const holds = [...picture.holds.values()]
      .filter((hold) => hold.subject.id === this.#id)
      .map((hold) => `${hold.holdId} ${hold.state}`);
    return [...loaded, ...holds].join(' ');
  }

  override render() {
    const instead = insteadOf(this.#assembly.state, { what: `assembly ${this.#id}`, absent: this.#absent() });
    const assembly = this.#assembly.value;
    if (assembly === undefined)
      return html`<h1>Assembly ${this.#id}</h1>
        ${instead ?? nothing}`;
    const measurements = ofBuild(assembly.measurements, assembly.row.buildId);
    return html`
      ${this.#head(assembly)} ${this.oldWords(this.#assembly.state)} ${holdLines(assembly.holds, this.clock)}
      <div class="columns">
        <div>
          <section aria-labelledby="rose">
            <h2 id="rose">Residual unbalance of this build</h2>
            <residual-rose .measurements=${measurements} .clock=${this.clock}></residual-rose>
          </section>
          ${partsTable(assembly)}
        </div>
        <div>
          <section aria-labelledby="stair">
            <h2 id="stair">How fast, by which limit</h2>
            <speed-stair .steps=${assembly.speedStair} .serviceSpeedRpm=${assembly.row.serviceSpeedRpm}></speed-stair>
            ${this.#cautions(assembly.cautions)}
          </section>
          ${loadsTable(assembly.loads, this.clock)}
        </div>
      </div>
      ${measurementsTable(assembly.measurements, this.clock, this.api)}
    `;
  }

  #absent() {
    return html`<p>
      No assembly is known by this id, and no spindle or hold either. Was it built under another id?
      <a href="/assemblies">All assemblies</a>
    </p>`;
  }

  #head({ row, interface: fits, builtAt }: AssemblyView) {
    return html`<div class="head">
        <h1>Assembly ${row.assemblyId}</h1>
        <span class="standing-large">${markWithWord(row.standing)}</span>
        <p class="question">What is its balance, up to what speed, and what is wrong with it?</p>
      </div>
      ${row.why === undefined || row.openHoldIds.length > 0 ? nothing : html`<p>${asSentence(row.why)}</p>`}
      <dl class="facts">
        <div>
          <dt>build</dt>
          <dd>${row.buildId ?? MISSING}</dd>
          <dd class="small">
            ${builtAt === undefined ? nothing : html`of ${moment(builtAt, this.clock)}`}${fits === undefined ? nothing : html`, ${fits}`}
          </dd>
        </div>
        <div>
          <dt>mass, whole</dt>
          <dd>${withUnit(row.massKg, 'kg')}</dd>
        </div>
        <div>
          <dt>must meet</dt>
          <dd>${row.gradeMmS === undefined ? MISSING : html`G ${row.gradeMmS}`}</dd>
          <dd class="small">at ${speed(row.serviceSpeedRpm)} service speed</dd>
        </div>
        <div>
          <dt>residual, of permissible</dt>
          <dd>${ofWhat(row.residualGmm, row.permissibleGmm, 'g.mm')}</dd>
          <dd class="small">
            ${row.verdict === undefined ? 'not measured' : VERDICT_WORDS[row.verdict]}${row.measuredAt === undefined ? nothing : html`, ${moment(row.measuredAt, this.clock)}`}
          </dd>
        </div>
        <div>
          <dt>loaded in</dt>
          <dd>
            ${row.loadedIn === undefined ? 'no spindle' : html`<a href=${spindleAddress(row.loadedIn)}>${row.loadedIn}</a>`}
          </dd>
          ${
            mayAskGate(this.person)
              ? html`<dd class="small">
                  <a href=${addressOf({ page: 'gate', assemblyId: row.assemblyId })}>ask the gate</a>
                </dd>`
              : nothing
          }
        </div>
      </dl>`;
  }

  #cautions(cautions: readonly string[]) {
    if (cautions.length === 0) return nothing;
    return html`<ul class="cautions">
      ${cautions.map((caution) => html`<li>${caution}</li>`)}
    </ul>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'assembly-page': AssemblyPage;
  }
}
