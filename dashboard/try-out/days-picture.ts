// Days × spindles as a picture: a shape for each day on which a hold stood, as things are, with the draft, or both.
import { css, html, LitElement, nothing, svg, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { TryOutAnswer } from '../../shared/try-out.ts';
import { look, tables } from '../look.ts';
import { count } from '../wording/figures.ts';
import { localDay } from '../wording/instants.ts';
import { daysOf, type DayState } from './days-shape.ts';
import { stateLook } from './try-out-look.ts';
import { STATE_MEANS, stateMark, stateShape } from './try-out-words.ts';

const CELL = 11;
const NAMES = 84;
const HEAD = 22;
/** A name for the day every so many cells: as wide as a date. */
const DAYS_NAMED = 7;
/** Px of the screen for one of the picture: 90 days stand side by side on a desk's screen. */
const SCREEN_PX = 1.25;
const STATES: readonly DayState[] = ['both', 'only-now', 'only-then'];

@customElement('days-picture')
export class DaysPicture extends LitElement {
  static override styles = [
    look,
    tables,
    stateLook,
    css`
      svg.days {
        display: block;
        max-width: none;
        height: auto;
      }
      @media print {
        svg.days {
          width: 100%;
        }
      }
      text {
        fill: var(--ink);
        font-size: 9px;
      }
      .soft-text {
        fill: var(--slate);
      }
      .line {
        stroke: var(--rule);
      }
      ul {
        list-style: none;
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1.5rem;
        margin: 0 0 0.5rem;
        padding: 0;
      }
    `,
  ];

  @property({ attribute: false }) answer: TryOutAnswer | undefined;
  @property({ attribute: false }) zone = 'UTC';

  /** Where the days are wider than the screen, the newest are seen first. */
  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('answer')) return;
    const scrolls = this.renderRoot.querySelector('.scrolls');
    if (scrolls !== null) scrolls.scrollLeft = scrolls.scrollWidth;
  }

  override render() {
    if (this.answer === undefined) return nothing;
    const { starts, rows, more } = daysOf(this.answer);
    if (rows.length === 0) return nothing;
    const width = NAMES + starts.length * CELL + 8;
    const height = HEAD + rows.length * CELL + 4;
    return html`<ul aria-label="Key">
        ${STATES.map((state) => html`<li>${stateMark(state)} <span class="soft small">${STATE_MEANS[state]}</span></li>`)}
      </ul>
      <div class="scrolls" tabindex="0" role="group" aria-label="Days and spindles">
        <svg
          class="days"
          width=${width * SCREEN_PX}
          viewBox="0 0 ${width} ${height}"
          role="img"
          aria-label="Holds by day and spindle; the table below says the same"
        >
          ${starts.map((start, place) =>
            place % DAYS_NAMED === 0
              ? svg`<text class="soft-text" x=${NAMES + place * CELL} y="12">${localDay(start, this.zone)}</text>
                  <path class="line" d="M${NAMES + place * CELL} 16 V${height}" />`
              : nothing,
          )}
          ${rows.map(
            ({ spindleId, days }, row) =>
              svg`<text x="0" y=${HEAD + row * CELL + 8.5}>${spindleId}</text>${days.map((state, place) =>
                state === undefined ? nothing : stateShape(state, NAMES + place * CELL + 0.5, HEAD + row * CELL + 0.5),
              )}`,
          )}
        </svg>
      </div>
      ${more === 0 ? nothing : html`<p class="soft">${count(more, 'more spindle', 'more spindles')} in the table.</p>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'days-picture': DaysPicture;
  }
}
