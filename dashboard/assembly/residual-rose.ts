// The polar picture: each measurement's vector, before joined to after, the circle of what is permissible and its ring of error.
import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { MeasurementView } from '../../shared/assembly-views.ts';
import { look } from '../look.ts';
import { figure, unbalance } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { ringPath, ringValues, roseScale, spotOf, wholeOf, type RoseScale } from './rose-shape.ts';

const SIZE = 420;
const RADIUS = 170;
/** Words beside a vector's end do not leave the picture. */
const WORD_EDGE = 150;
const SPOKES_DEG = [0, 45, 90, 135, 180, 225, 270, 315] as const;

@customElement('residual-rose')
export class ResidualRose extends LitElement {
  static override styles = [
    look,
    css`
      svg {
        width: 100%;
        max-width: 30rem;
        height: auto;
        display: block;
        margin: 0 auto;
      }
      text {
        paint-order: stroke;
        stroke: var(--ground);
        stroke-width: 4px;
        stroke-linejoin: round;
        font: 12px var(--font);
        fill: var(--slate);
        font-variant-numeric: tabular-nums;
      }
      text.newest {
        fill: var(--ink);
        font-weight: 650;
      }
      .paper {
        fill: none;
        stroke: var(--paper-line);
      }
      .permissible {
        fill: none;
        stroke: var(--ink);
        stroke-width: 2;
      }
      .path {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1.4;
        stroke-dasharray: 4 3;
      }
      .vector {
        stroke: var(--slate);
        stroke-width: 1.4;
      }
      .vector.newest {
        stroke: var(--ink);
        stroke-width: 2.6;
      }
      .plane {
        stroke: var(--slate);
        stroke-width: 1;
        stroke-dasharray: 2 3;
      }
      .end {
        fill: var(--ground);
        stroke: var(--slate);
        stroke-width: 1.6;
      }
      .end.newest {
        fill: var(--ink);
        stroke: var(--ink);
      }
      .hatch path {
        stroke: var(--slate);
        stroke-width: 0.9;
      }
      .error-edge {
        fill: none;
        stroke: var(--slate);
        stroke-width: 0.8;
      }
    `,
  ];

  /** Of one build, oldest first. */
  @property({ attribute: false }) measurements: readonly MeasurementView[] = [];
  @property({ attribute: false }) clock!: PlantClock;

  override render() {
    const newest = this.measurements.at(-1);
    if (newest === undefined) return html`<p class="soft">This build has not been measured yet.</p>`;
    const scale = roseScale(this.measurements, newest.permissibleGmm, RADIUS);
    return html`<svg viewBox=${`${-SIZE / 2} ${-SIZE / 2} ${SIZE} ${SIZE}`} role="img" aria-label=${this.#told(newest)}>
        <pattern id="hatch" class="hatch" width="6" height="6" patternUnits="userSpaceOnUse">
          <path d="M0 6 L6 0" />
        </pattern>
        ${this.#paper(scale)} ${this.#permissible(newest, scale)} ${this.#ringWords(newest, scale)} ${this.#path(scale)}
        ${this.measurements.map((measurement) => this.#vector(measurement, scale, measurement === newest))}
        ${this.#planes(newest, scale)}
      </svg>
      ${this.#key(newest)}`;
  }

