// The tag for the machine or the shelf: A6, black on white, the word HOLD, what, why, what ends it, who, when, and a code to the page.
import { nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { HoldView } from '../../shared/views.ts';
import { codeTo } from '../drawing/code.ts';
import { look, presses } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { holdAddress } from '../router.ts';
import { endsWhen, REASON_WORDS } from '../wording/hold-words.ts';
import { day, moment } from '../wording/instants.ts';
import { holdWord } from './hold-word.ts';
import { tagLook, tagSheet } from './tag-look.ts';

@customElement('tag-page')
export class TagPage extends Page {
  static override styles = [look, presses, tagLook];

  readonly #hold = new PageData<HoldView>(this, () => this.api.hold(this.#id));

  get #id(): string {
    return this.route.page === 'tag' ? this.route.holdId : '';
  }

  /** The size of the paper belongs to the whole document, and only as long as the tag is on screen. */
  override connectedCallback(): void {
    super.connectedCallback();
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, tagSheet()];
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((sheet) => sheet !== tagSheet());
  }

  override willUpdate(): void {
    this.#hold.want(this.#id);
  }

  override render() {
    const hold = this.#hold.value;
    return html`<div class="not-printed">
        <h1>Tag of ${this.#id}</h1>
        <p class="acts">
          <button
            class="first"
            ?disabled=${hold?.open !== true || this.picture === undefined}
            @click=${() => window.print()}
          >
            Print, A6
          </button>
          <a class="press" href=${holdAddress(this.#id)}>Back to the hold</a>
        </p>
        ${hold !== undefined && !hold.open ? html`<p role="alert">This hold has ended: a tag of it would tell something that is no longer so.</p>` : nothing}
      </div>
      ${
        hold === undefined
          ? insteadOf(this.#hold.state, {
              what: say`hold ${this.#id}`,
              absent: html`<p>There is no hold of this id. <a href="/holds">All open holds</a></p>`,
            })
          : this.#tag(hold)
      }`;
  }

  #tag(hold: HoldView) {
    const link = new URL(holdAddress(hold.holdId), location.origin).href;
    const raised = hold.steps[0];
    return html`<div class="shown">
      <article class=${hold.open ? 'tag' : 'tag ended'} aria-label="Tag">
        <p class="word">${holdWord()}</p>
        <p class="subject">${hold.subject.id}</p>
        <p class="reason">
          ${REASON_WORDS[hold.reason]}${hold.evidence.spindleId === undefined || hold.subject.kind === 'spindle' ? nothing : html`, in ${hold.evidence.spindleId}`}
        </p>
        <p class="ends"><b>Ends when</b> ${endsWhen(hold)}</p>
        <div class="foot">
          <p>
            <b>${this.picture?.plant ?? nothing}</b
            >${this.picture?.invented === true ? html` <span class="invented">invented data</span>` : nothing}<br />
            ${hold.holdId}<br />
            ${day(hold.raisedAt, this.clock.zone)} ${moment(hold.raisedAt, { ...this.clock, now: hold.raisedAt })}<br />
            raised by ${raised?.by ?? say`a message`}<br />
            ${hold.takenBy === undefined ? say`nobody has it yet` : html`with ${hold.takenBy}`}
          </p>
          ${codeTo(link)}
        </div>
        <p class="advisory">Advisory. Does not replace lockout.</p>
      </article>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'tag-page': TagPage;
  }
}
