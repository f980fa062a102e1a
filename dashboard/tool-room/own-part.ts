// The bench's own part as a point that wanders on polar paper: what its spindle and adapter contribute per kg of assembly.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { BenchView } from '../../shared/tool-room.ts';
import { pictureText, wholePicture } from '../drawing/picture-look.ts';
import { pointAt, ringValues } from '../drawing/polar.ts';
import { look, tables } from '../look.ts';
import { amount, degrees, shownTicks, unitOf, withUnit } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

const RADIUS = 105;
const HALF = RADIUS + 34;
const ROOM = 1.2;
const LEAST_UM = 0.2;
const ROWS_SHOWN_MAX = 20;

@customElement('own-part')
export class OwnPart extends LitElement {
  static override styles = [
    look,
    tables,
    pictureText,
    wholePicture,
    css`
      svg {
        max-width: 20rem;
      }
      .paper {
        fill: none;
        stroke: var(--paper-line);
      }
      .path {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1;
      }
      .point {
        fill: var(--ground);
        stroke: var(--slate);
      }
      circle.newest {
        fill: var(--ink);
        stroke: var(--ink);
      }
    `,
  ];

  /** Oldest first. */
  @property({ attribute: false }) points: BenchView['ownPart'] = [];
  @property({ attribute: false }) drift: string | undefined;
  @property({ attribute: false }) clock!: PlantClock;

  override render() {
    const newest = this.points.at(-1);
    if (newest === undefined)
      return html`<p class="soft">Not known: none of its results has told the readings of both index positions.</p>`;
    const maxUm = Math.max(LEAST_UM, ...this.points.map(({ um }) => um)) * ROOM;
    const place = ({ um, angleDeg }: { um: number; angleDeg: number }) => pointAt((um / maxUm) * RADIUS, angleDeg);
    const path = this.points.map(place).map(({ x, y }) => `${x} ${y}`);
    const now = place(newest);
    return html`<svg
        viewBox=${`${-HALF} ${-HALF} ${2 * HALF} ${2 * HALF}`}
        role="img"
        aria-label=${say`Own part of the bench: ${this.points.length} results, the newest ${withUnit(newest.um, 'um')} at ${degrees(newest.angleDeg)}; the table below has the same`}
      >
        ${[0, 90, 180, 270].map((angleDeg) => {
          const [end, word] = [pointAt(RADIUS, angleDeg), pointAt(RADIUS + 17, angleDeg)];
          return svg`<line class="paper" x1="0" y1="0" x2=${end.x} y2=${end.y} />
            <text x=${word.x} y=${word.y + 4} text-anchor="middle">${angleDeg === 0 ? say`mark 0°` : `${angleDeg}°`}</text>`;
        })}
        ${shownTicks('um', (shown) => ringValues(shown(maxUm))).map(({ value, word }) => {
          const radius = (value / maxUm) * RADIUS;
          return svg`<circle class="paper" r=${radius} /><text x="3" y=${now.y > 0 ? 12 - radius : radius - 3}>${word}</text>`;
        })}
        <path class="path" d=${`M${path.join('L')}`} />
        ${this.points.slice(0, -1).map((point) => {
          const { x, y } = place(point);
          return svg`<circle class="point" cx=${x} cy=${y} r="2.6" />`;
        })}
        <circle class="newest" cx=${now.x} cy=${now.y} r="4.5" />
        <text class="newest" x=${now.x} y=${now.y > 0 ? now.y + 18 : now.y - 9} text-anchor="middle">
          ${amount(newest.um, 'um')}
        </text>
      </svg>
      <p class="soft small">
        In ${unitOf('um')}, from the bench spindle’s mark: bench spindle and adapter together, joined in the order of
        measuring; filled: the newest.
      </p>
      ${this.drift === undefined ? nothing : html`<p>${retell(this.drift)}</p>`} ${this.#table()}`;
  }

  #table() {
    return html`<details>
      <summary>Own part as a table</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col" class="number">${unitOf('um')}</th>
            <th scope="col" class="number">Angle</th>
          </tr>
        </thead>
        <tbody>
          ${[...this.points]
            .reverse()
            .slice(0, ROWS_SHOWN_MAX)
            .map(
              ({ at, um, angleDeg }) =>
                html`<tr>
                  <td>${moment(at, this.clock)}</td>
                  <td class="number">${amount(um, 'um')}</td>
                  <td class="number">${degrees(angleDeg)}</td>
                </tr>`,
            )}
        </tbody>
      </table>
    </details>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'own-part': OwnPart;
  }
}
