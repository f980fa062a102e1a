// Ahead: what reaches its limit, when, and how sure is it? Date bars of the whole plant or of one cell, the most pressing first.
import { css, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { AheadCounts, PlantAheadView } from '../../shared/ahead-plant.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf, type Route } from '../router.ts';
import '../saving/save-picture.ts';
import { count, whole } from '../wording/figures.ts';
import { aheadTable } from './ahead-table.ts';
import { barsLook, dateBars } from './date-bars.ts';
import { dateAxis } from './date-axis.ts';

/** Rows drawn at once; more are drawn when they are asked for. */
const ROWS_AT_ONCE = 60;
/** More cells than this are chosen from a list. */
const LINKS_MAX = 8;
/** Days end once a day; limits are entered now and then. */
const ASK_AGAIN_MS = 300_000;
const ASK_WHILE_RECKONED_MS = 1500;

@customElement('ahead-page')
export class AheadPage extends Page {
  static override styles = [
    look,
    presses,
    tables,
    barsLook,
    css`
      .cells select {
        width: auto;
      }
      .cells label {
        margin-right: 0.5rem;
      }
      section {
        margin-top: 1.25rem;
      }
      .twin summary {
        min-height: var(--target);
        padding-top: 0.6rem;
      }
      .counts {
        margin: 0;
        padding-left: 1.1rem;
      }
    `,
  ];

  @property({ attribute: false }) replace: (route: Route) => void = () => undefined;
  @state() private shown = ROWS_AT_ONCE;
  readonly #view = new PageData<PlantAheadView>(this, () => this.api.ahead(this.#cell));

  get #cell(): string | undefined {
    return this.route.page === 'ahead' ? this.route.cell : undefined;
  }

  override willUpdate(): void {
    this.#view.want(this.#cell ?? '');
    const reckoning = this.#view.value?.stillReadPercent !== undefined;
    if (this.#view.mayAskAgain(reckoning ? ASK_WHILE_RECKONED_MS : ASK_AGAIN_MS)) void this.#view.again();
  }

  override render() {
    const { state: loaded } = this.#view;
    return html`<h1>${this.#cell === undefined ? say`Ahead` : say`Ahead, ${this.#cell}`}</h1>
      <p class="question">What reaches its limit, when, and how sure is it?</p>
      ${insteadOf(loaded, { what: say`what is ahead`, absent: html`` }) ?? html`${this.oldWords(loaded)}${this.#view.value === undefined ? nothing : this.#body(this.#view.value)}`}`;
  }

  #body(view: PlantAheadView) {
    const rows = view.rows.slice(0, this.shown);
    return html`${this.#cells(view.cells)}
      ${view.stillReadPercent === undefined ? nothing : html`<p class="soft" role="status">Still reckoning the days: ${view.stillReadPercent} % so far. Rows may yet come.</p>`}
      ${rows.length === 0 ? this.#empty(view) : this.#bars(view, rows)}
      <section aria-labelledby="others">
        <h2 id="others">Of which no day is said</h2>
        ${othersTold(view.counts, view.daysMin)}
      </section>
      <section aria-labelledby="means">
        <h2 id="means">What it is of</h2>
        <p>
          Daily levels of warm spindles, out of the cut, nothing of them on hold; each speed and quantity is a course of
          its own. It says how things go on if nothing changes; a part may fail long before, and no day is a permission
          to run until then. The limits of the machine maker govern.
        </p>
        <p class="soft">
          Tried on its own past, where a row says so: the same reckoning, put back by two weeks, asked when the level of
          today would come. Of many such tries eight in ten should lie within; one alone shows little.
        </p>
      </section>`;
  }

  #empty({ cells, counts, stillReadPercent }: PlantAheadView) {
    if (this.#cell !== undefined && !cells.includes(this.#cell))
      return html`<p>No spindle is known in a cell of this name.</p>`;
    if (stillReadPercent !== undefined) return html`<p>No row yet.</p>`;
    return counts.courses === 0
      ? html`<p>Not enough data: no whole day at a steady speed has ended yet.</p>`
      : html`<p>As far as the days tell, nothing reaches its limit within a year.</p>`;
  }

  #bars(view: PlantAheadView, rows: PlantAheadView['rows']) {
    const more = view.rows.length - rows.length;
    return html`<section aria-labelledby="bars">
      <h2 id="bars">The most pressing first</h2>
      ${dateBars(rows, dateAxis(view.rows, this.clock.now), this.clock)}
      <save-picture
        .name=${this.#cell === undefined ? say`What reaches its limit when` : say`What reaches its limit when, ${this.#cell}`}
        table="table.ahead"
      ></save-picture>
      ${
        more > 0
          ? html`<p class="not-printed">
              <button @click=${() => (this.shown += ROWS_AT_ONCE)}>
                Show ${Math.min(ROWS_AT_ONCE, more)} more of ${whole(view.rows.length)}
              </button>
            </p>`
          : nothing
      }
      ${view.rowsLeft === 0 ? nothing : html`<p class="soft">${count(view.rowsLeft, 'later row is', 'later rows are')} left out here: choose a cell.</p>`}
      ${aheadTable(rows, this.clock)}
    </section>`;
  }

  #cells(cells: readonly string[]) {
    if (cells.length < 2 && this.#cell === undefined) return nothing;
    if (cells.length > LINKS_MAX)
      return html`<p class="cells not-printed">
        <label for="cell">Cell</label>
        <select id="cell" @change=${this.#onCell}>
          <option value="" ?selected=${this.#cell === undefined}>all cells</option>
          ${cells.map((cell) => html`<option value=${cell} ?selected=${cell === this.#cell}>${cell}</option>`)}
        </select>
      </p>`;
    return html`<nav class="choices not-printed" aria-label="Cell">
      <a href=${addressOf({ page: 'ahead' })} aria-current=${this.#cell === undefined ? 'true' : nothing}
        >${say`all cells`}</a
      >
      ${cells.map(
        (cell) =>
          html`<a href=${addressOf({ page: 'ahead', cell })} aria-current=${cell === this.#cell ? 'true' : nothing}
            >${cell}</a
          >`,
      )}
    </nav>`;
  }

  readonly #onCell = (event: Event): void => {
    const cell = (event.target as HTMLSelectElement).value;
    this.replace(cell === '' ? { page: 'ahead' } : { page: 'ahead', cell });
  };
}

/** Not enough data, no trend, no limit: each with how many. */
function othersTold(counts: AheadCounts, daysMin: number) {
  const { spindles, courses, spindlesWithoutDays, tooFewDays, noTrend, noLimit, notWithinAYear } = counts;
  return html`<p>
      ${count(courses, 'course', 'courses')} of ${count(spindles, 'spindle', 'spindles')}: a course is a quantity at a
      speed.
    </p>
    <ul class="counts">
      ${spindlesWithoutDays === 0 ? nothing : html`<li>Not enough data: of ${count(spindlesWithoutDays, 'spindle', 'spindles')} no whole day at a steady speed has ended yet.</li>`}
      ${tooFewDays === 0 ? nothing : html`<li>Not enough data: ${count(tooFewDays, 'course', 'courses')} with fewer than ${daysMin} days since the last break.</li>`}
      ${noTrend === 0 ? nothing : html`<li>No trend that rises: ${count(noTrend, 'course', 'courses')}.</li>`}
      ${notWithinAYear === 0 ? nothing : html`<li>Rises, but not to its limit within a year with even chance: ${count(notWithinAYear, 'course', 'courses')}.</li>`}
      ${noLimit === 0 ? nothing : html`<li>No limit ahead that it could reach: ${count(noLimit, 'course', 'courses')}.</li>`}
    </ul>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'ahead-page': AheadPage;
  }
}
