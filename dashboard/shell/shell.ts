// The frame of everything: holds the feed, the session and the address, and gives the page on screen what it needs.
import { css, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { Api } from '../api.ts';
import type { Picture } from '../feed-fold.ts';
import { look, presses } from '../look.ts';
import { Navigation } from '../navigation.ts';
import type { SessionView } from '../../shared/session.ts';
import { titleOf } from '../page-titles.ts';
import { addressOf, type PageName } from '../router.ts';
import { ChoiceEvent } from '../choice-event.ts';
import { FeedController } from './feed-controller.ts';
import { OpenedHolds } from './opened-holds.ts';
import { PageStage } from './page-stage.ts';
import { PageLoader } from './page-loader.ts';
import { partsBeside } from './places.ts';
import { leftAsideLine, oldPictureLine, printedLine } from './shell-lines.ts';
import { SessionKeeper, type Who } from './session-keeper.ts';
import { WaitingController } from '../waiting/waiting-controller.ts';
import '../waiting/waiting-acts.ts';
import type { SignOutAsks } from '../waiting/sign-out-asks.ts';
import '../waiting/sign-out-asks.ts';
import { ASK_THE_TOOL_ROOM } from '../wording/gate-words.ts';
import { onPrinting } from './printing.ts';
import { FoundEvent } from './top-line.ts';

@customElement('counterpoise-shell')
export class Shell extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      .skip {
        position: absolute;
        left: 1rem;
        top: -6rem;
        z-index: 2;
      }
      .skip:focus {
        top: 0.25rem;
      }
      main {
        padding: 1rem 1.25rem 3rem;
        max-width: 160rem;
        margin: 0 auto;
      }
      .parts {
        flex-wrap: wrap;
        padding: 0 1.25rem;
        border-bottom: 1px solid var(--rule);
      }
      .left-aside {
        margin: 0.75rem 1.25rem 0;
        max-width: none;
        overflow-wrap: anywhere;
      }
      main:focus {
        outline: none;
      }
      .old {
        border: 2px dashed var(--cobalt);
        margin: 0.75rem 1.25rem 0;
        padding: 0.5rem 0.75rem;
        max-width: none;
      }
      @media (max-width: 40rem) {
        main {
          padding: 0.75rem 0.75rem 3rem;
        }
        .left-aside {
          margin-inline: 0.75rem;
        }
      }
      .printed {
        display: none;
      }
      @media print {
        .printed {
          display: block;
          max-width: none;
          margin: 0.25rem 0 0;
          overflow-wrap: anywhere;
        }
        main {
          padding: 0.5rem 0 0;
        }
        :host(:is([data-page='tag'], [data-page='record'], [data-page='report'], [data-page='month'])) main {
          padding: 0;
        }
        :host(:is([data-page='tag'], [data-page='record'], [data-page='report'], [data-page='month']))
          counterpoise-top-line,
        :host(:is([data-page='tag'], [data-page='record'], [data-page='report'], [data-page='month'])) .printed,
        :host(:is([data-page='tag'], [data-page='record'], [data-page='report'], [data-page='month'])) .old {
          display: none;
        }
      }
    `,
  ];

  readonly #api = new Api(() => this.#session.over());
  readonly #opened = new OpenedHolds();
  readonly #pieces = new PageLoader(() => this.requestUpdate());
  readonly #navigation = new Navigation(this, () => this.#onNavigated());
  readonly #session = new SessionKeeper(
    this,
    () => this.#api,
    (who) => this.#onWho(who),
  );
  readonly #feed = new FeedController(this, {
    holds: (picture, first) => this.#announce(picture, first),
    lost: () => void this.#session.ask(),
  });
  readonly #stage = new PageStage();
  readonly #waiting = new WaitingController(
    this,
    () => this.#api,
    ({ holdId }) => (this.announcement = say`What waited for hold ${holdId} was sent and is done.`),
  );
  readonly #heardOf = new Set<string>();
  @state() private announcement = '';
  @query('main') private readonly main!: HTMLElement;
  @query('sign-out-asks') private readonly asks!: SignOutAsks | null;

  constructor() {
    super();
    // The time on paper is that of the printing, not of the last frame.
    onPrinting(() => {
      this.requestUpdate();
      this.performUpdate();
    });
    this.addEventListener('counterpoise-found', (event) => {
      if (event instanceof FoundEvent) this.#navigation.go(event.route);
    });
    this.addEventListener(ChoiceEvent.type, (event) => {
      if (event instanceof ChoiceEvent) this.#navigation.choose(event.changes);
    });
    this.addEventListener('counterpoise-sign-out', () => void this.asks?.begin());
    this.addEventListener('counterpoise-signed-in', () => void this.#session.ask());
  }

  override willUpdate(): void {
    this.dataset['page'] = this.#navigation.route.page;
    this.#waiting.connected(this.#feed.live);
  }

  override render() {
    const { picture, live } = this.#feed;
    const { who } = this.#session;
    const person = who.kind === 'person' ? who.person : undefined;
    return html`
      <button class="skip not-printed" @click=${() => this.main.focus()}>Skip to the page</button>
      <counterpoise-top-line
        .feed=${this.#feed}
        .route=${this.#navigation.route}
        .person=${person}
        .live=${live}
        .picture=${picture}
      ></counterpoise-top-line>
      ${picture === undefined || person === undefined ? nothing : printedLine(picture)}
      ${picture !== undefined && !live && person !== undefined ? oldPictureLine(picture) : nothing}
      ${
        person === undefined
          ? nothing
          : html`${this.#waitingActs(person)} ${this.#parts(person)} ${leftAsideLine(this.#navigation.leftAside)}`
      }
      <main tabindex="-1">${this.#page(who)}</main>
      <div class="only-heard" role="status" aria-live="polite">${this.announcement}</div>
    `;
  }

  override updated(): void {
    document.title = `${titleOf(this.#navigation.route)} – Counterpoise`;
  }

  #waitingActs({ name }: SessionView): TemplateResult {
    const { picture } = this.#feed;
    const { queue } = this.#waiting;
    const zone = picture?.zone ?? 'UTC';
    return html`<waiting-acts
        .queue=${queue}
        .acts=${queue.acts}
        .holds=${picture?.holds}
        .name=${name}
        .zone=${zone}
      ></waiting-acts>
      <sign-out-asks
        .queue=${queue}
        .acts=${queue.acts}
        .name=${name}
        .zone=${zone}
        .signOut=${this.#signOut}
      ></sign-out-asks>`;
  }

  readonly #signOut = (): Promise<boolean> => this.#session.signOut();

  #parts(person: SessionView): TemplateResult | typeof nothing {
    const { page } = this.#navigation.route;
    const parts = partsBeside(page, person);
    if (parts.length === 0) return nothing;
    return html`<nav class="choices parts not-printed" aria-label="Parts of this place">
      ${parts.map(
        ({ route, word, also }) =>
          html`<a href=${addressOf(route)} aria-current=${also.includes(page) ? 'page' : nothing}>${word}</a>`,
      )}
    </nav>`;
  }

  #page(who: Who): TemplateResult | HTMLElement | typeof nothing {
    const { route } = this.#navigation;
    switch (who.kind) {
      case 'asking':
        return nothing;
      case 'unreachable':
        return html`<h1>No connection</h1>
          <p role="alert">The service does not answer. This page tries again by itself; nothing needs to be pressed.</p>
          ${route.page === 'gate' ? html`<p><b>${ASK_THE_TOOL_ROOM}.</b> The gate says nothing without the service.</p>` : nothing}
          <p class="soft">Nothing of the plant is kept on this device, so there is no earlier picture to show.</p>`;
      case 'nobody':
        return this.#fetched(route.page === 'first-sign-in' || who.first ? 'first-sign-in' : 'sign-in', who);
      case 'person':
        return this.#fetched(route.page === 'sign-in' || route.page === 'first-sign-in' ? 'floor' : route.page, who);
    }
  }

  #fetched(page: PageName, who: Who): TemplateResult | HTMLElement {
    if (page === 'unknown') {
      return html`<h1>Nothing here</h1>
        <p>There is no page at this address. <a href="/floor">Go to the floor</a>.</p>`;
    }
    switch (this.#pieces.stateOf(page)) {
      case 'fetching':
        return html`<p class="soft">…</p>`;
      case 'failed':
        return html`<h1>This page could not be fetched</h1>
          <p role="alert">
            The service may have been renewed. <a href=${location.href} target="_self">Load it anew</a>.
          </p>`;
      case 'there':
        return this.#stage.show(page, {
          api: this.#api,
          route: this.#navigation.route,
          picture: this.#feed.picture,
          live: this.#feed.live,
          person: who.kind === 'person' ? who.person : undefined,
          opened: this.#opened,
          queue: this.#waiting.queue,
          waiting: this.#waiting.queue.acts,
          replace: (route) => this.#navigation.replace(route),
          ended: who.kind === 'nobody' && who.ended,
        });
    }
  }

  #onNavigated(): void {
    // The gate takes the focus into its own field, where a scanner types.
    if (this.#navigation.route.page === 'gate') return;
    void this.updateComplete.then(() => this.main.focus({ preventScroll: true }));
  }

  #onWho(who: Who): void {
    if (who.kind === 'person') {
      const { page } = this.#navigation.route;
      if (page === 'sign-in' || page === 'first-sign-in') this.#navigation.go({ page: 'floor' });
      this.#feed.start();
    } else if (who.kind === 'nobody') {
      this.#feed.stopAndForget();
      this.#heardOf.clear();
    }
  }

  /** A new hold is said once to whoever listens; it stays on screen, so nothing pops up and vanishes. */
  #announce(picture: Picture, first: boolean): void {
    const fresh = picture.changedHoldIds.filter((id) => !this.#heardOf.has(id));
    for (const id of fresh) this.#heardOf.add(id);
    if (first) return;
    const sentences = fresh.flatMap((id) => {
      const hold = picture.holds.get(id);
      return hold?.open === true ? [retell(hold.sentence)] : [];
    });
    if (sentences.length > 0) this.announcement = say`New hold. ${sentences.join(' ')}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'counterpoise-shell': Shell;
  }
}
