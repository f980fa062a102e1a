// The line over every page: which plant, its time zone, live or since when not, where to go, find, light or dark, who.
import { LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SessionView } from '../../shared/session.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { openHolds, type Picture } from '../feed-fold.ts';
import { look, presses } from '../look.ts';
import { chooseLanguage, chosenLanguage, LANGUAGES, nameOf } from '../language/begin.ts';
import { addressOf, type Route } from '../router.ts';
import type { FeedController } from './feed-controller.ts';
import { whatIsNamed } from './find.ts';
import './live-line.ts';
import { isIn, mayGo, PLACES } from './places.ts';
import './reading-choices.ts';
import { chooseTheme, chosenTheme, THEME_WORDS, THEMES, type Theme } from './theme.ts';
import { topLineLook } from './top-line-look.ts';

export class FoundEvent extends Event {
  readonly route: Route;

  constructor(route: Route) {
    super('counterpoise-found', { bubbles: true, composed: true });
    this.route = route;
  }
}

@customElement('counterpoise-top-line')
export class TopLine extends LitElement {
  static override styles = [look, presses, markLook, topLineLook];

  @property({ attribute: false }) feed!: FeedController;
  @property({ attribute: false }) route!: Route;
  @property({ attribute: false }) person: SessionView | undefined;
  @property({ type: Boolean }) live = false;
  @property({ attribute: false }) picture: Picture | undefined;

  override render() {
    return html`<header>
      <div class="line">
        <div class="name">${this.#emblem()}<span>Counterpoise</span></div>
        ${this.person === undefined ? nothing : this.#places()}
        <div class="person">${this.person === undefined ? this.#readAs() : this.#who(this.person)}</div>
      </div>
      ${
        this.person === undefined
          ? nothing
          : html`<div class="line seen">
              <div class="plant">${this.#plant()}</div>
              <div class="person">${this.#readAs()} ${this.#find()}</div>
            </div>`
      }
      ${this.picture?.inTheClear === true && this.person !== undefined ? this.#inTheClear() : nothing}
    </header>`;
  }

  #inTheClear() {
    return html`<p class="line in-the-clear" role="note">
      Not encrypted: this service answers on the network without TLS. Passwords and devices' secrets can be read and
      used by whoever listens there.
    </p>`;
  }

  #emblem() {
    return html`<svg
      width="26"
      height="26"
      viewBox="0 0 20 20"
      aria-hidden="true"
      fill="none"
      stroke="currentColor"
      stroke-width="1.6"
    >
      <path d="M2 8.5 H18 M8 8.5 L5.5 16.5 H10.5 Z" />
      <circle cx="4.2" cy="5.4" r="2.2" fill="currentColor" />
      <rect x="13.6" y="5" width="3" height="3" />
    </svg>`;
  }

  #places() {
    return html`<nav aria-label="Pages" class="choices">
      ${PLACES.filter(({ parts: [first] }) => mayGo(first.route.page, this.person)).map(
        (place) =>
          html`<a
            href=${addressOf(place.parts[0].route)}
            aria-current=${isIn(place, this.route.page) ? 'page' : nothing}
            >${place.word}${place.parts[0].route.page === 'holds' ? this.#holdCount() : nothing}</a
          >`,
      )}
    </nav>`;
  }

  #holdCount() {
    // Its room is kept until it is known, so that the line does not break anew when it comes.
    if (this.picture === undefined)
      return html`<span class="count unknown" aria-hidden="true">${mark('hold', { size: 16 })}<span>0</span></span>`;
    const open = openHolds(this.picture);
    if (open.length === 0) return nothing;
    const alone = open.filter((hold) => hold.state === 'raised').length;
    const told = alone === 0 ? say`${open.length} open` : say`${open.length} open, ${alone} that nobody has`;
    return html`<span class="count ${alone > 0 ? 'hold' : ''}">
      ${alone > 0 ? mark('hold', { size: 16 }) : nothing}<span aria-hidden="true">${open.length}</span>
      <span class="only-heard">${told}</span></span
    >`;
  }

  #plant() {
    const { picture } = this;
    if (picture === undefined) return html`<span class="soft">connecting …</span>`;
    return html`<span class="plant-name">${picture.plant}</span>
      <span class="soft nowrap">${picture.zone}</span>
      <counterpoise-live-line .feed=${this.feed} .live=${this.live}></counterpoise-live-line>
      ${picture.invented ? html`<span class="invented">invented data</span>` : nothing}`;
  }

  #find() {
    return html`<form role="search" @submit=${this.#onFind}>
      <label class="only-heard" for="find"
        >Find an assembly, a spindle or a hold by its id; a scanner can type here</label
      >
      <input
        id="find"
        name="find"
        type="text"
        placeholder="find or scan an id"
        autocomplete="off"
        autocapitalize="off"
        spellcheck="false"
      />
    </form>`;
  }

  readonly #onFind = (event: SubmitEvent): void => {
    event.preventDefault();
    const field = this.renderRoot.querySelector<HTMLInputElement>('#find');
    const route = whatIsNamed(field?.value ?? '', this.picture);
    if (field === null || route === undefined) return;
    field.value = '';
    this.dispatchEvent(new FoundEvent(route));
  };

  #readAs() {
    return html`${this.#languages()} <counterpoise-reading-choices></counterpoise-reading-choices> ${this.#themes()}`;
  }

  #languages() {
    const chosen = chosenLanguage();
    return html`<select
      class="quiet"
      aria-label="Language"
      @change=${(event: Event) => {
        const select = event.target as HTMLSelectElement;
        if (!chooseLanguage(select.value)) select.value = chosen;
      }}
    >
      ${LANGUAGES.map((tag) => html`<option value=${tag} lang=${tag} ?selected=${tag === chosen}>${nameOf(tag)}</option>`)}
    </select>`;
  }

  #themes() {
    const chosen = chosenTheme();
    const next = THEMES[(THEMES.indexOf(chosen) + 1) % THEMES.length] ?? 'machine';
    return html`<button class="quiet" @click=${() => this.#choose(next)}>
      <span aria-hidden="true">◐</span><span class="only-heard">Colours:</span> ${THEME_WORDS[chosen]}
    </button>`;
  }

  #choose(theme: Theme): void {
    chooseTheme(theme);
    this.requestUpdate();
  }

  #who({ name }: SessionView) {
    return html`<span class="nowrap who-name">${name}</span>
      <button
        class="quiet"
        @click=${() => this.dispatchEvent(new Event('counterpoise-sign-out', { bubbles: true, composed: true }))}
      >
        Sign out
      </button>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'counterpoise-top-line': TopLine;
  }
}
