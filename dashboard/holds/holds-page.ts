// Holds: what is open, who has it, how old, what ends it? The longest without an answer first.
import { css, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { PRIORITY_WORDS } from '../../shared/priority-words.ts';
import { MAY_DECLARE_ANSWERING } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { openHolds } from '../feed-fold.ts';
import { unansweredSince } from '../../shared/unanswered.ts';
import { longestAloneFirst } from '../floor/needs.ts';
import { look, presses } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf, HOLD_LISTS, holdAddress, type HoldList } from '../router.ts';
import type { OpenedHolds } from '../shell/opened-holds.ts';
import { ANSWERED_BY, endedBy, endsWhen, HOLD_STATE_WORDS, holdSentence, noteTold } from '../wording/hold-words.ts';
import { count, whole } from '../wording/figures.ts';
import { age, moment } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { unbroken } from '../wording/unbroken.ts';
import './answering-levels.ts';

const ENDED_SHOWN_MAX = 100;
/** Drawn at once, the most pressing first; more at a press. Each change of the plant lays all that is drawn out anew. */
const OPEN_AT_ONCE = 200;
const LIST_WORDS: Readonly<Record<HoldList, string>> = {
  open: say`open`,
  ended: say`ended`,
  answering: say`when nobody answers`,
};

@customElement('holds-page')
export class HoldsPage extends Page {
  static override styles = [
    look,
    presses,
    markLook,
    css`
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0 1.25rem;
        margin-bottom: 0.5rem;
      }
      .head .question {
        margin: 0;
      }
      @media screen and (pointer: coarse) {
        .head .choices a {
          min-height: var(--glove);
          min-width: var(--glove);
          border: 1.5px solid var(--slate);
          background: var(--sheet);
        }
        .head .choices a[aria-current] {
          border: 3px solid var(--ink);
        }
      }
      section {
        margin-bottom: 1.5rem;
      }
      ul {
        list-style: none;
        margin: 0;
        padding: 0;
      }
      .more {
        min-height: var(--glove);
        margin-left: 1rem;
      }
      .line {
        display: grid;
        grid-template-columns: 3rem minmax(0, 1fr) minmax(9rem, 17rem) 11.5rem;
        gap: 0.1rem 1rem;
        align-items: center;
        min-height: max(64px, var(--glove));
        padding: 0.5rem 0;
        border-bottom: 1px solid var(--rule);
        color: inherit;
        text-decoration: none;
      }
      .line:hover {
        background: var(--sheet);
      }
      .line:hover .sentence {
        text-decoration: underline;
      }
      .line > :first-child {
        justify-self: center;
      }
      .sentence {
        font-weight: 600;
        display: block;
      }
      .sentence.ended {
        font-weight: 400;
      }
      .age {
        white-space: nowrap;
        text-align: right;
        font-size: var(--large);
        font-weight: 600;
        line-height: 1.2;
      }
      .age .small {
        display: block;
        font-weight: 400;
      }
      .soon {
        display: block;
      }
      .who {
        overflow-wrap: anywhere;
      }
      @media (max-width: 64rem) {
        .line {
          grid-template-columns: 2.5rem minmax(0, 1fr) auto;
        }
        .who {
          grid-column: 2;
        }
        .age {
          grid-column: 3;
          grid-row: 1 / span 2;
        }
      }
    `,
  ];

  @property({ attribute: false }) opened!: OpenedHolds;
  @state() private shown = OPEN_AT_ONCE;
  readonly #ended = new PageData<readonly HoldView[]>(this, () => this.api.holds('ended', ENDED_SHOWN_MAX));

