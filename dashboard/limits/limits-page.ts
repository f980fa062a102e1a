// Limits: whose limits are they, and since when? What is missing first, then all of them in one table, the rules, and a file to import.
import { css, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { DeclaredLimits, DeclaredRow } from '../../shared/declared-limits.ts';
import { say } from '../../shared/language/index.ts';
import { MAY_DECLARE_SPINDLE } from '../../shared/rights.ts';
import type { RulesView } from '../../shared/try-out.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { asCounted } from '../floor/floor-order.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf, type Route } from '../router.ts';
import { csvOfMany } from '../spindle/limits-csv.ts';
import '../spindle/limits-form.ts';
import { versionsTable } from '../try-out/versions-table.ts';
import { count, whole } from '../wording/figures.ts';
import { localTimeOf } from '../wording/instants.ts';
import { inOrder, missingOf, spindlesOf, wantedLines, type LimitLine, type Missing } from './limit-lines.ts';
import { linesTable } from './lines-table.ts';
import { missingPart } from './missing-part.ts';
import { shownCsv } from './shown-csv.ts';

/** Lines that are made at once; how many there are, and which these are, is said. */
export const LINES_AT_ONCE = 100;

interface Known {
  readonly of: DeclaredLimits;
  readonly rows: readonly DeclaredRow[];
  readonly cells: readonly string[];
  readonly missing: Missing;
}

type LimitsRoute = Extract<Route, { page: 'limits' }>;

@customElement('limits-page')
export class LimitsPage extends Page {
  static override styles = [
    look,
    presses,
    tables,
    markLook,
    css`
      section {
        margin-top: 1.25rem;
      }
      .missing {
        list-style: none;
        padding: 0;
        margin: 0;
        display: grid;
        gap: 0.4rem;
      }
      .missing li {
        display: flex;
        gap: 0.5rem;
        align-items: baseline;
      }
      .asked {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem;
        align-items: end;
        margin-bottom: 0.75rem;
      }
      .asked > div {
        flex: 0 1 15rem;
      }
      .asked label {
        font-size: var(--small);
      }
      .source {
        min-width: 14rem;
      }
      .zones {
        min-width: 9rem;
      }
      tr.more th a {
        font-weight: 400;
        color: var(--slate);
      }
    `,
  ];

  @property({ attribute: false }) replace!: (route: Route) => void;
  @state() private from = 0;
  readonly #limits = new PageData<DeclaredLimits>(this, () => this.api.limits());
  readonly #rules = new PageData<RulesView>(this, () => this.api.rules());
  #known: Known | undefined;
  #lines: { readonly key: string; readonly of: DeclaredLimits; readonly lines: readonly LimitLine[] } | undefined;

