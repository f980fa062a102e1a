// The proving-rotor chart of a bench: individuals with their limits above, moving ranges below; its table beside it.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { numberLocale, say } from '../../shared/language/index.ts';
import type { BenchView } from '../../shared/tool-room.ts';
import type { Api } from '../api.ts';
import { pictureText, wholePicture } from '../drawing/picture-look.ts';
import { look, tables } from '../look.ts';
import '../raw-message.ts';
import { graduation, unbalance } from '../wording/figures.ts';
import { day, localDay, moment, type PlantClock } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import {
  apart,
  datedIndices,
  movingRanges,
  panelTicks,
  placeIn,
  rangePanel,
  scalePanel,
  type Panel,
  type Proof,
} from './proof-shape.ts';

const WIDTH = 560;
const LEFT = 56;
const RIGHT = 66;
const UPPER = { top: 20, height: 132 } as const;
const LOWER = { top: 190, height: 62 } as const;
const HEIGHT = 290;
const DATES_MAX = 5;
/** From line to line of words, so that they do not touch. */
const WORD_PX = 16;
const ROWS_SHOWN_MAX = 30;
const LINE_WORDS = { limit: say`limit`, centre: say`centre` } as const;

@customElement('proof-chart')
export class ProofChart extends LitElement {
  static override styles = [
    look,
    tables,
    pictureText,
    wholePicture,
    css`
      svg {
        max-width: 42rem;
      }
      .paper {
        stroke: var(--paper-line);
      }
      .limit {
        stroke: var(--ink);
        stroke-width: 1.2;
        stroke-dasharray: 7 4;
      }
      .centre {
        stroke: var(--slate);
      }
      .line {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1;
      }
      .point {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 1.5;
      }
      .off {
        fill: var(--ochre);
        stroke: var(--ochre);
      }
      .outside {
        fill: none;
        stroke: var(--plum);
        stroke-width: 2.2;
      }
    `,
  ];

