// What every page is given by the shell: the picture of the feed, whether it is live, who looks, and the way to ask.
import { LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { html } from './language/html.ts';
import type { Role } from '../shared/rights.ts';
import type { SessionView } from '../shared/session.ts';
import type { Api } from './api.ts';
import type { Picture } from './feed-fold.ts';
import type { Loaded } from './page-data.ts';
import type { Route } from './router.ts';
import { ChoiceEvent } from './choice-event.ts';
import { NOTHING_CHOSEN, type Choices, type ChoiceChanges } from './choices.ts';
import { PlantAsked } from './saving/plant-asked.ts';
import { duration, type PlantClock } from './wording/instants.ts';

export abstract class Page extends LitElement {
  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) route!: Route;
  @property({ attribute: false }) picture: Picture | undefined;
  @property({ attribute: false }) person: SessionView | undefined;
  @property({ type: Boolean }) live = false;

  constructor() {
    super();
    this.addEventListener(PlantAsked.type, (event) => {
      if (event instanceof PlantAsked) event.told = this.picture;
    });
  }

  get clock(): PlantClock {
    return { zone: this.picture?.zone ?? 'UTC', now: this.picture?.now ?? Date.now() };
  }

  /** What of it is to be shown, as the address says. */
  protected get choices(): Choices {
    return 'choices' in this.route ? this.route.choices : NOTHING_CHOSEN;
  }

  /** Goes by way of the address, which can then be sent to somebody. */
  protected choose(changes: ChoiceChanges): void {
    this.dispatchEvent(new ChoiceEvent(changes));
  }

  /** Said beside what was fetched earlier, when a later try got no answer; nothing otherwise. */
  protected oldWords(state: Loaded<unknown>): TemplateResult | typeof nothing {
    if (state.kind !== 'ready' || !state.old) return nothing;
    const ago = duration(Date.now() - state.at);
    return html`<p class="soft" role="status">The service did not answer just now: what follows is ${ago} old.</p>`;
  }

  hasRole(roles: readonly Role[]): boolean {
    return this.person?.roles.some((role) => roles.includes(role)) ?? false;
  }

  protected override updated(changed: PropertyValues<this>): void {
    // An old picture is not made to look like a new one: the shell says so once, the page keeps what it has.
    this.toggleAttribute('data-old', !this.live && changed.size > 0 && this.picture !== undefined);
  }
}

/** What stands in place of a page's body while there is none; undefined when there is one. */
export function insteadOf(state: Loaded<unknown>, words: { readonly what: string; readonly absent: TemplateResult }) {
  switch (state.kind) {
    case 'loading':
      return html`<p class="soft" role="status">Fetching ${words.what} …</p>`;
    case 'absent':
      return words.absent;
    case 'no-rights':
      return html`<p role="alert">
        You are signed in, but without the right to see ${words.what}. Somebody with the role administrator can give it.
      </p>`;
    case 'failed':
      return html`<p role="alert">
        ${words.what} could not be fetched. ${state.why} It is tried again by itself as soon as the picture is live.
      </p>`;
    case 'ready':
      return undefined;
  }
}
