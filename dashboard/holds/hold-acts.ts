// What may be done to a hold by whoever looks, as buttons: the first press opens, a second one elsewhere confirms.
import { LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { DeviationNames } from '../../shared/answering-limits.ts';
import { FOUND, FOUND_WORDS, type Found } from '../../shared/cause-words.ts';
import { ACTS_IN_STATE } from '../../shared/holds.ts';
import { MAY_ACT, type HoldActName } from '../../shared/rights.ts';
import type { SessionView } from '../../shared/session.ts';
import type { HoldView, SpindleRow } from '../../shared/views.ts';
import { whyNot, type Api } from '../api.ts';
import { SAYS_IT_IS_WELL, type ActQueue, type WaitingAct } from '../waiting/act-queue.ts';
import { look, presses } from '../look.ts';
import { ACT_WORDS, actPress, DEVIATION_ASKS, RELEASE_THEN_RUN, ROLE_WORDS } from '../wording/hold-words.ts';
import type { PlantClock } from '../wording/instants.ts';
import { nowWords } from '../wording/now-words.ts';
import { actsLook } from './acts-look.ts';
import { offeredActs } from './offered-acts.ts';

const NOTE_CHARACTERS_MAX = 1000;
const NOBODY: SessionView = { name: '', roles: [] };

export class ActedEvent extends Event {
  readonly hold: HoldView;

  constructor(hold: HoldView) {
    super('counterpoise-acted', { bubbles: true, composed: true });
    this.hold = hold;
  }
}

@customElement('hold-acts')
export class HoldActs extends LitElement {
  static override styles = [look, presses, actsLook];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) hold!: HoldView;
  @property({ attribute: false }) person: SessionView | undefined;
  /** The spindle that it is about, as it is now; and the plant's time. */
  @property({ attribute: false }) spindle: SpindleRow | undefined;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) queue!: ActQueue;
  /** Its list, given anew at each change. */
  @property({ attribute: false }) waiting: readonly WaitingAct[] = [];
  @property({ type: Boolean }) live = false;
  @state() private chosen: HoldActName | undefined;
  @state() private note = '';
  /** What it was, where whoever checked or released it can say so. */
  @state() private found: Found | undefined;
  /** That a deviation needs here, as it was when it was chosen. */
  @state() private names: DeviationNames | undefined;
  @state() private wrong: string | undefined;
  @state() private sending = false;

  override render() {
    const waits = this.waiting.find(({ holdId, state }) => holdId === this.hold.holdId && state !== 'refused');
    // One act at a time: what comes after it is decided on the hold as it is then.
    if (waits !== undefined && !this.sending) return this.#waits(waits);
    const offers = offeredActs(this.hold, this.person ?? NOBODY);
    if (ACTS_IN_STATE[this.hold.state].length === 0) return nothing;
    const mine = offers.filter((offer) => offer.mine);
    const others = offers.filter((offer) => !offer.mine);
    return html`
      ${
        mine.length === 0
          ? html`<p>
              You can read this hold. To take it, sign in as ${MAY_ACT.take.map((role) => ROLE_WORDS[role]).join(', ')}.
            </p>`
          : html`<div class="acts">
              ${mine.map(
                ({ act }) =>
                  html`<button
                    aria-expanded=${act === this.chosen ? 'true' : 'false'}
                    @click=${() => this.#choose(act)}
                  >
                    ${actPress(act, this.hold)}
                  </button>`,
              )}
            </div>`
      }
      ${this.chosen === undefined ? nothing : this.#confirm(this.chosen)}
      ${this.wrong === undefined ? nothing : html`<p class="wrong" role="alert">${this.wrong}</p>`}
      ${
        others.length === 0 || mine.length === 0
          ? nothing
          : html`<p class="soft small others">
              ${others.map(({ act }) => `${ACT_WORDS[act].press}: ${MAY_ACT[act].map((role) => ROLE_WORDS[role]).join(say` or `)}`).join('. ')}.
            </p>`
      }
    `;
  }

  #waits({ act, seen }: WaitingAct) {
    return html`<p>
      “${actPress(act, seen)}” is not done yet: it stands above, where it can be taken back. Until then nothing else can
      be done here.
    </p>`;
  }

  #confirm(act: HoldActName) {
    const words = ACT_WORDS[act];
    const ready = words.field === undefined || this.note.trim() !== '';
    return html`<form class="confirm" @submit=${(event: SubmitEvent) => void this.#send(event, act)}>
      ${this.spindle === undefined || !SAYS_IT_IS_WELL.includes(act) ? nothing : html`<p class="now">Now: ${nowWords(this.spindle, this.clock)}</p>`}
      <p class="asks">${this.#asks(act)}</p>
      ${this.live ? nothing : this.#notLive(act)}
      ${
        words.field === undefined
          ? nothing
          : html`<div>
              <label for="note">${words.field}</label>
              <textarea
                id="note"
                maxlength=${NOTE_CHARACTERS_MAX}
                .value=${this.note}
                @input=${(event: InputEvent) => (this.note = (event.target as HTMLTextAreaElement).value)}
              ></textarea>
            </div>`
      }
      ${act === 'check' || act === 'release' ? this.#whatItWas() : nothing}
      <div class="answers">
        <button type="button" @click=${() => this.#choose(undefined)}>Leave it</button>
        <button class="first" type="submit" ?disabled=${!ready || this.sending}>
          ${this.sending ? say`On its way …` : say`Confirm: ${words.press}`}
        </button>
      </div>
    </form>`;
  }

  #notLive(act: HoldActName) {
    return html`<p class="now">
      <b>Not live.</b> With no connection this waits in the memory of this page and is sent once by itself.
      ${SAYS_IT_IS_WELL.includes(act) ? say`If the hold has changed by then, it is not sent and you are asked again.` : nothing}
    </p>`;
  }

  #asks(act: HoldActName): string {
    if (act === 'deviate' && this.names !== undefined) return DEVIATION_ASKS[this.names];
    const isVerified = this.hold?.conditions.some(({ kind }) => kind === 'verification-run') === true;
    return act === 'release' && isVerified ? RELEASE_THEN_RUN : ACT_WORDS[act].asks;
  }

  /** Counted where rules are tried on what is on record, so it is asked for and never demanded. */
  #whatItWas() {
    return html`<div class="found">
      <label for="found">What it was, where you know</label>
      <select
        id="found"
        @change=${(event: Event) => {
          const { value } = event.target as HTMLSelectElement;
          this.found = FOUND.find((one) => one === value);
        }}
      >
        <option value="" ?selected=${this.found === undefined}>not known yet</option>
        ${FOUND.map((one) => html`<option value=${one} ?selected=${this.found === one}>${FOUND_WORDS[one]}</option>`)}
      </select>
    </div>`;
  }

  #choose(act: HoldActName | undefined): void {
    this.chosen = act === this.chosen ? undefined : act;
    this.wrong = undefined;
    this.note = '';
    this.found = undefined;
    if (this.chosen === undefined) return;
    if (this.chosen === 'deviate') void this.#askNames();
    void this.updateComplete.then(() => this.#bringIn());
  }

  /** Where nothing is to be filled in nothing moves: a second tap of a finger still there would confirm. */
  #bringIn(): void {
    this.renderRoot.querySelector<HTMLElement>('textarea, .confirm button.first')?.focus();
    const form = this.renderRoot.querySelector('.confirm:has(textarea)');
    form?.scrollIntoView({ block: 'nearest' });
  }

  async #askNames(): Promise<void> {
    this.names = undefined;
    const answer = await this.api.answering();
    if (answer.kind === 'answer') this.names = answer.value.deviationNames;
  }

  async #send(event: SubmitEvent, act: HoldActName): Promise<void> {
    event.preventDefault();
    if (this.sending || this.person === undefined) return;
    this.sending = true;
    const answer = await this.queue.press({
      holdId: this.hold.holdId,
      act,
      note: this.note.trim(),
      ...(this.found === undefined ? {} : { found: this.found }),
      by: this.person.name,
      seen: this.hold,
    });
    this.sending = false;
    if (answer.kind === 'unreachable') {
      this.#choose(undefined);
      return;
    }
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.#choose(undefined);
    this.dispatchEvent(new ActedEvent(answer.value));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'hold-acts': HoldActs;
  }
}
