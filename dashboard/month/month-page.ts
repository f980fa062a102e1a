// Month: what happened in this month? Black on white, one to two sheets of A4; each figure with how many it is of, and the way behind it.
import { nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { MonthView } from '../../shared/month.ts';
import { monthBeside, monthOf } from '../../shared/month-span.ts';
import { recordLook } from '../assembly/record-look.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { codeTo } from '../drawing/code.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { SheetPage } from '../sheet-page.ts';
import { addressOf } from '../router.ts';
import { stillReadLine } from '../still-read.ts';
import { holdsPart, mostHeldPart, namedPart, truthPart } from './month-holds.ts';
import { monthLook } from './month-look.ts';
import { aheadPart, hoursPart, limitsPart, silentPart, toolRoomPart } from './month-rest.ts';
import type { PlantClock } from '../wording/instants.ts';
import { monthAtFirst, monthInstead, monthName, monthsOffered } from './month-words.ts';

/** While the service still reads its history. */
const ASK_AGAIN_LEAST_MS = 5000;

@customElement('month-page')
export class MonthPage extends SheetPage {
  static override styles = [look, presses, tables, recordLook, monthLook];

  readonly #month = new PageData<MonthView>(this, () => this.api.month(this.#shown));

  /** Where the record began after the last whole month: the month in which it did. */
  #begun: string | undefined;

  get #asked(): string | undefined {
    return this.route.page === 'month' ? this.route.month : undefined;
  }

  /** The plant's clock says which month ended last: without it nothing is asked for. */
  get #shown(): string {
    const first = monthAtFirst(this.clock);
    return this.#asked ?? (this.#begun !== undefined && this.#begun > first ? this.#begun : first);
  }

  override willUpdate(): void {
    if (this.picture === undefined) return;
    this.#month.want(this.#shown);
    const { value } = this.#month;
    if (this.#asked === undefined && value !== undefined && value.month === this.#shown) {
      this.#begun = monthInstead(value) ?? this.#begun;
      this.#month.want(this.#shown);
    }
    if (value?.happened.stillReadPercent !== undefined && this.#month.mayAskAgain(ASK_AGAIN_LEAST_MS))
      void this.#month.again();
  }

  override updated(): void {
    this.head.say(say`Month of the plant, ${monthName(this.#shown)}`);
  }

  override render() {
    const view = this.#month.value;
    const month = this.#shown;
    return html`<div class="not-printed">
        <h1>Month</h1>
        <p class="question">What happened in this month?</p>
        <p class="acts">${this.#choice(month)}</p>
        ${this.oldWords(this.#month.state)} ${view === undefined ? nothing : stillReadLine(view.happened)}
      </div>
      ${
        view === undefined
          ? insteadOf(this.#month.state, {
              what: say`the month ${monthName(month)}`,
              absent: html`<p>${monthName(month)} has not begun yet: nothing is known of it.</p>`,
            })
          : this.#paper(view)
      }`;
  }

  #choice(month: string) {
    const [before, after] = [monthBeside(month, -1), monthBeside(month, 1)];
    const address = (of: string): string => addressOf({ page: 'month', month: of });
    return html`<label
        >Month
        <select @change=${this.#onMonth}>
          ${monthsOffered(this.clock, month).map(
            (one) => html`<option value=${one} ?selected=${one === month}>${monthName(one)}</option>`,
          )}
        </select>
      </label>
      <a class="press" href=${address(before)}>${monthName(before)}</a>
      ${
        after > monthOf(this.clock.now, this.clock.zone)
          ? nothing
          : html`<a class="press" href=${address(after)}>${monthName(after)}</a>`
      }
      <button class="first" ?disabled=${this.#month.value === undefined} @click=${() => window.print()}>
        Print, A4
      </button>`;
  }

  readonly #onMonth = (event: Event): void => {
    // Pressed like any link, so that Back comes back to the month before.
    const link = document.createElement('a');
    link.href = addressOf({ page: 'month', month: (event.target as HTMLSelectElement).value });
    this.renderRoot.append(link);
    link.click();
    link.remove();
  };

  #paper(view: MonthView) {
    const { happened, spindles } = view;
    const clock = { zone: view.zone, now: this.clock.now };
    return html`<div class="shown" tabindex="0" role="group" aria-label="The month">
      <article class="paper" aria-label="Month of the plant">
        ${this.#top(view)} ${holdsPart(happened)} ${truthPart(happened)} ${namedPart(happened, clock)}
        ${mostHeldPart(happened, spindles)} ${toolRoomPart(happened)} ${silentPart(happened, spindles)}
        ${limitsPart(happened, clock)} ${hoursPart(view)} ${aheadPart(happened, clock)} ${this.#foot(view)}
      </article>
    </div>`;
  }

  #top({ month, zone, from, to, now, happened: { knownFrom, stillReadPercent } }: MonthView) {
    const clock = { zone, now };
    const partly = partlyKnown(knownFrom, { from, to, clock });
    return html`<div class="top">
        <div>
          <p>Month of the plant</p>
          <h2>${monthName(month)}</h2>
          <p>
            ${this.picture?.plant ?? nothing}${this.picture?.invented === true ? html` <span class="invented">invented data: no real plant</span>` : nothing}
          </p>
          <p>
            From ${fullMoment(from, clock)} until
            ${to > now ? say`now, ${fullMoment(now, clock)}` : fullMoment(to, clock)}, ${zone}. Counted from the
            journal.
          </p>
        </div>
        ${codeTo(new URL(addressOf({ page: 'month', month }), location.origin).href)}
      </div>
      ${partly === undefined ? nothing : html`<p class="partly"><b>${partly}</b></p>`}
      ${stillReadPercent === undefined ? nothing : html`<p class="partly"><b>The history is still being read: ${stillReadPercent} % so far. The figures are not whole yet.</b></p>`}`;
  }

  #foot({ month }: MonthView) {
    return html`<p class="foot">
      It counts what is on record; it says nothing of what nobody measured. Printed
      ${fullMoment(Date.now(), this.clock)}, ${this.clock.zone}, by ${this.person?.name ?? say`nobody signed in`}; as of
      ${fullMoment(this.picture?.now, this.clock)}.
      ${new URL(addressOf({ page: 'month', month }), location.origin).href}
    </p>`;
  }
}

/** Undefined where the record reaches back to the month's beginning. */
function partlyKnown(
  knownFrom: number | undefined,
  { from, to, clock }: { readonly from: number; readonly to: number; readonly clock: PlantClock },
): string | undefined {
  if (knownFrom === undefined) return say`Nothing is on record yet.`;
  if (knownFrom <= from) return undefined;
  return knownFrom >= to
    ? say`Nothing of this month is on record: that begins ${fullMoment(knownFrom, clock)}.`
    : say`On record only from ${fullMoment(knownFrom, clock)} on: what was before is not counted.`;
}

declare global {
  interface HTMLElementTagNameMap {
    'month-page': MonthPage;
  }
}
