// Days × spindles as a picture: a shape for each day on which a hold stood, as things are, with the draft, or both.
import { css, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import type { TryOutAnswer } from '../../shared/try-out.ts';
import { say } from '../../shared/language/index.ts';
import { look, tables } from '../look.ts';
import '../saving/save-picture.ts';
import { count } from '../wording/figures.ts';
import { localDay } from '../wording/instants.ts';
import { daysOf, type Days, type DayState } from './days-shape.ts';
import { stateLook } from './try-out-look.ts';
import { STATE_MEANS, stateMark, stateShape } from './try-out-words.ts';

const CELL = 11;
/** High enough for a name that can be read on paper too, where 90 days are as wide as a sheet. */
const ROW = 14;
const NAMES = 84;
const HEAD = 24;
const FOOT = 4;
/** A name for the day every so many cells: as wide as a date. */
const DAYS_NAMED = 7;
/** Px of the screen for one of the picture: 90 days stand side by side on a desk's screen. */
const SCREEN_PX = 1.15;
const STATES: readonly DayState[] = ['both', 'only-now', 'only-then'];

const NO_DAYS: Days = { starts: [], rows: [], more: 0 };
const daysWidth = ({ starts } = NO_DAYS): number => starts.length * CELL + 8;

@customElement('days-picture')
export class DaysPicture extends LitElement {
  static override styles = [
    look,
    tables,
    stateLook,
    css`
      .beside {
        display: grid;
        grid-template-columns: max-content max-content;
      }
      svg.names,
      svg.days {
        display: block;
        max-width: none;
        height: auto;
      }
      /* The names stay where the days scroll along beside them. */
      svg.names {
        position: sticky;
        left: 0;
        background: var(--ground);
      }
      @media print {
        .beside {
          max-width: var(--days-most);
          grid-template-columns: minmax(0, ${NAMES}fr) minmax(0, var(--days-part));
        }
        svg.names,
        svg.days {
          width: 100%;
        }
      }
      text {
        fill: var(--ink);
        font-size: 12px;
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
      li {
        display: flex;
        align-items: center;
        gap: 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) answer: TryOutAnswer | undefined;
  @property({ attribute: false }) zone = 'UTC';

  #days: Days | undefined;

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('answer')) return;
    this.#days = this.answer === undefined ? undefined : daysOf(this.answer);
    // The picture's part of a sheet, so that names and days come out in one scale; the page's policy refuses style in markup.
    this.style.setProperty('--days-part', `${daysWidth(this.#days)}fr`);
    this.style.setProperty('--days-most', `${(NAMES + daysWidth(this.#days)) * SCREEN_PX}px`);
  }

  /** Where the days are wider than the screen, the newest are seen first. */
  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('answer')) return;
    const scrolls = this.renderRoot.querySelector('.scrolls');
    if (scrolls !== null) scrolls.scrollLeft = scrolls.scrollWidth;
  }

  override render() {
    const { starts, rows, more } = this.#days ?? NO_DAYS;
    if (rows.length === 0) return nothing;
    const width = daysWidth(this.#days);
    const height = HEAD + rows.length * ROW + FOOT;
    return html`<ul aria-label="Key">
        ${STATES.map((state) => html`<li>${stateMark(state)} <span class="soft small">${STATE_MEANS[state]}</span></li>`)}
      </ul>
      <div class="scrolls" tabindex="0" role="group" aria-label="Days and spindles">
        <div class="beside">
          <svg class="names" width=${NAMES * SCREEN_PX} viewBox="0 0 ${NAMES} ${height}" aria-hidden="true">
            ${rows.map(({ spindleId }, row) => svg`<text x="0" y=${HEAD + row * ROW + 10.5}>${spindleId}</text>`)}
          </svg>
          <svg
            class="days"
            width=${width * SCREEN_PX}
            viewBox="0 0 ${width} ${height}"
            role="img"
            aria-label="Holds by day and spindle; the table below says the same"
          >
            ${starts.map((start, place) =>
              place % DAYS_NAMED === 0
                ? svg`<text class="soft-text" x=${place * CELL} y="12">${localDay(start, this.zone)}</text>
                    <path class="line" d="M${place * CELL} 16 V${height}" />`
                : nothing,
            )}
            ${rows.map(({ days }, row) =>
              days.map((state, place) =>
                state === undefined
                  ? nothing
                  : stateShape(state, place * CELL + 0.5, HEAD + row * ROW + (ROW - CELL) / 2 + 0.5),
              ),
            )}
          </svg>
        </div>
      </div>
      <save-picture .name=${say`Holds by day and spindle`} of="ul, .scrolls" table="tried-holds-table"></save-picture>
      <p class="soft small">
        A column is 24 hours, the last one up to the time of asking; a date stands where its column begins.
      </p>
      ${more === 0 ? nothing : html`<p class="soft">${count(more, 'more spindle', 'more spindles')} in the table.</p>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'days-picture': DaysPicture;
  }
}
