// The speed stair: every limit on the speed as a step, highest first; the lowest one governs, whatever the others say.
import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { AssemblyView } from '../../shared/views.ts';
import { look, tables } from '../look.ts';
import { speed } from '../wording/figures.ts';
import { stairShape, type StairTread } from './stair-shape.ts';

const WIDTH = 560;
const TREAD = 46;
const TOP = 8;
const CHARACTER_PX = 7.8;
const SOURCE_CHARACTER_PX = 6.3;

type Step = AssemblyView['speedStair'][number];

@customElement('speed-stair')
export class SpeedStair extends LitElement {
  static override styles = [
    look,
    tables,
    css`
      svg {
        width: 100%;
        max-width: 42rem;
        height: auto;
        display: block;
      }
      text {
        paint-order: stroke;
        stroke: var(--ground);
        stroke-width: 5px;
        stroke-linejoin: round;
        font: 13px var(--font);
        fill: var(--ink);
        font-variant-numeric: tabular-nums;
      }
      .source {
        fill: var(--slate);
        font-size: 11.5px;
      }
      .soft {
        fill: var(--slate);
      }
      .stair {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1.4;
      }
      .tread {
        stroke: var(--slate);
        stroke-width: 2;
      }
      .tread.governs {
        stroke: var(--ink);
        stroke-width: 5;
      }
      .governs-word {
        font-weight: 700;
      }
      .service {
        stroke: var(--ink);
        stroke-width: 1.4;
        stroke-dasharray: 3 3;
      }
    `,
  ];

  @property({ attribute: false }) steps: readonly Step[] = [];
  @property({ attribute: false }) serviceSpeedRpm: number | undefined;

  override render() {
    if (this.steps.length === 0)
      return html`<p class="soft">No limit of the speed is known: no marked maximum, no measurement.</p>`;
    const treads = stairShape(this.steps, this.serviceSpeedRpm, WIDTH);
    const height = TOP + treads.length * TREAD + (this.#marksService() ? 26 : 4);
    return html`<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label=${this.#told()}>
      ${this.#service(treads, height)} ${treads.map((tread, index) => this.#tread(tread, index, treads[index + 1]))}
    </svg>`;
  }

  /** The service speed is marked by itself unless it is one of the steps already. */
  #marksService(): boolean {
    return this.serviceSpeedRpm !== undefined && !this.steps.some((step) => step.speedRpm === this.serviceSpeedRpm);
  }

  #told(): string {
    const governing = this.steps.find((step) => step.governs);
    const all = this.steps.map((step) => `${step.what} ${speed(step.speedRpm)}`).join('; ');
    return governing === undefined ? all : `${governing.what} governs at ${speed(governing.speedRpm)}. All: ${all}`;
  }

  #tread({ step, x }: StairTread, index: number, next: StairTread | undefined) {
    const y = TOP + index * TREAD + TREAD - 8;
    const riser =
      next === undefined
        ? nothing
        : svg`<path class="stair" d=${`M${x} ${y} H${next.x} V${y + TREAD}`} opacity="0.6" />`;
    const words = `${step.what}: ${speed(step.speedRpm)}`;
    const textX = wordsPlace(
      x,
      Math.max((words.length + (step.governs ? 9 : 0)) * CHARACTER_PX, step.source.length * SOURCE_CHARACTER_PX),
    );
    return svg`${riser}
      <line class=${step.governs ? 'tread governs' : 'tread'} x1="0" x2=${x} y1=${y} y2=${y} />
      <text x=${textX} y=${y - 20} class=${step.governs ? 'governs-word' : ''}>${words}${step.governs ? ', governs' : ''}</text>
      <text x=${textX} y=${y - 6} class="source">${step.source}</text>`;
  }

  #service(treads: readonly StairTread[], height: number) {
    if (!this.#marksService()) return nothing;
    const x = treads[0]?.xOf(this.serviceSpeedRpm ?? 0) ?? 0;
    const left = x > WIDTH / 2;
    return svg`<line class="service" x1=${x} x2=${x} y1=${TOP} y2=${height - 18} />
      <text class="soft" x=${left ? x - 4 : x + 4} y=${height - 4} text-anchor=${left ? 'end' : 'start'}>service speed ${speed(this.serviceSpeedRpm)}</text>`;
  }
}

/** Beside the riser where they are longer than their tread and fit there, else over the tread. */
function wordsPlace(x: number, width: number): number {
  return width > x - 8 && x + 12 + width <= WIDTH ? x + 12 : 0;
}

declare global {
  interface HTMLElementTagNameMap {
    'speed-stair': SpeedStair;
  }
}
