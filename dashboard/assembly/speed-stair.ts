// The speed stair: every limit on the speed as a step, highest first; the lowest one governs, whatever the others say.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import { look, tables } from '../look.ts';
import type { TableCells } from '../saving/table-text.ts';
import { speed } from '../wording/figures.ts';
import { unbroken } from '../wording/unbroken.ts';
import { stairShape, type StairTread } from './stair-shape.ts';
import { retell, say, textOf } from '../../shared/language/index.ts';

const WIDTH = 560;
const TREAD = 50;
const DROP = 8;
const TOP = 8;

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
      .tread {
        fill: none;
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
        stroke-width: 2;
      }
    `,
  ];

  @property({ attribute: false }) steps: readonly Step[] = [];
  @property({ attribute: false }) serviceSpeedRpm: number | undefined;
  /** Why no measurement of it counts; undefined where one does. */
  @property({ attribute: false }) noneCounts: string | undefined;

  override render() {
    if (limitsOf(this.steps).length === 0)
      return html`<p class="soft">No limit of the speed is known: no marked maximum, no measurement that counts.</p>
        ${this.#unmeasured()}`;
    const treads = stairShape(limitsOf(this.steps), this.serviceSpeedRpm, WIDTH);
    const height = TOP + treads.length * TREAD + (this.#marksService() ? 22 : 4);
    return html`<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label=${this.#told()}>
        ${treads.map((tread, index) => this.#tread(tread, index))} ${this.#service(treads, height)}
      </svg>
      ${this.#unmeasured()} ${this.#against()}`;
  }

  #unmeasured() {
    if (this.noneCounts === undefined) return nothing;
    return html`<p><b>Balance sets no speed until it is measured:</b> ${this.noneCounts}.</p>`;
  }

  #marksService(): boolean {
    return this.serviceSpeedRpm !== undefined;
  }

  /** What is wished against what governs, in words: the service speed is a wish and no limit. */
  #against() {
    const governing = this.steps.find((step) => step.governs);
    if (governing === undefined || this.serviceSpeedRpm === undefined) return nothing;
    const governed = `${retell(governing.what)} ${speed(governing.speedRpm)}.`;
    const wish = speed(this.serviceSpeedRpm);
    if (this.serviceSpeedRpm > governing.speedRpm)
      return html`<p>
        <b>${unbroken(say`Its service speed, ${wish}, is above what governs:`)}</b> ${unbroken(governed)}
      </p>`;
    // Where balance is not known, being below the other limits says nothing that may be relied on.
    if (this.noneCounts !== undefined) return nothing;
    return html`<p>${unbroken(say`Its service speed, ${wish}, is not above what governs: ${governed}`)}</p>`;
  }

  #told(): string {
    const governing = this.steps.find((step) => step.governs);
    const all = this.steps.map((step) => `${retell(step.what)} ${speed(step.speedRpm)}`).join('; ');
    return governing === undefined
      ? all
      : say`${retell(governing.what)} governs at ${speed(governing.speedRpm)}. All: ${all}`;
  }

  /** Words stand over the tread, and no line goes through where words stand: a tread ends in a short drop. */
  #tread({ step, x }: StairTread, index: number) {
    const y = treadY(index);
    const words = `${retell(step.what)} ${speed(step.speedRpm)}`;
    return svg`<path class=${step.governs ? 'tread governs' : 'tread'} d=${`M0 ${y} H${x} V${y + DROP}`} />
      <text x="0" y=${y - 23} class=${step.governs ? 'governs-word' : ''}>${words}${step.governs ? say`, governs` : ''}</text>
      <text x="0" y=${y - 8} class="source">${textOf(step.source)}</text>`;
  }

  #service(treads: readonly StairTread[], height: number) {
    if (!this.#marksService()) return nothing;
    const x = treads[0]?.xOf(this.serviceSpeedRpm ?? 0) ?? 0;
    const left = x > WIDTH / 2;
    return svg`${treads.map((_, index) => svg`<path class="service" d=${`M${x} ${treadY(index) - DROP / 2} v${DROP + 4}`} />`)}
      <text class="soft" x=${left ? x + 4 : x - 4} y=${height - 4} text-anchor=${left ? 'end' : 'start'}>service speed ${speed(this.serviceSpeedRpm)}</text>`;
  }
}

/** The stair as a table: it has all of it in words already. */
export function stairCells(steps: readonly Step[]): TableCells {
  return {
    head: [say`Limit`, say`Up to`, say`Governs`, say`Source`],
    rows: steps.map((step) => [
      retell(step.what),
      speed(step.speedRpm),
      step.governs ? say`yes` : say`no`,
      textOf(step.source),
    ]),
  };
}

function limitsOf(steps: readonly Step[]): Step[] {
  return steps.filter(({ what }) => what !== 'service speed');
}

function treadY(index: number): number {
  return TOP + index * TREAD + TREAD - 12;
}

declare global {
  interface HTMLElementTagNameMap {
    'speed-stair': SpeedStair;
  }
}
