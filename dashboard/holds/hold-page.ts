// Hold: why, on what evidence, what first, what releases it, who has it? The ledger, the boxes, the steps, and what may be done.
import { nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { MAY_PLAN_WORK } from '../../shared/rights.ts';
import type { Travels } from '../../shared/travels.ts';
import type { HoldView } from '../../shared/views.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { subjectAddress, whoHas } from '../floor/needs.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import '../raw-message.ts';
import { addressOf } from '../router.ts';
import type { OpenedHolds } from '../shell/opened-holds.ts';
import { subjectLook } from '../subject-look.ts';
import {
  ANSWERED_BY,
  endedBy,
  HOLD_STATE_WORDS,
  holdSentence,
  REASON_WORDS,
  REASON_WORDS_THEN,
  SUBJECT_WORDS,
} from '../wording/hold-words.ts';
import { age, moment } from '../wording/instants.ts';
import { unbroken } from '../wording/unbroken.ts';
import '../saving/save-picture.ts';
import { answerLines } from './answer-parts.ts';
import './cause-matrix.ts';
import { causeLook, causeSection } from './cause-parts.ts';
import { clauseLedger, ledgerLook } from './clause-ledger.ts';
import { ActedEvent } from './hold-acts.ts';
import { holdLook } from './hold-look.ts';
import './plan-work.ts';
import type { ActQueue, WaitingAct } from '../waiting/act-queue.ts';
import { conditionBoxes, evidenceLine, inPlaceOf, noticesTable, stepsTable } from './hold-parts.ts';

const isAboutVibration = ({ reason, findings }: HoldView): boolean =>
  findings !== undefined ||
  reason === 'vibration-unexplained' ||
  reason === 'synchronous-over-limit' ||
  reason === 'overall-over-limit';

@customElement('hold-page')
export class HoldPage extends Page {
  static override styles = [look, tables, presses, markLook, subjectLook, ledgerLook, holdLook, causeLook];

  @property({ attribute: false }) opened!: OpenedHolds;
  @property({ attribute: false }) queue!: ActQueue;
  @property({ attribute: false }) waiting: readonly WaitingAct[] = [];
  readonly #hold = new PageData<HoldView>(this, () => this.api.hold(this.#id));
  readonly #travels = new PageData<Travels>(this, () => this.api.travels(this.#id));
  #seen: HoldView | undefined;

  get #id(): string {
    return this.route.page === 'hold' ? this.route.holdId : '';
  }

  override willUpdate(): void {
    this.#hold.want(this.#id);
    this.#wantTravels();
    const told = this.picture?.holds.get(this.#id);
    if (told === undefined || told === this.#seen) return;
    this.#seen = told;
    this.#hold.set({ kind: 'answer', value: told });
  }

  /** Asked anew with each weighing: then there is something else to see. What vibrates nowhere has nobody to be told from. */
  #wantTravels(): void {
    const hold = this.#hold.value;
    if (hold === undefined || hold.holdId !== this.#id || !isAboutVibration(hold)) return;
    this.#travels.want(`${hold.holdId} ${hold.findings?.length ?? 0}`, true);
  }

  override render() {
    const hold = this.#hold.value;
    if (hold === undefined || hold.holdId !== this.#id) {
      return html`<h1>Hold ${this.#id}</h1>
        ${insteadOf(this.#hold.state, { what: say`hold ${this.#id}`, absent: html`<p>There is no hold of this id. <a href="/holds">All open holds</a></p>` }) ?? nothing}`;
    }
    this.opened.add(hold.holdId);
    return html`
      ${this.#head(hold)} ${answerLines(hold, this.clock)}
      ${
        hold.open
          ? html`<section class="not-printed" aria-labelledby="acts">
              <h2 id="acts">What you can do</h2>
              <hold-acts
                .api=${this.api}
                .hold=${hold}
                .person=${this.person}
                .spindle=${this.#spindleOf(hold)}
                .clock=${this.clock}
                .queue=${this.queue}
                .waiting=${this.waiting}
                ?live=${this.live}
                @counterpoise-acted=${this.#onActed}
              ></hold-acts>
              ${this.#planWork(hold)}
            </section>`
          : nothing
      }
      <div class="lists">
        <section aria-labelledby="first">
          <h2 id="first">${hold.open ? say`Check first` : say`What was to be checked first`}</h2>
          ${
            hold.checkFirst.length === 0
              ? html`<p class="soft">Nothing in particular.</p>`
              : html`<ol class="check">
                  ${hold.checkFirst.map((check) => html`<li>${retell(check)}</li>`)}
                </ol>`
          }
          <ul class="cautions">
            ${hold.cautions.map((caution) => html`<li>${retell(caution)}</li>`)}
          </ul>
        </section>
        <section aria-labelledby="ends">
          <h2 id="ends">${hold.open ? say`What ends it` : say`What was to end it`}</h2>
          ${conditionBoxes(hold)}
        </section>
      </div>
      <section aria-labelledby="why">
        <h2 id="why">Why: ${(hold.open ? REASON_WORDS : REASON_WORDS_THEN)[hold.reason]}</h2>
        ${clauseLedger(hold)}${hold.evidence.clauses.length === 0 ? nothing : html`<save-picture .name=${say`Clauses of ${hold.holdId}`} table=".ledger"></save-picture>`}
        ${evidenceLine(hold, this.api)}
      </section>
      <div class="lists causes">${causeSection(hold, this.clock)} ${this.#matrix(hold)}</div>
      <div class="lists below">${stepsTable(hold, this.clock)} ${noticesTable(hold, this.clock)}</div>
    `;
  }

  #spindleOf({ evidence, subject }: HoldView) {
    const spindleId = evidence.spindleId ?? (subject.kind === 'spindle' ? subject.id : undefined);
    return spindleId === undefined ? undefined : this.picture?.spindles.get(spindleId);
  }

  /** Of a spindle that one hold is about; a bench or a shelf is not worked on in this sense. */
  #planWork(hold: HoldView) {
    const spindleId = hold.evidence.spindleId ?? (hold.subject.kind === 'spindle' ? hold.subject.id : undefined);
    const mayPlan = this.person?.roles.some((role) => MAY_PLAN_WORK.includes(role)) === true;
    if (spindleId === undefined || !mayPlan) return nothing;
    return html`<plan-work
      .api=${this.api}
      .clock=${this.clock}
      .spindleId=${spindleId}
      .work=${hold.work ?? []}
      @counterpoise-work-planned=${() => void this.#hold.again()}
    ></plan-work>`;
  }

  #matrix(hold: HoldView) {
    const travels = this.#travels.value;
    if (travels === undefined || travels.holdId !== hold.holdId || travels.cells.length === 0) return nothing;
    return html`<section aria-labelledby="travels">
      <h2 id="travels">Who travelled with whom</h2>
      <cause-matrix .travels=${travels} .clock=${this.clock} .ended=${!hold.open}></cause-matrix>
    </section>`;
  }

  #head(hold: HoldView) {
    const movedTo = hold.open ? undefined : hold.steps.at(-1)?.movedTo;
    return html`<div class="hold-head">
      <span class="hold"
        >${mark(hold.open ? 'hold' : movedTo === undefined ? 'in-family' : 'watch', { size: 40 })}</span
      >
      <div>
        <h1>${unbroken(holdSentence(hold))}</h1>
        <p class="state">
          ${movedTo === undefined ? html`<strong class=${hold.open ? 'hold' : ''}>${hold.open ? say`hold, ` : ''}${HOLD_STATE_WORDS[hold.state]}</strong>` : html`<strong class="hold">went on as hold <a href=${addressOf({ page: 'hold', holdId: movedTo })}>${movedTo}</a></strong>`}
          <span>${this.#who(hold)}</span>
          <a href=${subjectAddress(hold.subject, hold.holdId)}
            >${SUBJECT_WORDS[hold.subject.kind]} ${hold.subject.id}</a
          >
          <span class="soft">${hold.holdId}, raised ${moment(hold.raisedAt, this.clock)}</span>
          ${(hold.inPlaceOf ?? []).map((before) => inPlaceOf(before, this.clock))}
        </p>
      </div>
      ${hold.open ? html`<a class="press tag-link not-printed" href=${addressOf({ page: 'tag', holdId: hold.holdId })}>Tag to print</a>` : nothing}
    </div>`;
  }

  #who(hold: HoldView) {
    const last = hold.steps.at(-1);
    if (!hold.open)
      return last === undefined ? nothing : say`${endedBy(hold) ?? say`ended`}, ${age(last.at, this.clock)} ago`;
    return hold.state === 'raised'
      ? say`${whoHas(hold, this.clock)}; expected: ${ANSWERED_BY[hold.reason]}`
      : whoHas(hold, this.clock);
  }

  readonly #onActed = (event: Event): void => {
    if (event instanceof ActedEvent) this.#hold.set({ kind: 'answer', value: event.hold });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'hold-page': HoldPage;
  }
}
