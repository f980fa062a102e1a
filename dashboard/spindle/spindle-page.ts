// Spindle: how does it answer to unbalance, has that changed, and what is in it now?
import { nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { MAY_ASK_WAVE, MAY_DECLARE_SPINDLE, MAY_PLAN_WORK } from '../../shared/rights.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { SeriesView, SpindleRow, SpindleView } from '../../shared/views.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { chosenOf, instantText, numberOf, stretchOf, type Part } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf, withChoices, type Route } from '../router.ts';
import { askWhileRead, stillReadLine } from '../still-read.ts';
import { subjectLook } from '../subject-look.ts';
import { SPAN_MS, SPAN_WORDS, SPANS, type Span } from '../time-spans.ts';
import '../saving/save-picture.ts';
import './response-fan.ts';
import { limitsTable } from './limits-table.ts';
import { loadsTable } from './loads-table.ts';
import { plannedWork } from './planned-work-lines.ts';
import { holdLines, spindleHead, spindleLook } from './spindle-parts.ts';
import { StretchEvent } from './trend-chart.ts';
import { QUANTITIES, QUANTITY_WORDS } from './trend-columns.ts';
import './limits-form.ts';
import { aheadSection } from './ahead-section.ts';
import { severitySection } from './severity-section.ts';
import type { SeverityBin } from './spindle-rows.ts';
import { atSpeed, speedChoice } from './speed-choice.ts';
import { trendMarks } from './trend-marks.ts';
import { marksList, trendTable } from './trend-table.ts';

const SPAN_AT_FIRST: Span = '24h';
const QUANTITY_AT_FIRST: SeriesQuantity = 'synchronousMmS';
const TREND_POINTS = 800;
const ASK_AGAIN_LEAST_MS = 5000;
const STRETCH_LEAST_MS = 10_000;
/** Pictures of raw windows: a piece of the program of their own, fetched once the rest of the page stands. */
const fetchWindows = (): Promise<unknown> => import('../vibration/vibration-windows.ts');

@customElement('spindle-page')
export class SpindlePage extends Page {
  static override styles = [look, tables, presses, markLook, subjectLook, spindleLook];

  /** The service was renewed or is away: the piece of this build may be gone. */
  @state() private windowsMissing = false;
  readonly #spindle = new PageData<SpindleView>(this, () => this.api.spindle(this.#id));
  readonly #series = new PageData<SeriesView>(this, () =>
    this.api.series(this.#id, this.#quantity, { ...this.#asked, ...atSpeed(this.#bin), points: TREND_POINTS }),
  );
  #asked = { from: 0, to: 1 };
  #rowSeen: SpindleRow | undefined;
  #seriesKey = '';

