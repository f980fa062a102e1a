// Over the ribbons: the time axis, and in words what a ribbon's line, band, ticks, hatching and bar mean.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Loaded } from '../page-data.ts';
import { timeTicks } from '../drawing/time-ticks.ts';
import { look } from '../look.ts';
import { clockTime } from '../wording/instants.ts';
import { round, xOf, type Strip } from './ribbon-shape.ts';

const HEIGHT_PX = 22;
const TICK_ROOM_PX = 64;

@customElement('axis-and-key')
export class AxisAndKey extends LitElement {
  static override styles = [
    look,
    css`
      :host {
        position: sticky;
        top: 0;
        z-index: 1;
        background: var(--ground);
      }
      .key {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.1rem;
        color: var(--slate);
        font-size: var(--small);
        margin: 0 0 0.4rem;
      }
      .key span {
        display: inline-flex;
        align-items: center;
        gap: 0.35rem;
      }
      .axis {
        display: grid;
        grid-template-columns: var(--left) minmax(0, 1fr) var(--right);
        column-gap: var(--between);
        align-items: end;
      }
      .track {
        line-height: 0;
        height: 22px;
      }
      .now {
        font-size: var(--small);
        color: var(--slate);
      }
      text {
        font: 12px var(--font);
        fill: var(--slate);
        font-variant-numeric: tabular-nums;
      }
      .day {
        font-weight: 650;
        fill: var(--ink);
      }
      @media print {
        :host {
          position: static;
        }
        .track svg {
          width: 100%;
        }
      }
      svg line {
        stroke: var(--slate);
      }
    `,
  ];

  @property({ attribute: false }) strip!: Strip;
  @property({ attribute: false }) zone = 'UTC';
  @property({ attribute: false }) perCell = false;
  @property({ attribute: false }) state: Loaded<unknown>['kind'] = 'loading';
  /** What the ribbons below are as wide as. */
  @query('.track') readonly track!: HTMLElement | null;

  override render() {
    return html`
      <p class="key">${this.#key()}</p>
      <div class="axis">
        <span class="now">${this.#told()}</span>
        <div class="track">${this.strip.widthPx > 0 ? this.#ticks() : nothing}</div>
        <span class="now">now</span>
      </div>
    `;
  }

  #told() {
    switch (this.state) {
      case 'ready':
        return nothing;
      case 'loading':
        return html`<span role="status">fetching history …</span>`;
      case 'failed':
        return html`<span role="alert">no history: no answer</span>`;
      case 'no-rights':
      case 'absent':
        return html`<span role="alert">history not available</span>`;
    }
  }

  #ticks() {
    const { strip } = this;
    const ticks = timeTicks(strip.from, strip.to, this.zone, Math.max(2, strip.widthPx / TICK_ROOM_PX));
    return html`<svg
      width=${strip.widthPx}
      height=${HEIGHT_PX}
      viewBox=${`0 0 ${strip.widthPx} ${HEIGHT_PX}`}
      preserveAspectRatio="none"
      role="img"
      aria-label="Time from ${clockTime(strip.from, this.zone)}"
    >
      ${ticks.map(({ at, word, day }) => {
        const x = round(xOf(at, strip));
        const fits = x > 18 && x < strip.widthPx - 18;
        return svg`<line x1=${x} x2=${x} y1="17" y2="22" />
          ${fits ? svg`<text class=${day ? 'day' : ''} x=${x} y="13" text-anchor="middle">${word}</text>` : nothing}`;
      })}
    </svg>`;
  }

  #key() {
    const swatch = (shape: unknown) =>
      html`<svg width="26" height="14" aria-hidden="true" fill="none" stroke="currentColor">${shape}</svg>`;
    const line = svg`<path d="M0 9 L9 5 L17 8 L26 3" stroke-width="1.5" />`;
    const centre = svg`<path d="M0 7 H26" stroke-width="1" />`;
    const hatch = svg`<path d="M2 12 L10 2 M9 12 L17 2 M16 12 L24 2" stroke-width="0.8" />`;
    const tick = svg`<path d="M13 0 V14" />`;
    const held = svg`<path d="M1 2.5 H25" stroke="var(--plum)" stroke-width="3.5" />`;
    return html`
      <span
        >${swatch(line)}${this.perCell ? say`observed ÷ expected 1×, the middle of the cell` : say`observed ÷ expected 1×, ⅓ to 3, log scale`}</span
      >
      <span>${swatch(centre)}as expected</span>
      ${
        this.perCell
          ? html`<span>band: eight in ten of its spindles; dashed: a spindle that leaves it</span>`
          : html`<span>${swatch(tick)}a load</span><span>${swatch(hatch)}not comparable</span
              ><span>${swatch(held)}on hold</span>`
      }
    `;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'axis-and-key': AxisAndKey;
  }
}
