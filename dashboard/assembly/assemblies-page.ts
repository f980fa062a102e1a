// Assemblies: which one is it, and how does it stand? A list in the order people count, with what needs somebody first.
import { nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AssemblyRow } from '../../shared/assembly-views.ts';
import { markLook, markWithWord } from '../drawing/standing-mark.ts';
import { asCounted } from '../floor/floor-order.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { assemblyAddress, spindleAddress } from '../router.ts';
import { MISSING, amount, times, unitOf, whole } from '../wording/figures.ts';
import { moment } from '../wording/instants.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';
import { say } from '../../shared/language/index.ts';
import { gradeName } from './plain-number.ts';

const ROWS_AT_ONCE = 200;
const ASK_AGAIN_LEAST_MS = 10_000;

@customElement('assemblies-page')
export class AssembliesPage extends Page {
  static override styles = [look, tables, presses, markLook];

  @state() private shown = ROWS_AT_ONCE;
  readonly #rows = new PageData<readonly AssemblyRow[]>(this, () => this.api.assemblies());
  #holdsSeen = '';

  get #onlyNeeding(): boolean {
    return this.choices['only'] === 'needing';
  }

  override willUpdate(): void {
    this.#rows.want('all');
    const holds = this.picture?.changedHoldIds.join(' ') ?? '';
    if (holds === this.#holdsSeen || !this.#rows.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#holdsSeen = holds;
    void this.#rows.again();
  }

  override render() {
    return html`<h1>Assemblies</h1>
      <p class="question">Which one is it, and how does it stand?</p>
      ${insteadOf(this.#rows.state, { what: say`the assemblies`, absent: html`` }) ?? html`${this.oldWords(this.#rows.state)}${this.#list(this.#rows.value ?? [])}`}`;
  }

  #list(all: readonly AssemblyRow[]) {
    if (all.length === 0)
      return html`<p>No assembly yet. One appears when a bench sends its build or its first result.</p>`;
    const needing = all.filter((row) => row.standing !== 'in-family');
    const rows = [...(this.#onlyNeeding ? needing : all)].sort((a, b) => asCounted(a.assemblyId, b.assemblyId));
    return html`
      <div class="choices not-printed" role="group" aria-label="Which">
        <button aria-pressed=${this.#onlyNeeding ? 'false' : 'true'} @click=${() => this.choose({ only: undefined })}>
          all ${all.length}
        </button>
        <button aria-pressed=${this.#onlyNeeding ? 'true' : 'false'} @click=${() => this.choose({ only: 'needing' })}>
          not in family ${needing.length}
        </button>
      </div>
      <div class="scrolls" tabindex="0" role="group" aria-label="Assemblies">
        <table>
          <thead>
            <tr>
              <th scope="col">Assembly</th>
              <th scope="col">Standing</th>
              <th scope="col">Loaded in</th>
              <th scope="col" class="number">Mass, ${unitOf('kg')}</th>
              <th scope="col" class="number">Grade</th>
              <th scope="col" class="number">Service speed, rpm</th>
              <th scope="col" class="number">Residual, ${unitOf('g.mm')}</th>
              <th scope="col" class="number">Permissible, ${unitOf('g.mm')}</th>
              <th scope="col" class="number">Share</th>
              <th scope="col">Verdict</th>
              <th scope="col">Measured</th>
            </tr>
          </thead>
          <tbody>
            ${rows.slice(0, this.shown).map((row) => this.#row(row))}
          </tbody>
        </table>
      </div>
      ${rows.length > this.shown ? html`<p><button @click=${() => (this.shown += ROWS_AT_ONCE)}>Show more of ${rows.length}</button></p>` : nothing}
    `;
  }

  #row(row: AssemblyRow) {
    const share =
      row.residualGmm === undefined || row.permissibleGmm === undefined
        ? undefined
        : row.residualGmm / row.permissibleGmm;
    return html`<tr>
      <th scope="row"><a href=${assemblyAddress(row.assemblyId)}>${row.assemblyId}</a></th>
      <td>${markWithWord(row.standing)}</td>
      <td>
        ${row.loadedIn === undefined ? MISSING : html`<a href=${spindleAddress(row.loadedIn)}>${row.loadedIn}</a>`}
      </td>
      <td class="number">${amount(row.massKg, 'kg')}</td>
      <td class="number">${row.gradeMmS === undefined ? MISSING : gradeName(row.gradeMmS)}</td>
      <td class="number">${row.serviceSpeedRpm === undefined ? MISSING : whole(row.serviceSpeedRpm)}</td>
      <td class="number">${amount(row.residualGmm, 'g.mm')}</td>
      <td class="number">${amount(row.permissibleGmm, 'g.mm')}</td>
      <td class="number">${times(share)}</td>
      <td>${row.verdict === undefined ? say`not measured` : VERDICT_WORDS[row.verdict]}</td>
      <td class="nowrap">${moment(row.measuredAt, this.clock)}</td>
    </tr>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'assemblies-page': AssembliesPage;
  }
}