  get #id(): string {
    return this.route.page === 'spindle' ? this.route.spindleId : '';
  }

  get #span(): Span {
    return this.route.page === 'spindle' ? (this.route.span ?? SPAN_AT_FIRST) : SPAN_AT_FIRST;
  }

  get #bin(): SeverityBin | undefined {
    const chosen = numberOf(this.choices['speed']);
    return this.#spindle.value?.severity.bins.find(({ speedBin }) => speedBin === chosen);
  }

  get #quantity(): SeriesQuantity {
    return chosenOf(this.choices['of'], QUANTITIES) ?? QUANTITY_AT_FIRST;
  }

  /** A part of the time, chosen in the chart; undefined: up to now. */
  get #stretch(): Part | undefined {
    return stretchOf(this.choices, 'from', 'to');
  }

  get #row(): SpindleRow | undefined {
    return this.picture?.spindles.get(this.#id) ?? this.#spindle.value?.row;
  }

  override firstUpdated(): void {
    fetchWindows().catch(() => (this.windowsMissing = true));
  }

  override willUpdate(): void {
    this.#spindle.want(this.#id);
    if (this.picture === undefined) return;
    this.#askSeries(this.picture.now);
    const row = this.picture.spindles.get(this.#id);
    if (row === this.#rowSeen || !this.#spindle.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#rowSeen = row;
    void this.#spindle.again();
  }

  #askSeries(now: number): void {
    const span = SPAN_MS[this.#span];
    const stretch = this.#stretch;
    const wanted = stretch ?? { from: now - span, to: now };
    const key = [
      this.#id,
      this.#quantity,
      this.#bin?.speedBin ?? 'all',
      stretch === undefined ? this.#span : `${stretch.from} ${stretch.to}`,
    ].join(' ');
    if (key !== this.#seriesKey) {
      this.#seriesKey = key;
      this.#asked = wanted;
      this.#series.want(key, true);
    } else if (
      stretch === undefined &&
      now - this.#asked.to > span / TREND_POINTS &&
      this.#series.mayAskAgain(ASK_AGAIN_LEAST_MS)
    ) {
      this.#asked = wanted;
      void this.#series.again();
    }
    askWhileRead(this.#series);
  }

  override render() {
    const row = this.#row;
    const instead = insteadOf(this.#spindle.state, { what: say`spindle ${this.#id}`, absent: this.#absent() });
    return html`
      ${row === undefined ? html`<h1>Spindle ${this.#id}</h1>` : spindleHead(row, this.#spindle.value, this.clock)}
      ${instead ?? this.#body()}
    `;
  }

  #absent() {
    return html`<p>
      No spindle is known by this id. It appears when its sensor has said its first word, or when the plant engineer
      declares it.
      <a href="/floor">To the floor</a>
    </p>`;
  }

  #plannedWork({ work = [] }: SpindleView) {
    return plannedWork({
      spindleId: this.#id,
      work,
      mayPlan: this.hasRole(MAY_PLAN_WORK),
      api: this.api,
      clock: this.clock,
      onPlanned: () => void this.#spindle.again(),
    });
  }

  #body() {
    const spindle = this.#spindle.value;
    if (spindle === undefined) return nothing;
    return html`
      ${this.oldWords(this.#spindle.state)} ${holdLines(spindle.holds, this.clock)} ${this.#plannedWork(spindle)}
      <div class="columns">
        <div>
          <section aria-labelledby="fan">
            <h2 id="fan">How it answers to unbalance</h2>
            <response-fan
              .points=${spindle.points}
              .lines=${spindle.lines}
              .limits=${spindle.limits}
              .choices=${this.choices}
              .presentOrdinal=${this.#row?.loaded?.ordinal}
              .speedNowRpm=${this.#row?.speedRpm ?? this.#row?.programmedSpeedRpm}
              .clock=${this.clock}
            ></response-fan>
          </section>
          ${severitySection(spindle, this.clock, this.api)} ${limitsTable(spindle, this.clock)}
          ${
            this.hasRole(MAY_DECLARE_SPINDLE)
              ? html`<limits-form
                  class="below"
                  .api=${this.api}
                  .spindleId=${this.#id}
                  .limits=${spindle.limits}
                  @counterpoise-limits-declared=${() => void this.#spindle.again()}
                ></limits-form>`
              : nothing
          }
        </div>
        <div>
          <section aria-labelledby="trend">
            <h2 id="trend">Trend</h2>
            ${this.#trend(spindle)}
          </section>
          ${aheadSection(spindle, this.clock, this.choices['ahead'], (ahead) => this.choose({ ahead }))}
          ${loadsTable(spindle.loads, this.clock, this.api)}
        </div>
      </div>
      ${
        this.windowsMissing
          ? html`<p role="alert">The pictures of raw windows could not be fetched. Load the page again.</p>`
          : html`<vibration-windows
              .api=${this.api}
              .spindle=${spindle}
              .clock=${this.clock}
              .live=${this.live}
              .choices=${this.choices}
              .mayAsk=${this.hasRole(MAY_ASK_WAVE)}
            ></vibration-windows>`
      }
    `;
  }

  #trend(spindle: SpindleView) {
    const series = this.#series.value;
    const marks = trendMarks(spindle, this.#quantity, this.#bin);
    return html`
      <div class="choose not-printed">
        <div class="choices" role="group" aria-label="What is shown">
          ${QUANTITIES.map(
            (name) =>
              html`<button
                aria-pressed=${name === this.#quantity ? 'true' : 'false'}
                @click=${() => this.choose({ of: name === QUANTITY_AT_FIRST ? undefined : name })}
              >
                ${QUANTITY_WORDS[name]}
              </button>`,
          )}
        </div>
        <nav class="choices" aria-label="Time shown">
          ${SPANS.map(
            (span) =>
              html`<a
                href=${this.#addressOfSpan(span)}
                aria-current=${this.#stretch === undefined && span === this.#span ? 'true' : nothing}
                >${SPAN_WORDS[span]}</a
              >`,
          )}
        </nav>
        ${speedChoice(spindle.severity.bins, this.#bin, (bin) => this.choose({ speed: bin === undefined ? undefined : String(bin) }))}
      </div>
      ${
        series === undefined
          ? insteadOf(this.#series.state, {
              what: say`the trend`,
              absent: html`<p class="soft">No readings kept yet.</p>`,
            })
          : html`<trend-chart
                .series=${series}
                .marks=${marks}
                .loads=${spindle.loads}
                .clock=${this.clock}
                @counterpoise-stretch=${this.#onStretch}
              ></trend-chart>
              <save-picture .name=${say`Trend of ${spindle.row.spindleId}`} table=".trend"></save-picture>
              ${stillReadLine(series)}
              ${series.at.length === 0 && series.stillReadPercent === undefined ? html`<p class="soft">${this.#emptyWords}</p>` : nothing}
              ${marksList(marks)} ${trendTable(series, this.clock, this.#bin)}`
      }
    `;
  }

  get #emptyWords(): string {
    return this.#bin === undefined
      ? say`No reading in this time.`
      : say`No whole minute in this time at that speed, warm, out of the cut and with a sound sensor.`;
  }

  readonly #onStretch = (event: Event): void => {
    if (!(event instanceof StretchEvent) || event.to - event.from < STRETCH_LEAST_MS) return;
    const now = this.picture?.now ?? event.to;
    const longest = SPAN_MS['1y'];
    this.choose({
      from: instantText(Math.max(event.from, event.to - longest)),
      to: instantText(Math.min(event.to, now)),
    });
  };

  #addressOfSpan(span: Span): string {
    const route: Route = { page: 'spindle', spindleId: this.#id, span, choices: this.choices };
    return addressOf(withChoices(route, { from: undefined, to: undefined }));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'spindle-page': SpindlePage;
  }
}
