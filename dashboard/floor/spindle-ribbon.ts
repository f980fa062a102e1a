// One ribbon: a spindle's (or a cell's) history as a line with its band, ticks at loads, hatching, holds, and the ratio now.
import { css, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { svg, html } from '../language/html.ts';
import type { RibbonView } from '../../shared/ribbons.ts';
import {
  joined,
  loadTicks,
  plotHeight,
  ribbonShape,
  round,
  spread,
  ticksAreDense,
  xOf,
  yOfRatio,
  type RibbonShape,
  type Strip,
} from './ribbon-shape.ts';

/** A stretch of time on hold; open ones run to the right edge. */
export interface HeldStretch {
  readonly from: number;
  readonly to: number;
}

const NO_SHAPE: RibbonShape = { band: '', line: '' };
const ROOM_FOR_IDS_PX = 40;
const NAME_ROOM_PX = 12;
/** Many loads in little room: ticks too small to hide anything. */
const DENSE_TICK_PX = 5;
const NEAR_PX = 5;

@customElement('spindle-ribbon')
export class SpindleRibbon extends LitElement {
  static override styles = css`
    :host {
      display: block;
      line-height: 0;
    }
    @media print {
      svg {
        width: 100%;
      }
    }
    .centre {
      stroke: var(--slate);
      stroke-width: 1;
    }
    .octave {
      stroke: var(--paper-line);
      stroke-width: 1;
    }
    .band {
      fill: var(--band);
    }
    .line,
    .outlier {
      fill: none;
      stroke: var(--ink);
      stroke-width: 1.4;
      stroke-linejoin: round;
    }
    .outlier {
      stroke-width: 1;
      stroke-dasharray: 5 2;
    }
    .load {
      stroke: var(--slate);
      stroke-width: 1;
    }
    .hatch path {
      stroke: var(--slate);
      stroke-width: 0.8;
      opacity: 0.4;
    }
    .held {
      fill: var(--plum);
    }
    .now {
      fill: var(--ground);
      stroke: var(--ink);
      stroke-width: 2;
    }
    text {
      paint-order: stroke;
      stroke: var(--ground);
      stroke-width: 3px;
      stroke-linejoin: round;
      font: 11px var(--font);
      fill: var(--slate);
      font-variant-numeric: tabular-nums;
    }
    .outlier-name {
      fill: var(--ink);
    }
  `;

  @property({ attribute: false }) ribbon: RibbonView | undefined;
  @property({ attribute: false }) strip: Strip | undefined;
  @property({ attribute: false }) outliers: readonly RibbonView[] = [];
  @property({ attribute: false }) held: readonly HeldStretch[] = [];
  /** The ratio of the last reading, where it can be compared. */
  @property({ attribute: false }) ratioNow: number | undefined;
  @property({ type: Boolean }) scale = false;
  #shape: RibbonShape = NO_SHAPE;

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('ribbon') && !changed.has('strip')) return;
    this.#shape =
      this.ribbon === undefined || this.strip === undefined ? NO_SHAPE : ribbonShape(this.ribbon, this.strip);
  }

  override render() {
    const { strip } = this;
    if (strip === undefined || strip.widthPx <= 0) return nothing;
    const { widthPx, heightPx } = strip;
    return html`<svg
      width=${widthPx}
      height=${heightPx}
      viewBox="0 0 ${widthPx} ${heightPx}"
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <pattern id="hatch" class="hatch" width="6" height="6" patternUnits="userSpaceOnUse">
        <path d="M0 6 L6 0" />
      </pattern>
      ${this.#paper(strip)} ${this.#notComparable(strip)}
      <path class="band" d=${this.#shape.band} />
      ${this.#loads(strip)}
      <path class="line" d=${this.#shape.line} />
      ${this.#outliers(strip)} ${this.#held(strip)} ${this.#now(strip)}
    </svg>`;
  }

  #paper(strip: Strip) {
    const { widthPx } = strip;
    const heightPx = plotHeight(strip);
    const line = (ratio: number, name: string) => {
      const y = round(yOfRatio(ratio, heightPx));
      return svg`<line class=${name} x1="0" x2=${widthPx} y1=${y} y2=${y} />`;
    };
    const word = (ratio: number, text: string) =>
      svg`<text x="2" y=${round(yOfRatio(ratio, heightPx)) - 2}>${text}</text>`;
    const words = this.scale && heightPx >= ROOM_FOR_IDS_PX ? [word(2, '2×'), word(0.5, '½×')] : nothing;
    return [line(2, 'octave'), line(0.5, 'octave'), line(1, 'centre'), words];
  }

  #notComparable(strip: Strip) {
    const nearMs = (NEAR_PX / strip.widthPx) * (strip.to - strip.from);
    const y = round(plotHeight(strip) * 0.25);
    const height = round(plotHeight(strip) * 0.5);
    return joined(this.ribbon?.notComparable ?? [], nearMs).map(({ from, to }) => {
      const x = xOf(from, strip);
      const width = Math.max(1, xOf(to, strip) - x);
      return svg`<rect x=${round(x)} y=${y} width=${round(width)} height=${height} fill="url(#hatch)" />`;
    });
  }

  #loads(strip: Strip) {
    const ticks = loadTicks(this.ribbon?.loads ?? [], strip);
    const dense = ticksAreDense(ticks.length, strip);
    const top = dense ? strip.heightPx - DENSE_TICK_PX : plotHeight(strip);
    return ticks.map(
      ({ x, assemblyId, written }) => svg`<line class="load" x1=${x} x2=${x} y1=${top} y2=${strip.heightPx} />
        ${written && !dense && strip.heightPx >= ROOM_FOR_IDS_PX ? svg`<text x=${x + 3} y=${strip.heightPx - 2}>${assemblyId}</text>` : nothing}`,
    );
  }

  #outliers(strip: Strip) {
    if (this.outliers.length === 0) return nothing;
    const { widthPx } = strip;
    const heightPx = plotHeight(strip);
    const heights = this.outliers.map((outlier) => yOfRatio(outlier.mean.at(-1) ?? 1, heightPx));
    const places = spread(heights, { roomPx: NAME_ROOM_PX, fromPx: 0, toPx: heightPx - 2 });
    return this.outliers.map(
      (outlier, i) => svg`<path class="outlier" d=${ribbonShape(outlier, strip).line} />
        ${
          places[i] === undefined
            ? nothing
            : svg`<text class="outlier-name" x=${widthPx - 8} y=${round(places[i] + NAME_ROOM_PX - 3)} text-anchor="end">${outlier.spindleId}</text>`
        }`,
    );
  }

  #held(strip: Strip) {
    return this.held
      .filter(({ to }) => to > strip.from)
      .map(({ from, to }) => {
        const x = round(xOf(from, strip));
        const width = Math.max(2, round(xOf(to, strip)) - x);
        // The tag of a hold at its beginning, then a bar as long as it lasted.
        return svg`<rect class="held" x=${x} y="0" width=${width} height="3" />
          ${from >= strip.from ? svg`<path class="held" d=${`M${x} 0h7l3 3v6h-10Z`} />` : nothing}`;
      });
  }

  #now(strip: Strip) {
    const { widthPx } = strip;
    const heightPx = plotHeight(strip);
    if (this.ratioNow === undefined) return nothing;
    return svg`<circle class="now" cx=${widthPx - 5} cy=${round(yOfRatio(this.ratioNow, heightPx))} r="3.5" />`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'spindle-ribbon': SpindleRibbon;
  }
}
