// The end view of one plane, to scale: the face with what is to be drilled, cut, set or turned, and what is to be kept clear.
import { css, LitElement, nothing, type SVGTemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import type { AdviceStep } from '../../shared/advice.ts';
import type { CorrectionFeature } from '../../shared/messages/index.ts';
import { pointAt, ringValues, sectorPath, sweepDeg, type Point } from '../drawing/polar.ts';
import { look } from '../look.ts';
import { faceItem, itemRadiusMm } from './face-items.ts';
import { faceOf, itemWords, type Face, type PlacedItem } from './face-shape.ts';
import { labelRows } from './label-rows.ts';
import { retell, say, textOf } from '../../shared/language/index.ts';
import { graduation } from '../wording/figures.ts';

const WIDTH = 640;
const HEIGHT = 350;
const RADIUS = 122;
const ROW_PX = 17;
/** What fits beside the drawing; the whole reason stands in the table of places. */
const WORDS_MAX = 24;
const LABEL_X = 158;
const LABELS_PX = HEIGHT - 40;
const RINGS_PX = [RADIUS + 4, RADIUS + 16] as const;
const SCALE_BAR_SHARE = 0.5;

interface Labelled {
  readonly lines: readonly string[];
  readonly heavy: boolean;
}

@customElement('end-view')
export class EndView extends LitElement {
  static override styles = [
    look,
    css`
      svg {
        width: 100%;
        max-width: 42rem;
        height: auto;
        display: block;
      }
      text {
        font: 12.5px var(--font);
        fill: var(--slate);
        font-variant-numeric: tabular-nums;
      }
      text.heavy {
        fill: var(--ink);
        font-weight: 650;
      }
      .body {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 1.6;
      }
      .pitch,
      .axis {
        fill: none;
        stroke: var(--slate);
        stroke-width: 0.8;
        stroke-dasharray: 8 3 2 3;
      }
      .unknown {
        fill: var(--sheet);
        stroke: var(--slate);
        stroke-dasharray: 5 4;
      }
      .hole {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 1.6;
      }
      .hidden {
        fill: var(--band);
        stroke: var(--ink);
        stroke-width: 1.4;
        stroke-dasharray: 4 2.5;
      }
      .filled {
        fill: var(--ink);
        stroke: var(--ink);
      }
      .empty {
        fill: var(--ground);
        stroke: var(--slate);
        stroke-width: 1.2;
      }
      .cut {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 1.6;
      }
      .keep-clear {
        stroke: var(--ink);
        stroke-width: 0.8;
      }
      .dense path {
        stroke: var(--ink);
        stroke-width: 1.3;
      }
      .leader {
        fill: none;
        stroke: var(--slate);
        stroke-width: 0.9;
      }
      .ring {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1.2;
      }
      .tick {
        stroke: var(--slate);
        stroke-width: 0.9;
      }
      .mark {
        fill: var(--ink);
      }
    `,
  ];

  @property({ attribute: false }) features: readonly CorrectionFeature[] = [];
  @property({ attribute: false }) steps: readonly AdviceStep[] = [];
  /** Numbers of the steps in the table, where this plane's are not the first. */
  @property({ attribute: false }) numbers: readonly number[] = [];
  @property({ attribute: false }) plane: string | undefined;

  override render() {
    const face = faceOf(this.features, this.steps);
    const pxPerMm = RADIUS / face.outerMm;
    return html`<svg viewBox=${`${-WIDTH / 2} ${-HEIGHT / 2} ${WIDTH} ${HEIGHT}`} role="img" aria-label=${this.#told()}>
        <pattern id="dense" class="dense" width="5" height="5" patternUnits="userSpaceOnUse">
          <path d="M0 5 L5 0" />
        </pattern>
        ${this.#body(face, pxPerMm)} ${this.#keptClear(face, pxPerMm)} ${this.#rings(face)}
        ${face.emptyHoles.map(({ angleDeg, radiusMm }) => {
          const { x, y } = pointAt(radiusMm * pxPerMm, angleDeg);
          return svg`<circle class="empty" cx=${x} cy=${y} r="6" />`;
        })}
        ${face.items.map((placed) => faceItem(placed, pxPerMm, RINGS_PX))} ${this.#mark(face)}
        ${this.#labels(face, pxPerMm)}
        ${face.surfacesMm.length + face.pitchesMm.length > 0 ? this.#scaleBar(pxPerMm) : nothing}
      </svg>
      <p class="soft small">
        ${this.#scaleWords(face)} Seen so that angles count counter-clockwise from the mark, as the bench counts them.
      </p>`;
  }

  #told(): string {
    const steps = this.steps.map((step) => retell(step.words)).join('; ');
    return this.plane === undefined
      ? say`End view: ${steps}. The table of steps has the same.`
      : say`End view of plane ${this.plane}: ${steps}. The table of steps has the same.`;
  }

  #scaleWords({ graduationDeg, surfacesMm, pitchesMm }: Face): string {
    const rings = graduationDeg === undefined ? '' : say`The rings are not to scale: no radius is declared of them. `;
    return surfacesMm.length + pitchesMm.length === 0 ? rings : `${rings}${say`To scale.`}`;
  }

  #body({ outerMm, surfacesMm, pitchesMm }: Face, pxPerMm: number) {
    const outline =
      surfacesMm.length === 0
        ? svg`<circle class="unknown" r=${outerMm * pxPerMm} />`
        : [...surfacesMm].sort((a, b) => b - a).map((radius) => svg`<circle class="body" r=${radius * pxPerMm} />`);
    const arm = 12;
    return svg`${outline} ${pitchesMm.map((radius) => svg`<circle class="pitch" r=${radius * pxPerMm} />`)}
      <path class="axis" d=${`M${-arm} 0H${arm}M0 ${-arm}V${arm}`} />
      ${[90, 180, 270].map((angleDeg) => {
        const { x, y } = pointAt(angleDeg === 180 ? 24 : 32, angleDeg);
        return svg`<text x=${x} y=${y + 4} text-anchor="middle">${angleDeg}°</text>`;
      })}`;
  }

  #keptClear({ keptClear }: Face, pxPerMm: number) {
    return keptClear.map(({ innerMm, outerMm, fromDeg, toDeg }) => {
      const path = sectorPath(innerMm * pxPerMm, outerMm * pxPerMm, fromDeg, toDeg);
      return svg`<path class="keep-clear" fill="url(#dense)" d=${path} />`;
    });
  }

  #rings({ graduationDeg }: Face) {
    if (graduationDeg === undefined) return nothing;
    const [inner, outer] = RINGS_PX;
    const every = Math.max(graduationDeg, 5);
    const ticks = Array.from({ length: Math.floor(360 / every) }, (_, i) => i * every);
    return svg`<circle class="ring" r=${inner} /><circle class="ring" r=${outer} /><circle class="ring" r=${outer + 12} />
      ${ticks.map((angleDeg) => {
        const [a, b] = [pointAt(outer + 12, angleDeg), pointAt(outer + (angleDeg % 30 === 0 ? 18 : 15), angleDeg)];
        return svg`<line class="tick" x1=${a.x} y1=${a.y} x2=${b.x} y2=${b.y} />`;
      })}`;
  }

  #mark({ graduationDeg }: Face) {
    const at = -(graduationDeg === undefined ? RADIUS + 4 : RINGS_PX[1] + 20);
    return svg`<path class="mark" d=${`M0 ${at} l-6 -11 h12 z`} />
      <text class="heavy" x="10" y=${at - 3}>mark 0°</text>`;
  }

  #labels(face: Face, pxPerMm: number) {
    const items = face.items.map((placed) => ({
      of: this.#itemLabel(placed),
      from: this.#startOf(placed, pxPerMm),
      heightPx: ROW_PX,
    }));
    const clear = face.keptClear.map(({ fromDeg, toDeg, innerMm, outerMm, why }) => {
      const middle = fromDeg + sweepDeg(fromDeg, toDeg) / 2;
      const lines = why === undefined ? [say`keep clear`] : [say`keep clear:`, shortened(textOf(why))];
      const from = pointAt(((innerMm + outerMm) / 2) * pxPerMm, middle);
      return { of: { lines, heavy: false }, from, heightPx: lines.length * ROW_PX };
    });
    // Where not all fit, what is to be done has the room; what is to be kept clear is hatched and stands in its table.
    const wanted = [...items, ...clear].reduce((sum, { heightPx }) => sum + heightPx, 0);
    const labelled = wanted > LABELS_PX ? items : [...items, ...clear];
    return labelRows<Labelled>(labelled, LABELS_PX).map(({ of, from, y, left }) => {
      const x = left ? -LABEL_X : LABEL_X;
      const firstY = y + 4 - ((of.lines.length - 1) * ROW_PX) / 2;
      return svg`<path class="leader" d=${`M${from.x} ${from.y}L${x} ${y}`} />
        ${of.lines.map((line, index) => {
          return svg`<text class=${of.heavy ? 'heavy' : ''} x=${left ? x - 4 : x + 4} y=${firstY + index * ROW_PX} text-anchor=${left ? 'end' : 'start'}>${line}</text>`;
        })}`;
    });
  }

  #itemLabel(placed: PlacedItem): Labelled {
    const step = placed.step === undefined ? undefined : this.steps[placed.step - 1];
    const number = placed.step === undefined ? undefined : (this.numbers[placed.step - 1] ?? placed.step);
    const words = itemWords({ ...placed, step: number }, step?.depthMm);
    return { lines: [words], heavy: placed.step !== undefined };
  }

  #startOf({ item, angleDeg }: PlacedItem, pxPerMm: number): Point {
    if (item.kind === 'ring') return pointAt((RINGS_PX[item.ring - 1] ?? RINGS_PX[0]) + 6, angleDeg);
    return pointAt(itemRadiusMm(item) * pxPerMm, angleDeg);
  }

  #scaleBar(pxPerMm: number): SVGTemplateResult {
    const lengthMm = ringValues((RADIUS * SCALE_BAR_SHARE) / pxPerMm).at(-1) ?? 1;
    const [x, y] = [-WIDTH / 2 + 6, HEIGHT / 2 - 8];
    return svg`<path class="leader" d=${`M${x} ${y - 4}v4h${lengthMm * pxPerMm}v-4`} />
      <text x=${x + lengthMm * pxPerMm + 6} y=${y}>${graduation(lengthMm)} mm</text>`;
  }
}

function shortened(words: string): string {
  return words.length <= WORDS_MAX ? words : `${words.slice(0, WORDS_MAX - 1).trimEnd()}…`;
}

declare global {
  interface HTMLElementTagNameMap {
    'end-view': EndView;
  }
}
