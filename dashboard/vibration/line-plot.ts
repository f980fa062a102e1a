// A picture of a long row of values that can be gone into: drag or keys zoom, a cursor reads it in words, peaks are never lost.
import { nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { isWholeText, partOf, partText } from '../choices.ts';
import { look, presses } from '../look.ts';
import { levelLines, namedPlaces, paperLines, paperOf, slipPattern, type Paper, type Plot } from './plot-drawing.ts';
import { plotLook } from './plot-look.ts';
import { extremesIn, indicesIn, pathOf, peakNear, placeOn, valueAt, type Row } from './plot-shape.ts';
import { along, isWhole, scaled, within, type Range } from './zoom.ts';

/** No closer than so many steps: beyond, there is only the line between two values. */
const STEPS_LEAST = 10;
/** A drag shorter than this was a tap. */
const DRAG_LEAST_PX = 6;
/** How far beside a peak one may point. */
const POINTING_PX = 5;
const PAGE_PX = 60;
const WIDTH_LEAST_PX = 260;
const HINT = html`<span class="soft not-printed"
  >Point at it, or use the arrow keys, and it is read here; drag over a part to see it closer.</span
>`;

/** What the page's address says: the part shown, in the unit of the axis, under the name `partName`. */
@customElement('line-plot')
export class LinePlot extends ChoosingElement {
  static override styles = [look, presses, plotLook];

  @property({ attribute: false }) plot!: Plot;
  @property({ type: Number }) heightPx = 300;
  @property({ attribute: 'part-name' }) partName = 'part';
  @state() private cursor: number | undefined;
  @state() private drag: { readonly fromPx: number; readonly toPx: number } | undefined;
  @state() private widthPx = 720;
  @query('.paper') private readonly paperElement!: HTMLElement;
  #path: { readonly key: string; readonly row: Row; readonly path: string } | undefined;
  readonly #measure = new ResizeObserver(() => {
    const width = Math.max(WIDTH_LEAST_PX, Math.round(this.paperElement.clientWidth));
    if (this.paperElement.clientWidth > 0) this.widthPx = width;
  });

  override connectedCallback(): void {
    super.connectedCallback();
    void this.updateComplete.then(() => this.isConnected && this.#measure.observe(this.paperElement));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#measure.disconnect();
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('plot');
    if (!changed.has('plot') || (before !== undefined && sameAxis(before.row, this.plot.row))) return;
    this.cursor = undefined;
  }

  /** What is shown where nobody chose. */
  get #opening(): Range {
    return this.plot.opening === undefined ? this.#whole : within(this.plot.opening, this.#whole, 0);
  }

  get #whole(): Range {
    const { row } = this.plot;
    return { from: row.first, to: row.first + Math.max(1, row.values.length - 1) * row.step };
  }

  get #range(): Range {
    const text = this.choices[this.partName];
    if (isWholeText(text)) return this.#whole;
    const chosen = partOf(text);
    return chosen === undefined ? this.#opening : within(chosen, this.#whole, this.#least);
  }

  get #least(): number {
    return STEPS_LEAST * this.plot.row.step;
  }

  get #paper(): Paper {
    const { plot } = this;
    return paperOf(plot.kind, this.#range, extremesIn(plot.row, this.#range) ?? { least: 0, greatest: 0 }, {
      widthPx: this.widthPx,
      heightPx: this.heightPx,
      named: plot.marks.length > 0,
    });
  }

  override render() {
    const { plot } = this;
    const paper = this.#paper;
    const whole = isWhole(this.#range, this.#whole);
    return html`<div
        class="paper"
        tabindex="0"
        role="application"
        aria-roledescription="chart"
        aria-label="${plot.name}. Arrow keys read it, M goes to the next named place, plus goes closer, minus back, Escape shows the whole; the same stands in the table below."
        @keydown=${this.#onKey}
        @pointerdown=${this.#onDown}
        @pointermove=${this.#onMove}
        @pointerup=${this.#onUp}
        @pointercancel=${() => (this.drag = undefined)}
        @dblclick=${() => this.#show(this.#whole)}
      >
        <svg viewBox=${`0 0 ${paper.widthPx} ${paper.heightPx}`} aria-hidden="true">
          ${slipPattern}
          <clipPath id="inside">
            <rect
              x=${paper.x.startPx}
              y=${paper.y.endPx - 1}
              width=${paper.x.endPx - paper.x.startPx}
              height=${paper.y.startPx - paper.y.endPx + 2}
            />
          </clipPath>
          ${paperLines(paper, plot)} ${namedPlaces(paper, plot.marks)}
          <path class="row" clip-path="url(#inside)" d=${this.#pathOn(paper)} />
          ${levelLines(paper, plot.levels)} ${this.#cursorLine(paper)} ${this.#dragged(paper)}
        </svg>
      </div>
      <p class="told" role="status">${this.cursor === undefined ? HINT : plot.told(this.cursor)}</p>
      <div class="zoom not-printed" role="group" aria-label="Part shown">
        <button @click=${() => this.#zoom(0.5)}>Closer</button>
        <button ?disabled=${whole} @click=${() => this.#zoom(2)}>Wider</button>
        <button ?disabled=${whole} @click=${() => this.#along(-0.5)}>To the left</button>
        <button ?disabled=${whole} @click=${() => this.#along(0.5)}>To the right</button>
        <button ?disabled=${whole} @click=${() => this.#show(this.#whole)}>The whole</button>
      </div>`;
  }

  /** Kept while only the cursor moves: a long row is not walked again for that. */
  #pathOn({ x, y }: Paper): string {
    const key = [x.from, x.to, x.endPx, y.from, y.to, y.startPx, y.endPx].join(' ');
    const { row } = this.plot;
    if (this.#path?.key !== key || this.#path.row !== row) this.#path = { key, row, path: pathOf(row, x, y) };
    return this.#path.path;
  }

  #cursorLine({ x, y }: Paper) {
    const { row } = this.plot;
    if (this.cursor === undefined) return nothing;
    const px = placeOn(x, row.first + this.cursor * row.step);
    if (px < x.startPx - 1 || px > x.endPx + 1) return nothing;
    const py = Math.min(y.startPx, Math.max(y.endPx, placeOn(y, row.values[this.cursor] ?? 0)));
    return svg`<line class="cursor" x1=${px} x2=${px} y1=${y.endPx} y2=${y.startPx} />
      <circle class="at-cursor" cx=${px} cy=${py} r="4" />`;
  }

  #dragged({ y }: Paper) {
    if (this.drag === undefined) return nothing;
    const { fromPx, toPx } = this.drag;
    return svg`<rect class="chosen" x=${Math.min(fromPx, toPx)} width=${Math.abs(toPx - fromPx)} y=${y.endPx} height=${y.startPx - y.endPx} />`;
  }

  #show(range: Range): void {
    const whole = this.#whole;
    const next = within(range, whole, this.#least);
    const text = partText(isWhole(next, whole) ? undefined : next);
    this.choose({ [this.partName]: text });
  }

  #zoom(factor: number): void {
    const range = this.#range;
    const { row } = this.plot;
    const at = this.cursor === undefined ? undefined : row.first + this.cursor * row.step;
    const middle = at !== undefined && at >= range.from && at <= range.to ? at : (range.from + range.to) / 2;
    this.#show(scaled(range, middle, factor));
  }

  #along(share: number): void {
    this.#show(along(this.#range, share));
  }

  /** Values that one pixel stands for, at least one. */
  get #valuesAPixel(): number {
    const { x } = this.#paper;
    return Math.max(1, (x.to - x.from) / this.plot.row.step / (x.endPx - x.startPx));
  }

  #pxOf(event: PointerEvent): number {
    const box = this.paperElement.getBoundingClientRect();
    const { x } = this.#paper;
    const px = ((event.clientX - box.left) * this.widthPx) / Math.max(1, box.width);
    return Math.min(x.endPx, Math.max(x.startPx, px));
  }

  #pointAt(px: number): void {
    const { row, kind } = this.plot;
    const index = Math.round((valueAt(this.#paper.x, px) - row.first) / row.step);
    const inside = Math.min(row.values.length - 1, Math.max(0, index));
    this.cursor = kind === 'about-zero' ? inside : peakNear(row, inside, Math.round(POINTING_PX * this.#valuesAPixel));
  }

  readonly #onDown = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.paperElement.setPointerCapture(event.pointerId);
    const px = this.#pxOf(event);
    this.drag = { fromPx: px, toPx: px };
    this.#pointAt(px);
  };

  readonly #onMove = (event: PointerEvent): void => {
    const px = this.#pxOf(event);
    if (this.drag !== undefined) this.drag = { ...this.drag, toPx: px };
    else this.#pointAt(px);
  };

  readonly #onUp = (event: PointerEvent): void => {
    const { drag } = this;
    this.drag = undefined;
    if (drag === undefined) return;
    const toPx = this.#pxOf(event);
    if (Math.abs(toPx - drag.fromPx) < DRAG_LEAST_PX) return;
    const { x } = this.#paper;
    const ends = [valueAt(x, drag.fromPx), valueAt(x, toPx)];
    this.#show({ from: Math.min(...ends), to: Math.max(...ends) });
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const steps = { ArrowLeft: -1, ArrowRight: 1, PageUp: -PAGE_PX, PageDown: PAGE_PX }[event.key];
    if (steps !== undefined && event.shiftKey) this.#along(Math.sign(steps) * 0.25);
    else if (steps !== undefined) this.#step(steps);
    else if (event.key === 'Home') this.#put(indicesIn(this.plot.row, this.#range).from);
    else if (event.key === 'End') this.#put(indicesIn(this.plot.row, this.#range).to);
    else if (event.key === '+' || event.key === '=') this.#zoom(0.5);
    else if (event.key === '-') this.#zoom(2);
    else if (event.key === 'm' || event.key === 'M') this.#toMark(event.shiftKey ? -1 : 1);
    else if (event.key === 'Escape' || event.key === '0') this.#show(this.#whole);
    else return;
    event.preventDefault();
  };

  /** Pixel by pixel; of what stands behind one pixel the greatest, unless it swings about zero. */
  #step(pixels: number): void {
    const { row, kind } = this.plot;
    const { from, to } = indicesIn(row, this.#range);
    const values = this.#valuesAPixel;
    const here = this.cursor ?? Math.round((from + to) / 2);
    const aim = here + Math.sign(pixels) * Math.max(1, Math.round(Math.abs(pixels) * values));
    const reach = Math.floor(values / 2);
    this.#put(kind === 'about-zero' || reach < 1 ? aim : peakNear(row, aim, reach));
  }

  #toMark(side: -1 | 1): void {
    const { row, marks } = this.plot;
    const here = this.cursor === undefined ? (side > 0 ? -Infinity : Infinity) : row.first + this.cursor * row.step;
    const places = marks.map(({ at }) => Math.round((at - row.first) / row.step)).sort((a, b) => a - b);
    const beyond = places.filter((index) => (row.first + index * row.step - here) * side > row.step / 2);
    const next = side > 0 ? beyond[0] : beyond.at(-1);
    if (next !== undefined) this.#put(next);
  }

  /** The part shown follows the cursor. */
  #put(index: number): void {
    const { row } = this.plot;
    const inside = Math.min(row.values.length - 1, Math.max(0, index));
    this.cursor = inside;
    const at = row.first + inside * row.step;
    const range = this.#range;
    if (at < range.from || at > range.to) {
      const half = (range.to - range.from) / 2;
      this.#show({ from: at - half, to: at + half });
    }
  }
}

function sameAxis(a: Row, b: Row): boolean {
  return a.first === b.first && a.step === b.step && a.values.length === b.values.length;
}

declare global {
  interface HTMLElementTagNameMap {
    'line-plot': LinePlot;
  }
}
