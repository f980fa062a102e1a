// The holds of a try-out as a table, each opened to its clauses: those on record from the hold itself, those tried from the answer.
import { LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { TRIED_SOURCE } from '../../shared/limit-tries.ts';
import type { HoldOnRecord, HoldTried, TryOutAnswer, TryOutHold } from '../../shared/try-out.ts';
import type { HoldView } from '../../shared/views.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses, tables } from '../look.ts';
import { holdAddress, spindleAddress } from '../router.ts';
import { amount, count, figure, unitOf, withUnit } from '../wording/figures.ts';
import { REASON_WORDS } from '../wording/hold-words.ts';
import { duration, moment, type PlantClock } from '../wording/instants.ts';
import { stateOf } from './days-shape.ts';
import { stateLook, tryOutLook } from './try-out-look.ts';
import { SAID_WORDS, stateMark } from './try-out-words.ts';

/** Rows at once; the rest at a press. */
const ROWS_FIRST = 100;

@customElement('tried-holds-table')
export class TriedHoldsTable extends LitElement {
  static override styles = [look, tables, presses, stateLook, tryOutLook];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) answer: TryOutAnswer | undefined;
  @property({ attribute: false }) clock!: PlantClock;
  @state() private shown = ROWS_FIRST;
  @state() private opened: ReadonlyMap<string, HoldView | string> = new Map();

  override render() {
    if (this.answer === undefined || this.answer.holds.length === 0) return nothing;
    const { holds } = this.answer;
    return html`<div class="scrolls" tabindex="0" role="group" aria-label="Holds, as things are and with the draft">
        <table>
          <caption>
            Newest first. How long: until it ended, or to the end of these days where it stands still. Nobody could end
            a hold that was not there: of such a one it is said how long its limit was exceeded.
          </caption>
          <thead>
            <tr>
              <th scope="col">Spindle</th>
              <th scope="col">Held</th>
              <th scope="col">Why</th>
              <th scope="col">Raised</th>
              <th scope="col">As things are</th>
              <th scope="col">With the draft</th>
              <th scope="col">Outcome</th>
              <th scope="col" class="clauses">Clauses</th>
            </tr>
          </thead>
          <tbody>
            ${holds.slice(0, this.shown).map((hold) => this.#row(hold))}
          </tbody>
        </table>
      </div>
      ${
        holds.length <= this.shown
          ? nothing
          : html`<p>
              <button @click=${() => (this.shown = holds.length)}>
                Show ${count(holds.length - this.shown, 'more hold', 'more holds')}
              </button>
            </p>`
      }`;
  }

  #row(hold: TryOutHold): TemplateResult {
    const { recorded, tried, spindleId, reason } = hold;
    const said = recorded?.said;
    return html`<tr>
      <th scope="row"><a href=${spindleAddress(spindleId)}>${spindleId}</a></th>
      <td>${stateMark(stateOf(hold))}</td>
      <td>${REASON_WORDS[reason]}</td>
      <td>${this.#raised(hold)}</td>
      <td>${lasting(recorded, say`still held`)}</td>
      <td>${lasting(tried, tried === undefined ? '' : overSoLong(tried))}</td>
      <td>${said === undefined ? html`<span class="soft">not said</span>` : SAID_WORDS[said]}</td>
      <td class="clauses">
        <details
          @toggle=${(event: Event) => {
            if ((event.target as HTMLDetailsElement).open && recorded !== undefined) void this.#open(recorded.holdId);
          }}
        >
          <summary>Show<span class="only-heard"> the hold of ${spindleId}</span></summary>
          ${recorded === undefined ? nothing : this.#recorded(recorded.holdId)}
          ${tried === undefined ? nothing : triedClause(tried)}
        </details>
      </td>
    </tr>`;
  }

  /** With the draft one may come at another time: then both are said, each as long as its own column says. */
  #raised({ recorded, tried }: TryOutHold): TemplateResult {
    const then = tried === undefined ? undefined : moment(tried.raisedAt, this.clock);
    const now = recorded === undefined ? then : moment(recorded.raisedAt, this.clock);
    return html`<span class="nowrap">${now}</span>${
        then === undefined || then === now
          ? nothing
          : html`<br /><span class="soft"
                >with the draft <span class="nowrap">${then}</span>${apart(recorded, tried)}</span
              >`
      }`;
  }

  #recorded(holdId: string): TemplateResult {
    const found = this.opened.get(holdId);
    if (found === undefined) return html`<p class="soft">Fetching ${holdId} …</p>`;
    if (typeof found === 'string') return html`<p>${found}</p>`;
    return html`<p>On record, <a href=${holdAddress(holdId)}>${holdId}</a>:</p>
      <ul class="changes">
        ${found.evidence.clauses.map(
          ({ what, measured, limit, unit, source, times }) =>
            html`<li>
              ${retell(what)}: ${amount(measured, unit)} against
              ${withUnit(limit, unit)}${times === undefined ? '' : say`, ${times} readings`}; ${retell(source)}
            </li>`,
        )}
      </ul>`;
  }

  async #open(holdId: string): Promise<void> {
    if (this.opened.get(holdId) instanceof Object) return;
    const answer = await this.api.hold(holdId);
    this.opened = new Map(this.opened).set(holdId, answer.kind === 'answer' ? answer.value : whyNot(answer));
  }
}

function triedClause({ measuredMmS, limitMmS, readings, speedRpm, source, position }: HoldTried): TemplateResult {
  return html`<p>With the draft:</p>
    <ul class="changes">
      <li>
        ${amount(measuredMmS, 'mm/s')} against ${amount(limitMmS, 'mm/s')} ${unitOf('mm/s')} RMS at ${figure(speedRpm)}
        rpm, ${count(readings, 'reading', 'readings')} over it;
        ${source === TRIED_SOURCE ? say`tried, not in force` : source}. It would have been raised by the reading at
        position ${position}.
      </li>
    </ul>`;
}

function lasting(hold: HoldOnRecord | HoldTried | undefined, asItStands: string): TemplateResult {
  if (hold === undefined) return html`<span class="soft">no hold</span>`;
  const { endedAt, heldMs } = hold;
  return html`${duration(heldMs)}${endedAt === undefined ? html` <span class="soft">${asItStands}</span>` : nothing}`;
}

/** How much sooner or later the draft would have raised it. */
function apart(recorded: HoldOnRecord | undefined, tried: HoldTried | undefined): string {
  if (recorded === undefined || tried === undefined) return '';
  const ms = tried.raisedAt - recorded.raisedAt;
  const span = duration(Math.abs(ms));
  return ms < 0 ? say`, ${span} sooner` : say`, ${span} later`;
}

const overSoLong = ({ raisedAt, lastOverAt }: HoldTried): string =>
  say`still held, over its limit for ${duration(lastOverAt - raisedAt)}`;

declare global {
  interface HTMLElementTagNameMap {
    'tried-holds-table': TriedHoldsTable;
  }
}
