// The balance record of an assembly for paper: result, pictures, all inputs, what was done, sources, cautions, who printed it when.
import { nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import type { Answer } from '../api.ts';
import { codeTo } from '../drawing/code.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { SheetPage } from '../sheet-page.ts';
import { assemblyAddress } from '../router.ts';
import { coupleWords } from './couple-words.ts';
import { rawFrame, rawReadings } from './raw-readings.ts';
import { recordLook } from './record-look.ts';
import { buildPart, fullMoment, historyPart, measuredPart, partsPart } from './record-parts.ts';
import { recordSources } from './record-sources.ts';
import { verdictPart } from './record-verdict.ts';
import './residual-rose.ts';
import { ofBuild } from './rose-shape.ts';
import './speed-stair.ts';
import { whyNoneCounts } from './what-counts.ts';
import { retell, say } from '../../shared/language/index.ts';

@customElement('record-page')
export class RecordPage extends SheetPage {
  static override styles = [look, presses, tables, recordLook];

  readonly #assembly = new PageData<AssemblyView>(this, () => this.api.assembly(this.#id));
  readonly #raw = new PageData<unknown>(this, () => this.#askRaw());

  get #id(): string {
    return this.route.page === 'record' ? this.route.assemblyId : '';
  }

  #askRaw(): Promise<Answer<unknown>> {
    return this.api.journalEntry(this.#measured().at(-1)?.position ?? 0);
  }

  #measured(): MeasurementView[] {
    const assembly = this.#assembly.value;
    return assembly === undefined ? [] : ofBuild(assembly.measurements, assembly.row.buildId);
  }

  override willUpdate(): void {
    this.#assembly.want(this.#id);
    const newest = this.#measured().at(-1);
    if (newest !== undefined) this.#raw.want(String(newest.position));
  }

  override updated(): void {
    const { row } = this.#assembly.value ?? {};
    const build = row?.buildId;
    this.head.say(
      build === undefined ? say`Balance record of ${this.#id}` : say`Balance record of ${this.#id}, build ${build}`,
    );
  }

  override render() {
    const assembly = this.#assembly.value;
    return html`<div class="not-printed">
        <h1>Balance record of ${this.#id}</h1>
        <p class="acts">
          <button
            class="first"
            ?disabled=${assembly === undefined || this.picture === undefined}
            @click=${() => window.print()}
          >
            Print, A4
          </button>
          <a class="press" href=${assemblyAddress(this.#id)}>Back to the assembly</a>
        </p>
      </div>
      ${
        assembly === undefined
          ? insteadOf(this.#assembly.state, {
              what: say`assembly ${this.#id}`,
              absent: html`<p>No assembly is known by this id. <a href="/assemblies">All assemblies</a></p>`,
            })
          : this.#paper(assembly)
      }`;
  }

  #paper(assembly: AssemblyView) {
    const measurements = this.#measured();
    const newest = measurements.at(-1);
    return html`<div class="shown" tabindex="0" role="group" aria-label="The record">
      <article class="paper" aria-label="Balance record">
        ${this.#top(assembly)} ${verdictPart(assembly, newest, this.clock)} ${this.#pictures(assembly, measurements)}
        ${newest === undefined ? nothing : measuredPart(newest, rawReadings(this.#raw.value), rawFrame(this.#raw.value))}
        ${partsPart(assembly)} ${newest === undefined ? nothing : historyPart(measurements, assembly, this.clock)}
        ${this.#grounds(assembly, newest)} ${this.#foot()}
      </article>
    </div>`;
  }

  #top({ row }: AssemblyView) {
    const link = new URL(assemblyAddress(row.assemblyId), location.origin).href;
    return html`<div class="top">
      <div>
        <p>Balance record</p>
        <h2>Assembly ${row.assemblyId}</h2>
        <p>
          ${this.picture?.plant ?? nothing}${this.picture?.invented === true ? html` <span class="invented">invented data: no real assembly</span>` : nothing}
        </p>
        <p>Build ${row.buildId ?? say`not declared`}</p>
      </div>
      ${codeTo(link)}
    </div>`;
  }

  #pictures(assembly: AssemblyView, measurements: readonly MeasurementView[]) {
    const { row, speedStair, features, centreOfMassMm } = assembly;
    const planes = measurements.at(-1)?.planes ?? [];
    const rose = (plane: string | undefined, small: boolean) =>
      html`<residual-rose
        .measurements=${measurements}
        .clock=${{ zone: this.clock.zone, now: 0 }}
        .plane=${plane}
        .small=${small}
        .keyless=${small}
        .features=${features}
        .serviceSpeedRpm=${row.serviceSpeedRpm}
        .own=${true}
      ></residual-rose>`;
    return html`<div class="pair">
        <div>
          <h3>Residual unbalance</h3>
          ${rose(undefined, false)}
        </div>
        <div>
          <h3>How fast, by which limit</h3>
          <speed-stair
            .steps=${speedStair}
            .serviceSpeedRpm=${row.serviceSpeedRpm}
            .noneCounts=${whyNoneCounts(assembly)}
          ></speed-stair>
          ${buildPart(assembly, measurements.at(-1), this.clock)}
        </div>
      </div>
      ${
        planes.length < 2
          ? nothing
          : html`<div class="planes">
                ${planes.map(
                  ({ name }) =>
                    html`<figure>
                      ${rose(name, true)}
                      <figcaption>plane ${name}</figcaption>
                    </figure>`,
                )}
              </div>
              <p>${coupleWords(planes, centreOfMassMm)}</p>`
      }`;
  }

  #grounds(assembly: AssemblyView, newest: MeasurementView | undefined) {
    return html`<section>
        <h3>On which grounds</h3>
        <ul>
          ${recordSources(newest).map((source) => html`<li>${source}</li>`)}
          ${assembly.features.map(({ featureId, source }) => html`<li>Limits of correcting at ${featureId}: ${source ?? say`nobody is named`}.</li>`)}
        </ul>
      </section>
      <section>
        <h3>Cautions</h3>
        <ul>
          ${assembly.cautions.map((caution) => html`<li>${retell(caution)}</li>`)}
        </ul>
      </section>`;
  }

  #foot() {
    const { zone } = this.clock;
    const [printed, asOf] = [Date.now(), this.picture?.now].map((at) => fullMoment(at, this.clock));
    const by = this.person?.name ?? say`nobody signed in`;
    const where = new URL(assemblyAddress(this.#id), location.origin).href;
    return html`<p class="foot">Printed ${printed}, ${zone}, by ${by}; as of ${asOf}. ${where}</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'record-page': RecordPage;
  }
}