  @property({ attribute: false }) proofs!: BenchView['proofs'];
  @property() bench = '';
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) api!: Api;

  override render() {
    const { points } = this.proofs;
    if (points.length === 0)
      return html`<p class="soft">
        No proving rotor has been measured on it: nothing shows whether it tells the truth.
      </p>`;
    return html`${this.#picture()}<save-picture .name=${say`Proving rotor, ${this.bench}`}></save-picture
      >${this.#words()} ${this.#table()}`;
  }

  #picture() {
    const { points, rangeUpper } = this.proofs;
    const [scale, range] = [scalePanel(this.proofs), rangePanel(this.proofs)];
    return html`<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${this.#told()}>
      <text x="0" y="11">read ÷ expected</text>
      ${this.#panel(scale, UPPER)} ${this.#limits(scale)}
      <path
        class="line"
        d=${this.#path(points.map(({ scale: value }) => placeIn(scale, value, UPPER.top, UPPER.height)))}
      />
      ${points.map((point, index) => this.#point(point, this.#x(index), placeIn(scale, point.scale, UPPER.top, UPPER.height)))}
      <text x="0" y=${LOWER.top - 9}>moving range</text>
      ${this.#panel(range, LOWER)} ${rangeUpper === undefined ? nothing : this.#rangeLimit(range, rangeUpper)}
      ${movingRanges(points).map((value, index) => {
        const y = placeIn(range, value, LOWER.top, LOWER.height);
        return svg`<line class="line" x1=${this.#x(index + 1)} x2=${this.#x(index + 1)} y1=${LOWER.top + LOWER.height} y2=${y} />
          <circle class="point" cx=${this.#x(index + 1)} cy=${y} r="2.6" />`;
      })}
      ${datedIndices(points.length, DATES_MAX).map((index) => {
        const word = localDay(points[index]?.at ?? 0, this.clock.zone);
        return svg`<text x=${this.#x(index)} y=${HEIGHT - 14} text-anchor="middle">${word}</text>`;
      })}
    </svg>`;
  }

  #told(): string {
    const { points } = this.proofs;
    const off = points.filter(({ unusual }) => unusual).length;
    const outside = points.filter(({ within }) => !within).length;
    return say`Proving-rotor chart: ${points.length} proofs, ${off} off the chart's limits, ${outside} outside the tolerance; the table below has the same`;
  }

  #x(index: number): number {
    const many = this.proofs.points.length;
    return LEFT + 12 + (many < 2 ? 0 : (index / (many - 1)) * (WIDTH - LEFT - RIGHT - 24));
  }

  #path(ys: readonly number[]): string {
    return `M${ys.map((y, index) => `${this.#x(index)} ${y}`).join('L')}`;
  }

  #panel(panel: Panel, { top, height }: { top: number; height: number }) {
    return panelTicks(panel, Math.floor(height / (WORD_PX + 4))).map((value) => {
      const y = placeIn(panel, value, top, height);
      return svg`<line class="paper" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y} y2=${y} />
        <text x=${LEFT - 6} y=${y + 4} text-anchor="end">${graduation(value)}</text>`;
    });
  }

  #limits(scale: Panel) {
    const { centre, lower, upper } = this.proofs;
    const given = [
      { kind: 'limit', value: upper },
      { kind: 'centre', value: centre },
      { kind: 'limit', value: lower },
    ] as const;
    const lines = given.flatMap(({ kind, value }) =>
      value === undefined ? [] : [{ kind, y: placeIn(scale, value, UPPER.top, UPPER.height) }],
    );
    const wordsY = apart(
      lines.map(({ y }) => y),
      WORD_PX,
    );
    return lines.map(({ kind, y }, index) => this.#line(kind, y, wordsY[index] ?? y));
  }

  #rangeLimit(range: Panel, rangeUpper: number) {
    const y = placeIn(range, rangeUpper, LOWER.top, LOWER.height);
    return this.#line('limit', y, y);
  }

  #line(kind: keyof typeof LINE_WORDS, y: number, wordY: number) {
    return svg`<line class=${kind} x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y} y2=${y} />
      <text x=${WIDTH - RIGHT + 4} y=${wordY + 4}>${LINE_WORDS[kind]}</text>`;
  }

  /** Shape first: a ring is usual, a diamond is off the limits, a square around it is outside the tolerance. */
  #point({ unusual, within }: Proof, x: number, y: number) {
    return svg`${
      unusual
        ? svg`<path class="off" d=${`M${x} ${y - 5.5}l5.5 5.5l-5.5 5.5l-5.5 -5.5z`} />`
        : svg`<circle class="point" cx=${x} cy=${y} r="3.4" />`
    }
      ${within ? nothing : svg`<rect class="outside" x=${x - 8} y=${y - 8} width="16" height="16" />`}`;
  }

  #words() {
    const { madeOf } = this.proofs;
    return html`<p class="soft small">
      Mean of read ÷ expected over the planes, a proof a mark, in their order. Diamond: off the chart’s limits; square
      around it: outside the tolerance.
      ${
        madeOf === undefined
          ? say`There are no limits yet: too few proofs.`
          : say`Limits of the first ${madeOf} proofs: centre ± 2.66 × the mean moving range (individuals chart; Shewhart, common practice).`
      }
    </p>`;
  }

  #table() {
    const newest = [...this.proofs.points].reverse().slice(0, ROWS_SHOWN_MAX);
    return html`<details>
      <summary>The proofs as a table</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Proofs">
        <table>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Rotor</th>
              <th scope="col" class="number">Read ÷ expected</th>
              <th scope="col" class="number">Off by</th>
              <th scope="col" class="number">Tolerance</th>
              <th scope="col">In words</th>
              <th scope="col">Message</th>
            </tr>
          </thead>
          <tbody>
            ${newest.map(
              (proof) =>
                html`<tr>
                  <td class="nowrap">
                    ${day(proof.at, this.clock.zone)} ${moment(proof.at, { ...this.clock, now: proof.at })}
                  </td>
                  <td>${proof.rotorSerial}</td>
                  <td class="number">${scaleFigure(proof.scale)}</td>
                  <td class="number">${unbalance(proof.offGmm)}</td>
                  <td class="number">${unbalance(proof.toleranceGmm)}</td>
                  <td>
                    ${proof.within ? say`within` : say`outside`}${proof.unusual ? say`, off the limits` : nothing}
                  </td>
                  <td><raw-message .api=${this.api} .position=${proof.position}></raw-message></td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`;
  }
}

/** To a thousandth, whatever its size: the column is compared line by line. */
function scaleFigure(scale: number): string {
  return scale.toLocaleString(numberLocale(), { minimumFractionDigits: 3, maximumFractionDigits: 3 });
}

declare global {
  interface HTMLElementTagNameMap {
    'proof-chart': ProofChart;
  }
}
