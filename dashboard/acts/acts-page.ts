// Record: who did what, and is it still what was written down? Newest first, older ones fetched when they are wanted.
import { nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import type { RecordLine, RecordPage } from '../../shared/record.ts';
import { whyNot } from '../api.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import type { RecordRoute, Route } from '../router.ts';
import { askWhileRead, stillReadLine } from '../still-read.ts';
import { count } from '../wording/figures.ts';
import './access-lines.ts';
import { actsLook } from './acts-look.ts';
import { fetchRecord } from './record-api.ts';
import { questionOf } from './record-asked.ts';
import { recordCsv } from './record-csv.ts';
import { chosenWords, RecordChosenEvent } from './record-filter.ts';
import { recordList } from './record-list.ts';
import './verify-record.ts';

const LINES_AT_ONCE = 50;
/** More than this no page shows: days narrow it, and each file of it can be kept. */
const LINES_SHOWN_MAX = 2000;

@customElement('acts-page')
export class ActsPage extends Page {
  static override styles = [look, tables, presses, actsLook];

  @property({ attribute: false }) replace!: (route: Route) => void;
  /** Older pages, and which first page they follow: another one begins them anew. */
  @state() private older: { readonly after: RecordPage; readonly pages: readonly RecordPage[] } | undefined;
  @state() private fetching = false;
  @state() private wrong: string | undefined;
  readonly #first = new PageData<RecordPage>(this, () => this.#fetch(undefined));

  override willUpdate(): void {
    // Days begin where the plant is: without its picture its zone is not known.
    if (this.picture === undefined) return;
    this.#first.want(`${this.clock.zone} ${JSON.stringify(this.#route)}`);
    askWhileRead(this.#first);
  }

  override render() {
    return html`<div class="head">
        <h1>Record</h1>
        <p class="question">Who did what, and is it still what was written down?</p>
      </div>
      <verify-record
        .api=${this.api}
        .clock=${this.clock}
        .name=${this.person?.name}
        ?admin=${this.hasRole(['admin'])}
      ></verify-record>
      <section class="long" aria-labelledby="lines">
        <h2 id="lines">Who did what</h2>
        <record-filter
          class="not-printed"
          .route=${this.#route}
          @counterpoise-record-chosen=${this.#chosen}
        ></record-filter>
        ${
          this.picture === undefined
            ? html`<p class="soft" role="status">Waiting for the picture of the plant …</p>`
            : (insteadOf(this.#first.state, { what: say`the record`, absent: html`` }) ?? this.#body())
        }
      </section>
      ${this.hasRole(['admin']) && this.#first.state.kind !== 'loading' ? html`<access-lines class="not-printed" .api=${this.api} .clock=${this.clock}></access-lines>` : nothing}`;
  }

  get #route(): RecordRoute {
    return this.route.page === 'acts' ? this.route : { page: 'acts' };
  }

  get #pages(): readonly RecordPage[] {
    const first = this.#first.value;
    if (first === undefined) return [];
    return this.older?.after === first ? [first, ...this.older.pages] : [first];
  }

  get #lines(): readonly RecordLine[] {
    return this.#pages.flatMap(({ lines }) => lines);
  }

  #fetch(before: RecordLine | undefined) {
    const cursor = before === undefined ? undefined : `${before.position}.${before.ordinal}`;
    return fetchRecord(this.api, questionOf(this.#route, this.clock.zone), { limit: LINES_AT_ONCE, before: cursor });
  }

  readonly #chosen = (event: Event): void => {
    if (event instanceof RecordChosenEvent) this.replace(event.route);
  };

  #body(): TemplateResult {
    const lines = this.#lines;
    const shown = say`Shown: ${chosenWords(this.#route)}; ${count(lines.length, 'line', 'lines')}, newest first. Times are those of ${this.clock.zone}.`;
    return html`${this.oldWords(this.#first.state)} ${stillReadLine(this.#first.value)}
      <p class="soft" role="status">${lines.length === 0 ? this.#emptyWords() : shown}</p>
      <p class="answers not-printed">
        <button @click=${() => void this.#first.again()}>Look for newer ones</button>
        ${lines.length === 0 ? nothing : html`<button @click=${() => this.#save(lines)}>Keep what is shown as CSV</button>`}
      </p>
      ${recordList(lines, this.clock, this.api)} ${this.#more(lines)}
      <p class="soft small">
        Not listed: readings, loads and changes of zone, which the page of the spindle shows; causes weighed anew, which
        the page of the hold shows; answers of the gate, changes of a spindle’s state and remarks, which stand in the
        journal without a line here.
      </p>`;
  }

  #emptyWords(): string {
    return Object.keys(this.#route).length === 1
      ? say`Nobody has done anything here yet, and the rules have decided nothing.`
      : say`Nothing like that is on record.`;
  }

  #more(lines: readonly RecordLine[]): TemplateResult | typeof nothing {
    const wrong = this.wrong === undefined ? nothing : html`<p role="alert">${this.wrong}</p>`;
    if (this.#pages.at(-1)?.more !== true) return html`${wrong}`;
    if (lines.length >= LINES_SHOWN_MAX)
      return html`<p>There is more, but no more is shown at once. Choose days to see what is older.</p>`;
    return html`${wrong}
      <p class="answers not-printed">
        <button ?disabled=${this.fetching} @click=${() => void this.#fetchOlder(lines.at(-1))}>Older ones</button>
      </p>`;
  }

  async #fetchOlder(last: RecordLine | undefined): Promise<void> {
    const after = this.#first.value;
    if (after === undefined || this.fetching) return;
    this.fetching = true;
    const answer = await this.#fetch(last);
    this.fetching = false;
    this.wrong = answer.kind === 'answer' ? undefined : whyNot(answer);
    // Something else was chosen meanwhile: these follow what is shown no more.
    if (answer.kind !== 'answer' || this.#first.value !== after) return;
    const before = this.older?.after === after ? this.older.pages : [];
    this.older = { after, pages: [...before, answer.value] };
  }

  #save(lines: readonly RecordLine[]): void {
    const file = URL.createObjectURL(new Blob([recordCsv(lines, this.clock)], { type: 'text/csv' }));
    const link = Object.assign(document.createElement('a'), { href: file, download: 'record.csv' });
    link.click();
    URL.revokeObjectURL(file);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'acts-page': ActsPage;
  }
}