  #told(newest: MeasurementView): string {
    const whole = wholeOf(newest.planes);
    return `${this.measurements.length} measurements of this build; the newest: ${unbalance(newest.residualGmm)} at ${figure(whole?.angleDeg)}°, permissible ${unbalance(newest.permissibleGmm)}`;
  }

  #paper(scale: RoseScale) {
    const spokes = SPOKES_DEG.map((angleDeg) => {
      const end = spotOf({ gmm: scale.maxGmm, angleDeg }, scale);
      const word = spotOf({ gmm: scale.maxGmm, angleDeg }, { ...scale, radiusPx: RADIUS + 18 });
      const text = angleDeg === 0 ? 'mark 0°' : `${angleDeg}°`;
      const line = svg`<line class="paper" x1="0" y1="0" x2=${end.x} y2=${end.y} />`;
      return angleDeg % 90 === 0
        ? svg`${line}<text x=${word.x} y=${word.y + 4} text-anchor="middle">${text}</text>`
        : line;
    });
    const rings = ringValues(scale).map((value) => {
      const radius = (value / scale.maxGmm) * RADIUS;
      return svg`<circle class="paper" r=${radius} />`;
    });
    return [...spokes, ...rings];
  }

  /** In the half that the newest vector does not point into: its own number stands there. */
  #ringWords({ planes }: MeasurementView, scale: RoseScale) {
    const whole = wholeOf(planes);
    const up = whole !== undefined && spotOf(whole, scale).y > 0;
    return ringValues(scale).map((value) => {
      const radius = (value / scale.maxGmm) * RADIUS;
      return svg`<text x="3" y=${up ? 13 - radius : radius - 3}>${figure(value)}</text>`;
    });
  }

  #permissible({ permissibleGmm, errorGmm }: MeasurementView, scale: RoseScale) {
    if (permissibleGmm === undefined) return nothing;
    const perGmm = RADIUS / scale.maxGmm;
    const inner = Math.max(0, permissibleGmm - errorGmm) * perGmm;
    const outer = Math.min(scale.maxGmm, permissibleGmm + errorGmm) * perGmm;
    return svg`<path d=${ringPath(inner, outer)} fill="url(#hatch)" />
      <path class="error-edge" d=${ringPath(inner, outer)} />
      <circle class="permissible" r=${permissibleGmm * perGmm} />`;
  }

  #path(scale: RoseScale) {
    const spots = this.measurements.flatMap(({ planes }) => {
      const whole = wholeOf(planes);
      return whole === undefined ? [] : [spotOf(whole, scale)];
    });
    return spots.length < 2
      ? nothing
      : svg`<path class="path" d=${`M${spots.map(({ x, y }) => `${x} ${y}`).join('L')}`} />`;
  }

  #vector(measurement: MeasurementView, scale: RoseScale, newest: boolean) {
    const whole = wholeOf(measurement.planes);
    if (whole === undefined) return nothing;
    const spot = spotOf(whole, scale);
    const name = newest ? 'newest' : '';
    const below = spot.y > 0;
    const word = `${figure(whole.gmm)}${spot.beyond ? ', off the paper' : ''}`;
    const textX = Math.max(-WORD_EDGE, Math.min(WORD_EDGE, spot.x));
    return svg`<line class=${`vector ${name}`} x1="0" y1="0" x2=${spot.x} y2=${spot.y} />
      ${
        spot.beyond
          ? svg`<path class=${`end ${name}`} d="M-6 4 L0 -8 L6 4 Z" transform=${`translate(${spot.x} ${spot.y}) rotate(${-whole.angleDeg})`} />`
          : svg`<circle class=${`end ${name}`} cx=${spot.x} cy=${spot.y} r=${newest ? 5 : 4} />`
      }
      <text class=${name} x=${textX} y=${spot.y + (below ? 20 : -11)} text-anchor="middle">${word}</text>`;
  }

  #planes({ planes }: MeasurementView, scale: RoseScale) {
    if (planes.length < 2) return nothing;
    return planes.map((plane) => {
      const spot = spotOf({ gmm: plane.residualGmm, angleDeg: plane.angleDeg }, scale);
      return svg`<line class="plane" x1="0" y1="0" x2=${spot.x} y2=${spot.y} />
        <text x=${spot.x} y=${spot.y - 4} text-anchor="middle">${plane.name}</text>`;
    });
  }

  #key(newest: MeasurementView) {
    return html`<p class="soft small">
      In g·mm, counter-clockwise from the mark on the assembly. Filled: ${moment(newest.at, this.clock)}, on
      ${newest.bench}; open: before it.
      ${newest.planes.length > 1 ? 'Thick: the vector sum of both planes; dotted: each plane.' : nothing}
      ${
        newest.permissibleGmm === undefined
          ? 'No permissible residual: mass, grade or service speed is not known.'
          : html`Thick circle: permissible, ${unbalance(newest.permissibleGmm)}; hatched: its ring of measuring error, ±
            ${unbalance(newest.errorGmm)}, inside which nobody can tell: measure again.`
      }
    </p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'residual-rose': ResidualRose;
  }
}
