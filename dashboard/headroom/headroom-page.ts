// Headroom: what do we give away by running slow? Hours by spindle, overrides that were kept down, what the limits would allow.
import { css, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { HeadroomView } from '../../shared/headroom.ts';
import { digits, hourWords } from '../../shared/headroom-words.ts';
import { say, sayCount } from '../../shared/language/index.ts';
import { MAY_DECLARE_RATES } from '../../shared/rights.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { HEADROOM_DAYS, numberOf } from '../choices.ts';
import { daysChoice } from '../days-choice.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { count, whole } from '../wording/figures.ts';
import { day } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import { cutterTable } from './cutter-table.ts';
import { moneyOpened, programTable, spindleTable } from './headroom-table.ts';
import './rates-form.ts';
import { axisEndRpm, speedsOf } from './speed-axis.ts';
import { speedKey, speedLook } from './speed-picture.ts';

const SPAN_AT_FIRST = 28;
/** Rows drawn at once; more are drawn when they are asked for. */
const ROWS_AT_ONCE = 100;
/** Sums grow slowly; a page that asked oftener would show the same. */
const ASK_AGAIN_MS = 60_000;

@customElement('headroom-page')
export class HeadroomPage extends Page {
  static override styles = [
    look,
    tables,
    presses,
    markLook,
    speedLook,
    css`
      .kept {
        margin: 0 0 0.2rem;
      }
      tr.with-kept {
        border-bottom: 0;
      }
      .light {
        font-weight: 400;
      }
      .kept svg,
      .money summary {
        vertical-align: text-bottom;
      }
      details.money summary {
        min-height: 24px;
        white-space: nowrap;
      }
      section {
        margin-top: 1.25rem;
      }
      .choices {
        margin-bottom: 0.5rem;
      }
      th.number {
        white-space: normal;
        text-wrap: balance;
      }
      .number + :not(.number) {
        padding-left: 0.5rem;
      }
      @media print {
        td.number {
          white-space: nowrap;
        }
      }
    `,
  ];

  @state() private shown = ROWS_AT_ONCE;
  readonly #view = new PageData<HeadroomView>(this, () => this.api.headroom(this.#days));
  #askedAt = 0;

  get #days(): number {
    return numberOf(this.choices['days']) ?? SPAN_AT_FIRST;
  }

  override willUpdate(): void {
    this.#view.want(`${this.#days}`, true);
    const now = this.picture?.now;
    if (now === undefined) return;
    if (this.#askedAt === 0) this.#askedAt = now;
    if (now - this.#askedAt < ASK_AGAIN_MS || !this.#view.mayAskAgain(ASK_AGAIN_MS)) return;
    this.#askedAt = now;
    void this.#view.again();
  }

  override render() {
    const { state: loaded } = this.#view;
    return html`<h1>Headroom</h1>
      <p class="question">What do we give away by running slow?</p>
      ${daysChoice(say`Time shown`, {
        offered: HEADROOM_DAYS,
        chosen: this.#days,
        choose: (days) => this.choose({ days: days === SPAN_AT_FIRST ? undefined : String(days) }),
      })}
      ${insteadOf(loaded, { what: say`the headroom`, absent: html`` }) ?? html`${this.oldWords(loaded)}${this.#view.value === undefined ? nothing : this.#body(this.#view.value)}`}`;
  }

  #body(view: HeadroomView) {
    const speeds = view.spindles.map(speedsOf);
    const endRpm = axisEndRpm(speeds);
    const rows = view.spindles.slice(0, this.shown);
    const none = view.spindles.length === 0;
    return html`${none ? nothing : awayWords(view, this.clock.zone)}
      ${view.money === undefined ? nothing : html`<div>By your rate: ${moneyOpened(view.money)}</div>`}
      <section aria-labelledby="away">
        <h2 id="away">Hours given away, most first</h2>
        ${none ? html`<p class="soft">No spindle is known yet: nothing is counted.</p>` : html`${speedKey(endRpm)} ${spindleTable(rows, view, { endRpm, zone: this.clock.zone })}<save-picture .name=${say`Hours given away`} of="ul.key, [aria-labelledby='away'] > .scrolls"></save-picture>`}
        ${
          view.spindles.length > this.shown
            ? html`<p>
                <button @click=${() => (this.shown += ROWS_AT_ONCE)}>
                  Show ${Math.min(ROWS_AT_ONCE, view.spindles.length - this.shown)} more of
                  ${whole(view.spindles.length)}
                </button>
              </p>`
            : nothing
        }
        ${none ? nothing : programTable(rows)}
      </section>
      <section aria-labelledby="lives">
        <h2 id="lives">Does residual unbalance cost tool life?</h2>
        ${cutterTable(view.cutters)}
      </section>
      <section aria-labelledby="how">
        <h2 id="how">How it is reckoned</h2>
        <p>
          Given away: time in the cut with the override turned down × (1 − actual ÷ programmed speed). It takes for
          granted that the feed follows the speed, as an override of both or a feed per revolution does. A program that
          asks for less gives nothing away.
        </p>
        <p>
          Could save: what the same cuts, of this week and the four before it, would take less at the lowest of what
          balance, marks and the spindle's maximum allow; of what is on hold nothing is said. It is no loss and no
          advice: cutter, workpiece and process may want the lower speed, and the limits of the machine and tool makers
          govern.
        </p>
        ${this.#rates(view)}
      </section>`;
  }

  #rates({ rates, cutters }: HeadroomView) {
    return html`<p>${ratesTold(rates)}</p>
      ${
        this.hasRole(MAY_DECLARE_RATES)
          ? html`<rates-form
              class="not-printed"
              .api=${this.api}
              .rates=${rates}
              .known=${cutters.map(({ cutter }) => cutter)}
              @counterpoise-rates-declared=${() => void this.#view.again()}
            ></rates-form>`
          : nothing
      }`;
  }
}

/** What money is reckoned from, whole. */
function ratesTold(rates: HeadroomView['rates']): string {
  if (rates === undefined) return say`No rate is declared: hours are shown, and no money.`;
  const { spindleHour, cutterChange, cutters, currency, by } = rates;
  const hour =
    spindleHour === undefined
      ? say`No spindle hour is declared: of hours no money is shown. Other rates were declared by ${by}.`
      : say`A spindle hour is reckoned at ${digits(spindleHour.amount)} ${currency} (${spindleHour.source}), declared by ${by}.`;
  const priced =
    cutters.length === 0
      ? ''
      : sayCount(cutters.length, 'One cutter has a price of its own.', '{0} cutters have a price of their own.');
  const change =
    cutterChange === undefined
      ? ''
      : say`A change of cutter is reckoned at ${digits(cutterChange.minutes)} min (${cutterChange.source}).`;
  return [hour, priced, change].filter((words) => words !== '').join(' ');
}

function awayWords(view: HeadroomView, zone: string): TemplateResult {
  const { since = view.from } = view;
  const kept = view.spindles.filter((row) => row.kept !== undefined).length;
  return html`<p>
    Since ${day(since, zone)} ${hourWords(view.awayHours)} of spindle time were given away over
    ${hourWords(view.cutHours)} in the cut.
    ${since > view.from ? html`Nothing was counted from ${day(view.from, zone)} to then.` : nothing}
    ${kept === 0 ? html`No override stayed down after its reason had gone.` : html`<b>${count(kept, 'override is', 'overrides are')} kept down</b> after what it was turned down around was gone.`}
  </p>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'headroom-page': HeadroomPage;
  }
}
