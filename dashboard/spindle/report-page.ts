// Report: what does a repair have to know of this spindle? Black on white, one or two sheets of A4, with room to write on.
import { nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { WaveRow } from '../../shared/wave-views.ts';
import { recordLook } from '../assembly/record-look.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { codeTo } from '../drawing/code.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { SheetPage } from '../sheet-page.ts';
import { spindleAddress } from '../router.ts';
import { speed } from '../wording/figures.ts';
import { openHolds } from './report-holds.ts';
import { reportLook } from './report-look.ts';
import { cautionsPart, pastPart, toFillIn } from './report-past.ts';
import { loadsPart, responsePart, severityPart, windowPart } from './report-state.ts';

@customElement('report-page')
export class ReportPage extends SheetPage {
  static override styles = [look, presses, tables, recordLook, reportLook];

  readonly #spindle = new PageData<SpindleView>(this, () => this.api.spindle(this.#id));
  readonly #wave = new PageData<WaveRow>(this, () => this.api.wave(this.#spindle.value?.windows?.waveId ?? 0));

  get #id(): string {
    return this.route.page === 'report' ? this.route.spindleId : '';
  }

  override willUpdate(): void {
    this.#spindle.want(this.#id);
    const waveId = this.#spindle.value?.windows?.waveId;
    if (waveId !== undefined) this.#wave.want(String(waveId));
  }

  override updated(): void {
    this.head.say(say`Report of spindle ${this.#id}`);
  }

  override render() {
    const spindle = this.#spindle.value;
    return html`<div class="not-printed">
        <h1>Report of spindle ${this.#id}</h1>
        <p class="question">What does a repair have to know of this spindle?</p>
        <p class="acts">
          <button
            class="first"
            ?disabled=${spindle === undefined || this.picture === undefined}
            @click=${() => window.print()}
          >
            Print, A4
          </button>
          <a class="press" href=${spindleAddress(this.#id)}>Back to the spindle</a>
        </p>
        ${this.oldWords(this.#spindle.state)}
      </div>
      ${
        spindle === undefined
          ? insteadOf(this.#spindle.state, {
              what: say`spindle ${this.#id}`,
              absent: html`<p>No spindle is known by this id. <a href="/floor">To the floor</a></p>`,
            })
          : this.#paper(spindle)
      }`;
  }

  #paper(spindle: SpindleView) {
    const { clock } = this;
    const wave = spindle.windows === undefined ? undefined : this.#wave.value;
    return html`<div class="shown" tabindex="0" role="group" aria-label="The report">
      <article class="paper" aria-label="Report of a spindle">
        ${this.#top(spindle)} ${openHolds(spindle.holds, clock)} ${severityPart(spindle, clock)}
        ${responsePart(spindle)} ${windowPart(wave, clock)} ${loadsPart(spindle, clock)} ${pastPart(spindle, clock)}
        ${toFillIn()} ${cautionsPart()} ${this.#foot()}
      </article>
    </div>`;
  }

  #top(spindle: SpindleView) {
    const { row, declared, maxSpeedRpm } = spindle;
    const bearings = declared?.bearings ?? [];
    return html`<div class="top">
      <div>
        <p>Report for a repair order</p>
        <h2>Spindle ${row.spindleId}</h2>
        <p>
          ${this.picture?.plant ?? nothing}${this.picture?.invented === true ? html` <span class="invented">invented data: no real spindle</span>` : nothing}
        </p>
        <p>
          ${row.machine}, ${row.cell}${spindle.interface === undefined ? nothing : html`, ${spindle.interface}`}.
          Maximum by its maker: ${maxSpeedRpm === undefined ? say`not declared` : speed(maxSpeedRpm)}.
          ${row.loaded === undefined ? say`Nothing is loaded.` : say`Loaded: ${row.loaded.assemblyId}.`}
        </p>
        <p>
          Bearings declared:
          ${bearings.length === 0 ? say`none` : bearings.map(({ name, source }) => `${name} (${source})`).join('; ')}.
        </p>
      </div>
      ${codeTo(new URL(spindleAddress(row.spindleId), location.origin).href)}
    </div>`;
  }

  #foot() {
    return html`<p class="foot">
      Printed ${fullMoment(Date.now(), this.clock)}, ${this.clock.zone}, by
      ${this.person?.name ?? say`nobody signed in`}; as of ${fullMoment(this.picture?.now, this.clock)}.
      ${new URL(spindleAddress(this.#id), location.origin).href}
    </p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'report-page': ReportPage;
  }
}