  get #route(): LimitsRoute {
    return this.route.page === 'limits' ? this.route : { page: 'limits' };
  }

  override willUpdate(): void {
    this.#limits.want('all');
    this.#rules.want('all');
    const of = this.#limits.value;
    if (of === undefined || of === this.#known?.of) return;
    const rows = inOrder(of.spindles);
    const cells = [...new Set(rows.flatMap(({ cell }) => cell ?? []))].sort(asCounted);
    this.#known = { of, rows, cells, missing: missingOf(of) };
  }

  override render() {
    return html`<h1>Limits</h1>
      <p class="question">Whose limits are they, and since when?</p>
      ${insteadOf(this.#limits.state, { what: say`the limits`, absent: html`` }) ?? this.#body()}
      ${this.#limits.state.kind === 'loading' ? nothing : this.#rulesInForce()}`;
  }

  /** Below all limits: it waits for them, so that they do not push it away. */
  #rulesInForce() {
    return html`<section aria-labelledby="rules" class="long">
      <h2 id="rules">Rules in force</h2>
      <p>
        What a limit asks for before there is a hold, with who set it and why. Other limits and settings are tried on
        history first: <a href=${addressOf({ page: 'try-out' })}>Try-out</a>.
      </p>
      ${insteadOf(this.#rules.state, { what: say`the rules`, absent: html`` }) ?? html`${this.oldWords(this.#rules.state)}${versionsTable(this.#rules.value?.sets ?? [], this.clock, undefined)}`}
    </section>`;
  }

  #body() {
    const known = this.#known;
    if (known === undefined) return nothing;
    if (known.rows.length === 0)
      return html`<p>
        No spindle yet, so no limit. <a href=${addressOf({ page: 'plant' })}>Plant</a> says how to connect the first
        devices.
      </p>`;
    const lines = this.#wanted(known);
    return html`${this.oldWords(this.#limits.state)} ${missingPart(known.missing)}
      <section aria-labelledby="all" class="long">
        <h2 id="all">All limits</h2>
        ${this.#asked(known.cells)} ${this.#which(lines)}
        ${lines.length === 0 ? html`<p>Nothing that is declared fits what is looked for.</p>` : linesTable(this.#page(lines), this.clock)}
        <p class="soft small">
          The limits of the machine and tool makers govern. None of them comes with the program; each is worth what its
          source is worth.
        </p>
      </section>
      ${this.#file(lines)}`;
  }

  #wanted({ of, rows }: Known): readonly LimitLine[] {
    const { cell, find, only } = this.#route;
    const key = JSON.stringify([cell, find, only]);
    if (this.#lines?.of !== of || this.#lines.key !== key) {
      if (this.#lines?.key !== key) this.from = 0;
      this.#lines = { key, of, lines: wantedLines(rows, { cell, find, onlyMissing: only === 'missing' }) };
    }
    return this.#lines.lines;
  }

  #page(lines: readonly LimitLine[]): readonly LimitLine[] {
    return lines.slice(this.from, this.from + LINES_AT_ONCE);
  }

  #asked(cells: readonly string[]) {
    const { cell = '', find = '', only } = this.#route;
    return html`<form
      class="asked not-printed"
      role="search"
      aria-label="Which limits"
      @submit=${(event: Event) => event.preventDefault()}
    >
      <div>
        <label for="cell">Cell</label>
        <select id="cell" @change=${(event: Event) => this.#ask({ cell: (event.target as HTMLSelectElement).value })}>
          <option value="" ?selected=${cell === ''}>all cells</option>
          ${cells.map((name) => html`<option value=${name} ?selected=${name === cell}>${name}</option>`)}
        </select>
      </div>
      <div>
        <label for="find">Spindle, machine, source or person</label>
        <input
          id="find"
          type="search"
          maxlength="80"
          .value=${find}
          @input=${(event: Event) => this.#ask({ find: (event.target as HTMLInputElement).value })}
        />
      </div>
      <div class="choices" role="group" aria-label="Which">
        <button type="button" aria-pressed=${String(only === undefined)} @click=${() => this.#ask({ only: '' })}>
          all
        </button>
        <button type="button" aria-pressed=${String(only === 'missing')} @click=${() => this.#ask({ only: 'missing' })}>
          something missing
        </button>
      </div>
    </form>`;
  }

  /** What is looked for stands in the address, so that it can be sent to somebody. */
  #ask(change: { cell?: string; find?: string; only?: string }): void {
    const { cell = '', find = '', only = '' } = { ...this.#route, ...change };
    this.replace({
      page: 'limits',
      ...(cell === '' ? {} : { cell }),
      ...(find === '' ? {} : { find }),
      ...(only === 'missing' ? { only } : {}),
    });
  }

  #which(lines: readonly LimitLine[]) {
    if (lines.length === 0) return nothing;
    const to = Math.min(lines.length, this.from + LINES_AT_ONCE);
    const spindles = spindlesOf(lines).length;
    return html`<p role="status">
        Lines ${whole(this.from + 1)} to ${whole(to)} of ${whole(lines.length)}, of
        ${count(spindles, 'spindle', 'spindles')}.
      </p>
      ${
        lines.length <= LINES_AT_ONCE
          ? nothing
          : html`<p class="asked not-printed">
              <button ?disabled=${this.from === 0} @click=${() => (this.from -= LINES_AT_ONCE)}>
                The ${LINES_AT_ONCE} before
              </button>
              <button ?disabled=${to === lines.length} @click=${() => (this.from += LINES_AT_ONCE)}>
                The next ${LINES_AT_ONCE}
              </button>
            </p>`
      }`;
  }

  #file(lines: readonly LimitLine[]) {
    return html`<section class="not-printed" aria-labelledby="file">
      <h2 id="file">As a file</h2>
      <p>
        Every line that fits what is looked for, as the table shows it: limits, maxima and zones, who entered them, and
        when the spindle was declared last. This file is not imported again.
      </p>
      <p>
        <button @click=${() => this.#keep('limits-shown', shownCsv(lines))}>Keep what is shown as CSV</button>
      </p>
      <p>
        The limits of the spindles above as CSV, which can be imported again; maxima and tables of zones are not in it.
      </p>
      <p>
        <button @click=${() => this.#keep('limits', csvOfMany(spindlesOf(lines)))}>Download as CSV</button>
      </p>
      ${
        this.hasRole(MAY_DECLARE_SPINDLE)
          ? html`<limits-form
              .api=${this.api}
              @counterpoise-limits-declared=${() => void this.#limits.again()}
            ></limits-form>`
          : html`<p class="soft">A file is imported by a plant engineer.</p>`
      }
    </section>`;
  }

  #keep(name: string, csv: string): void {
    const address = URL.createObjectURL(new Blob([csv], { type: 'text/csv' }));
    const link = Object.assign(document.createElement('a'), {
      href: address,
      download: `${name}-${this.picture?.plant ?? 'plant'}-${this.#today()}.csv`,
    });
    link.click();
    URL.revokeObjectURL(address);
  }

  #today(): string {
    const { year, month, day } = localTimeOf(this.clock.now, this.clock.zone);
    return [year, month, day].map((part) => String(part).padStart(2, '0')).join('-');
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'limits-page': LimitsPage;
  }
}
