// Beside the ribbons: each thing that does not mend itself, who is expected, and the next step. One line when there is none.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { html } from '../language/html.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import type { Picture } from '../feed-fold.ts';
import { look } from '../look.ts';
import type { OpenedHolds } from '../shell/opened-holds.ts';
import { count } from '../wording/figures.ts';
import { unbroken } from '../wording/unbroken.ts';
import { NEEDS_LISTED_MAX, needsOf, type Need } from './needs.ts';

@customElement('needs-list')
export class NeedsList extends LitElement {
  static override styles = [
    look,
    markLook,
    css`
      ol {
        list-style: none;
        margin: 0;
        padding: 0;
      }
      li {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        column-gap: 0.6rem;
        padding: 0.6rem 0;
        border-top: 1px solid var(--rule);
      }
      li:first-child {
        border-top: 0;
        padding-top: 0.2rem;
      }
      a {
        font-weight: 650;
        display: inline-block;
        min-height: 24px;
      }
      p {
        margin: 0;
      }
      .who {
        font-weight: 600;
      }
      .in-word {
        font-weight: 600;
      }
    `,
  ];

  @property({ attribute: false }) picture!: Picture;
  @property({ attribute: false }) opened!: OpenedHolds;

  override render() {
    const needs = needsOf(this.picture);
    if (needs.length === 0) return this.#quiet();
    return html`<section aria-labelledby="needs">
      <h2 id="needs">Needs somebody</h2>
      <ol>
        ${repeat(
          needs.slice(0, NEEDS_LISTED_MAX),
          (need) => need.key,
          (need) => this.#need(need),
        )}
      </ol>
      ${needs.length > NEEDS_LISTED_MAX ? html`<p class="soft">and ${needs.length - NEEDS_LISTED_MAX} more</p>` : nothing}
    </section>`;
  }

  #need(need: Need) {
    const fresh = need.mark === 'hold' && need.alone && !this.opened.has(need.key);
    return html`<li>
      <span class=${need.mark}>${mark(need.mark, { size: 22, fresh })}</span>
      <div>
        <a href=${need.href}>${need.subject}</a> <span class="in-word ${need.mark}">${need.word}</span>
        <p>${unbroken(need.sentence)}</p>
        <p class="small"><span class=${need.alone ? 'who' : ''}>${unbroken(need.who)}</span></p>
        ${need.next === undefined ? nothing : html`<p class="small soft">${unbroken(need.next)}</p>`}
      </div>
    </li>`;
  }

  #quiet() {
    const spindles = this.picture.spindles.size;
    return html`<section aria-labelledby="needs">
      <h2 id="needs">Nobody is needed</h2>
      <p class="soft">${count(spindles, 'spindle', 'spindles')}, no hold open.</p>
    </section>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'needs-list': NeedsList;
  }
}