  get #list(): HoldList {
    return this.route.page === 'holds' ? this.route.list : 'open';
  }

  override willUpdate(): void {
    if (this.#list === 'ended')
      this.#ended.want(`ended ${[...(this.picture?.holds.values() ?? [])].filter((hold) => !hold.open).length}`, true);
  }

  override render() {
    return html`<div class="head">
        <h1>Holds</h1>
        <p class="question">What is on hold, who has it, and what ends it?</p>
        <nav class="choices not-printed" aria-label="Which holds">
          ${HOLD_LISTS.map(
            (list) =>
              html`<a href=${addressOf({ page: 'holds', list })} aria-current=${this.#list === list ? 'true' : nothing}
                >${LIST_WORDS[list]}</a
              >`,
          )}
        </nav>
      </div>
      ${this.#chosen()}`;
  }

  #chosen() {
    switch (this.#list) {
      case 'open':
        return this.#openList();
      case 'ended':
        return this.#endedList();
      case 'answering':
        return html`<answering-levels
          .api=${this.api}
          .clock=${this.clock}
          ?live=${this.live}
          ?mayDeclare=${this.hasRole(MAY_DECLARE_ANSWERING)}
        ></answering-levels>`;
    }
  }

  #openList() {
    const { picture } = this;
    if (picture === undefined) return html`<p class="soft" role="status">Waiting for the picture of the plant …</p>`;
    const holds = openHolds(picture).sort(longestAloneFirst);
    if (holds.length === 0)
      return html`<section>
        <h2>No hold is open</h2>
        <p class="soft">As of ${moment(picture.now, picture)}.</p>
      </section>`;
    const drawn = holds.slice(0, this.shown);
    const alone = drawn.filter((hold) => hold.state === 'raised');
    const taken = drawn.filter((hold) => hold.state !== 'raised');
    return html`${this.#group('alone', say`Nobody has it`, alone)} ${this.#group('taken', say`Somebody has it`, taken)}
    ${drawn.length === holds.length ? nothing : this.#more(holds.length)}`;
  }

  #more(all: number) {
    return html`<p>
      <b>The ${whole(this.shown)} most pressing of ${count(all, 'open hold', 'open holds')}.</b>
      <button class="more not-printed" @click=${() => (this.shown += OPEN_AT_ONCE)}>
        Show ${whole(Math.min(OPEN_AT_ONCE, all - this.shown))} more
      </button>
    </p>`;
  }

  #group(id: string, title: string, holds: readonly HoldView[]) {
    if (holds.length === 0) return nothing;
    return html`<section aria-labelledby=${id}>
      <h2 id=${id}>${title}</h2>
      <ul>
        ${repeat(
          holds,
          (hold) => hold.holdId,
          (hold) => this.#line(hold),
        )}
      </ul>
    </section>`;
  }

  #line(hold: HoldView) {
    const alone = hold.state === 'raised';
    const ends = hold.open ? endsWhen(hold) : undefined;
    const note = hold.open ? undefined : lastNote(hold);
    return html`<li>
      <a class="line" href=${holdAddress(hold.holdId)}>
        <span class=${hold.open ? 'hold' : 'soft'}
          >${mark(hold.open ? 'hold' : 'in-family', { size: 34, fresh: alone && !this.opened.has(hold.holdId) })}</span
        >
        <span>
          <span class=${hold.open ? 'sentence' : 'sentence ended'}>${unbroken(holdSentence(hold))}</span>
          ${ends === undefined ? nothing : html`<span class="soft">${unbroken(say`Ends when ${ends}.`)}</span>`}
          ${note === undefined ? nothing : html`<span class="soft">${unbroken(asSentence(note))}</span>`}
        </span>
        <span class="who">${this.#who(hold)}${this.#howSoon(hold)}</span>
        <span class="age">${this.#age(hold)}</span>
      </a>
    </li>`;
  }

  #who(hold: HoldView) {
    const last = hold.steps.at(-1);
    if (!hold.open) return endedBy(hold) ?? say`ended`;
    if (hold.state === 'raised') return html`nobody yet; expected: ${ANSWERED_BY[hold.reason]}`;
    return html`${last?.by ?? hold.takenBy ?? say`somebody`}, ${HOLD_STATE_WORDS[hold.state]}`;
  }

  #howSoon({ priority, escalations = [], work = [], secondName }: HoldView) {
    const words = [
      ...(priority === undefined ? [] : [say`answer ${PRIORITY_WORDS[priority.word]}`]),
      ...(escalations.length === 0 ? [] : [say`told ${count(escalations.length, 'level', 'levels')} up`]),
      ...(secondName === undefined ? [] : [say`wants a second name`]),
      ...(work.some((one) => one.now) ? [say`worked on, as planned`] : []),
    ];
    return words.length === 0 ? nothing : html`<span class="small soft soon">${words.join(', ')}</span>`;
  }

  #age(hold: HoldView) {
    if (!hold.open) return html`<span class="small">${moment(hold.changedAt, this.clock)}</span>`;
    const waited = age(unansweredSince(hold), this.clock);
    return hold.state === 'raised'
      ? html`<span class="small soft">no answer for</span>${waited}`
      : html`<span class="small soft">last step</span>${waited} ago`;
  }

  #endedList() {
    const instead = insteadOf(this.#ended.state, { what: say`the ended holds`, absent: html`` });
    if (instead !== undefined) return instead;
    const holds = [...(this.#ended.value ?? [])].sort((a, b) => b.changedAt - a.changedAt);
    if (holds.length === 0) return html`<p>No hold has ended yet.</p>`;
    return this.#group('ended', say`Ended, the last ${holds.length}`, holds);
  }
}

function lastNote(hold: HoldView): string | undefined {
  const last = hold.steps.at(-1);
  return last === undefined ? undefined : noteTold(hold, last);
}

declare global {
  interface HTMLElementTagNameMap {
    'holds-page': HoldsPage;
  }
}
