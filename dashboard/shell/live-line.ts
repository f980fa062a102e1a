// "live 3 s ago" or "not live since 07:31:05": counts by itself, so that nothing else has to be drawn each second.
import { css, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { LIVE_WITHIN_MS } from '../feed-client.ts';
import type { FeedController } from './feed-controller.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { liveWords } from './live-words.ts';
import { look } from '../look.ts';

const COUNT_MS = 1000;

@customElement('counterpoise-live-line')
export class LiveLine extends LitElement {
  static override styles = [
    look,
    markLook,
    css`
      :host {
        display: inline-flex;
        white-space: nowrap;
      }
      .old {
        font-weight: 650;
        color: var(--cobalt);
      }
    `,
  ];

  @property({ attribute: false }) feed!: FeedController;
  @property({ type: Boolean }) live = false;
  #counting: ReturnType<typeof setInterval> | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#counting = setInterval(() => this.requestUpdate(), COUNT_MS);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearInterval(this.#counting);
  }

  override render() {
    const { lastFrameAt, picture } = this.feed.client;
    const told = liveWords({
      sinceFrameMs: lastFrameAt === undefined ? undefined : Date.now() - lastFrameAt,
      liveWithinMs: LIVE_WITHIN_MS,
      plantNow: picture?.now,
      zone: picture?.zone ?? 'UTC',
    });
    if (told.kind !== 'old') return html`<span>${told.words}</span>`;
    return html`<span class="old">${mark('no-data', { size: 16 })} ${told.words}</span>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'counterpoise-live-line': LiveLine;
  }
}
