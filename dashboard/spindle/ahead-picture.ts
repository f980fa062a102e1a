// Looking ahead drawn: a ring a day, the limit, dated breaks, and a bar on the limit for the days between which it is reached.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { AheadView } from '../../shared/ahead.ts';
import { pictureText, wholePicture } from '../drawing/picture-look.ts';
import { timeTicks } from '../drawing/time-ticks.ts';
import { look } from '../look.ts';
import { shownTicks, unitOf, velocity } from '../wording/figures.ts';
import { localDay, type PlantClock } from '../wording/instants.ts';
import { aheadShape, levelTicks, placesOn, type AheadShape } from './ahead-shape.ts';

const WIDTH = 600;
const HEIGHT = 250;
const PAPER = { left: 46, right: WIDTH - 14, top: 34, bottom: HEIGHT - 30 } as const;
const TICKS_MAX = 6;
/** Words over the bar need so much room beside each other. */
const WORD_PX = 30;

@customElement('ahead-picture')
export class AheadPicture extends LitElement {
  static override styles = [
    look,
    pictureText,
    wholePicture,
    css`
      svg {
        max-width: 46rem;
      }
      .paper {
        stroke: var(--paper-line);
      }
      .day {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 1.2;
      }
      .before {
        stroke: var(--slate);
        opacity: 0.7;
      }
      .limit {
        stroke: var(--ink);
        stroke-width: 1.4;
        stroke-dasharray: 10 4;
      }
      .line {
        stroke: var(--slate);
        stroke-width: 2;
      }
      .carried {
        stroke: var(--slate);
        stroke-width: 1.5;
        stroke-dasharray: 2 4;
      }
      .broke {
        fill: var(--slate);
        opacity: 0.18;
      }
      .broke-at {
        stroke: var(--slate);
        stroke-width: 1.2;
      }
      .bar {
        stroke: var(--ink);
        stroke-width: 7;
        opacity: 0.85;
      }
      .middle {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 2;
      }
    `,
  ];

  @property({ attribute: false }) view!: AheadView;
  @property({ attribute: false }) clock!: PlantClock;

  override render() {
    const shape = aheadShape(this.view);
    if (shape === undefined) return nothing;
    const { x, y } = placesOn(shape, PAPER);
    const { days, limit, slope } = this.view;
    const since = slope?.since ?? 0;
    return html`<svg
      viewBox="0 0 ${WIDTH} ${HEIGHT}"
      role="img"
      aria-label=${say`${retell(this.view.words)} The table below has the same.`}
    >
      <text x="0" y="12">${unitOf('mm/s')} RMS, a ring a day</text>
      ${shownTicks('mm/s', (shown) => levelTicks(shown(shape.topMmS), TICKS_MAX)).map(
        ({
          value: mmS,
          word,
        }) => svg`<line class="paper" x1=${PAPER.left} x2=${PAPER.right} y1=${y(mmS)} y2=${y(mmS)} />
          <text x=${PAPER.left - 6} y=${y(mmS) + 4} text-anchor="end">${word}</text>`,
      )}
      ${timeTicks(shape.from, shape.to, this.clock.zone, TICKS_MAX).map(
        ({ at }) => svg`<text x=${x(at)} y=${HEIGHT - 10} text-anchor="middle">${localDay(at, this.clock.zone)}</text>`,
      )}
      ${this.#breaks(x)} ${this.#line(shape, x, y)}
      ${days.map(({ at, mmS }) => svg`<circle class=${at < since ? 'day before' : 'day'} cx=${x(at)} cy=${y(mmS)} r="2.6" />`)}
      ${
        limit === undefined || limit.mmS > shape.topMmS
          ? nothing
          : svg`<line class="limit" x1=${PAPER.left} x2=${PAPER.right} y1=${y(limit.mmS)} y2=${y(limit.mmS)} />
              <text x=${PAPER.left + 4} y=${y(limit.mmS) + 15}>${limit.kind === 'limit' ? say`limit` : say`boundary of zones`} ${velocity(limit.mmS)}</text>`
      }
      ${this.#bar(shape, x, y)}
    </svg>`;
  }

  #breaks(x: (at: number) => number) {
    return this.view.breaks.map(({ at, earliest, latest }) => {
      const [left, right] = [x(earliest), x(latest)];
      return svg`<rect class="broke" x=${left - 1} y=${PAPER.top} width=${Math.max(2, right - left)} height=${PAPER.bottom - PAPER.top} />
        <line class="broke-at" x1=${x(at)} x2=${x(at)} y1=${PAPER.top} y2=${PAPER.bottom} />
        <text x=${x(at) + 4} y=${PAPER.bottom - 6}>broke</text>`;
    });
  }

  #line({ line }: AheadShape, x: (at: number) => number, y: (mmS: number) => number) {
    const today = this.view.days.at(-1)?.at;
    if (line === undefined || today === undefined) return nothing;
    const { from, fromMmS, to, toMmS } = line;
    const nowMmS = to > from ? fromMmS + ((toMmS - fromMmS) * (today - from)) / (to - from) : fromMmS;
    return svg`<line class="line" x1=${x(from)} y1=${y(fromMmS)} x2=${x(today)} y2=${y(nowMmS)} />
      ${to > today ? svg`<line class="carried" x1=${x(today)} y1=${y(nowMmS)} x2=${x(to)} y2=${y(toMmS)} />` : nothing}`;
  }

  #bar({ bar }: AheadShape, x: (at: number) => number, y: (mmS: number) => number) {
    const { limit } = this.view;
    if (bar === undefined || limit === undefined) return nothing;
    const [left, middle, right, height] = [x(bar.from), x(bar.middle), x(bar.to), y(limit.mmS)];
    const wide = right - left > 2 * WORD_PX;
    return svg`<line class="bar" x1=${left} x2=${right} y1=${height} y2=${height} />
      ${bar.open ? svg`<path class="axis" d=${`M${right - 6} ${height - 8}l8 8l-8 8`} />` : nothing}
      <circle class="middle" cx=${middle} cy=${height} r="5" />
      ${wide ? svg`<text x=${left} y=${height + 18} text-anchor="middle">10 %</text>` : nothing}
      <text class="newest" x=${middle} y=${height - 12} text-anchor="middle">${localDay(bar.middle, this.clock.zone)}</text>
      ${wide && !bar.open ? svg`<text x=${right} y=${height + 18} text-anchor="middle">90 %</text>` : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'ahead-picture': AheadPicture;
  }
}
