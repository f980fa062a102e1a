// Spectra over days, a column per window: what grew, when, and at which load or speed. A column opens its window.
import { LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SpectrogramView } from '../../shared/wave-views.ts';
import { look, presses, tables } from '../look.ts';
import { amount, speed, withUnit } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import { paintCells } from './history-cells.ts';
import { historyLook } from './history-look.ts';
import {
  bandWords,
  historyAxes,
  historyPaper,
  historyTable,
  holesDrawn,
  levelKey,
  ticksAbove,
  type HistoryLoad,
  type HistoryPaper,
} from './history-paper.ts';
import { columnAt, depthOf, holesOf, strongestBand, stretchesOf, type Depth, type Stretch } from './history-shape.ts';
import { placeOn, valueAt } from './plot-shape.ts';
import { scaled } from './zoom.ts';

const HEIGHT_PX = 330;
const DRAG_LEAST_PX = 6;
const WIDTH_LEAST_PX = 260;
const PAGE_COLUMNS = 10;
const HINT = html`<span class="soft not-printed"
  >Point at it, or use the arrow keys, and it is read here; a press shows the window, dragging a part of the time.</span
>`;

/** Somebody wants to see one window of the history. */
export class WindowPickedEvent extends Event {
  readonly waveId: number;

  constructor(waveId: number) {
    super('counterpoise-window', { bubbles: true, composed: true });
    this.waveId = waveId;
  }
}

/** Somebody wants to see another part of the time: who owns the history fetches it. */
export class HistoryStretchEvent extends Event {
  readonly from: number;
  readonly to: number;

  constructor(from: number, to: number) {
    super('counterpoise-history', { bubbles: true, composed: true });
    this.from = from;
    this.to = to;
  }
}

@customElement('wave-history')
export class WaveHistory extends LitElement {
  static override styles = [look, tables, presses, historyLook];

  @property({ attribute: false }) view!: SpectrogramView;
  @property({ attribute: false }) loads: readonly HistoryLoad[] = [];
  @property({ attribute: false }) clock!: PlantClock;
  /** The window whose pictures are shown. */
  @property({ attribute: false }) picked: number | undefined;
  @state() private cursor: { readonly column: number; readonly band: number } | undefined;
  @state() private drag: { readonly fromPx: number; readonly toPx: number } | undefined;
  @state() private widthPx = 720;
  @query('.paper') private readonly paperElement!: HTMLElement;
  @query('canvas') private readonly canvas!: HTMLCanvasElement | null;
  #stretches: readonly Stretch[] = [];
  #depth: Depth = { least: 0, greatest: 0, beyond: false };
  readonly #measure = new ResizeObserver(() => {
    const width = this.paperElement.clientWidth;
    if (width > 0) this.widthPx = Math.max(WIDTH_LEAST_PX, Math.round(width));
  });
  readonly #onTheme = (): void => this.#paint();

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('counterpoise-theme', this.#onTheme);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', this.#onTheme);
    void this.updateComplete.then(() => this.isConnected && this.#measure.observe(this.paperElement));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('counterpoise-theme', this.#onTheme);
    matchMedia('(prefers-color-scheme: dark)').removeEventListener('change', this.#onTheme);
    this.#measure.disconnect();
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('view')) return;
    // The cursor stays on its window, wherever that stands now.
    const before = changed.get('view');
    const waveId = this.cursor === undefined ? undefined : before?.columns[this.cursor.column]?.waveId;
    const column = this.view.columns.findIndex((one) => one.waveId === waveId);
    this.cursor = this.cursor === undefined || column < 0 ? undefined : { ...this.cursor, column };
    this.#stretches = stretchesOf(this.view);
    this.#depth = depthOf(this.view.columns);
  }

  protected override updated(changed: PropertyValues): void {
    if (changed.has('view') || changed.has('widthPx')) this.#paint();
  }

  get #paper(): HistoryPaper {
    return historyPaper(this.view, this.widthPx, HEIGHT_PX);
  }

  #paint(): void {
    const { canvas, view } = this;
    if (canvas === null) return;
    const { x, y, widthPx, heightPx } = this.#paper;
    // In shares of the drawing over it, so that the two keep together when paper makes both narrower.
    canvas.style.left = `${(x.startPx / widthPx) * 100}%`;
    canvas.style.top = `${(y.endPx / heightPx) * 100}%`;
    canvas.style.width = `${((x.endPx - x.startPx) / widthPx) * 100}%`;
    canvas.style.height = `${((y.startPx - y.endPx) / heightPx) * 100}%`;
    paintCells(canvas, { view, stretches: this.#stretches, depth: this.#depth, x, y });
  }

  override render() {
    const { view } = this;
    const paper = this.#paper;
    return html`<div
        class="paper"
        tabindex="0"
        role="application"
        aria-roledescription="chart"
        aria-label="Spectra over time, ${view.columns.length} windows. Left and right go from window to window, up and down from band to band, Enter shows the window, plus goes closer, minus back; the same stands in the table below."
        @keydown=${this.#onKey}
        @pointerdown=${this.#onDown}
        @pointermove=${this.#onMove}
        @pointerup=${this.#onUp}
        @pointercancel=${() => (this.drag = undefined)}
      >
        <canvas></canvas>
        <svg viewBox=${`0 0 ${paper.widthPx} ${paper.heightPx}`} aria-hidden="true">
          ${holesDrawn(paper, holesOf(view, this.#stretches))} ${historyAxes(paper, this.clock.zone)}
          ${ticksAbove(paper, view, this.loads)} ${this.#pickedColumn(paper)} ${this.#cursorCell(paper)}
          ${
            this.drag === undefined
              ? nothing
              : svg`<rect class="chosen" x=${Math.min(this.drag.fromPx, this.drag.toPx)} width=${Math.abs(this.drag.toPx - this.drag.fromPx)} y=${paper.y.endPx} height=${paper.y.startPx - paper.y.endPx} />`
          }
        </svg>
      </div>
      <p class="told" role="status">${this.cursor === undefined ? HINT : this.#told()}</p>
      <div class="zoom not-printed" role="group" aria-label="Time shown">
        <button @click=${() => this.#zoom(0.5)}>Closer</button>
        <button @click=${() => this.#zoom(2)}>Wider</button>
        <button ?disabled=${this.cursor === undefined} @click=${() => this.#pick()}>Show this window</button>
      </div>
      ${levelKey(this.#depth)}<save-picture .name=${say`Spectra over time`} of=".paper, .key"></save-picture>
      <p class="small soft">
        Above: what was clamped, and the speed where it became another. Hatched: nothing was measured. Each band is one
        ${ordinal(view.bandsPerOctave)} of an octave.
      </p>
      ${historyTable(view, this.clock)}`;
  }

  #edgesOf(paper: HistoryPaper, index: number): { left: number; wide: number } {
    const stretch = this.#stretches[index] ?? { from: 0, to: 0 };
    const [left, right] = [placeOn(paper.x, stretch.from), placeOn(paper.x, stretch.to)];
    return { left, wide: Math.max(2, right - left) };
  }

  #pickedColumn(paper: HistoryPaper) {
    const index = this.view.columns.findIndex(({ waveId }) => waveId === this.picked);
    if (index < 0) return nothing;
    const { left, wide } = this.#edgesOf(paper, index);
    return svg`<rect class="picked" x=${left - 1} width=${wide + 2} y=${paper.y.endPx - 2} height=${paper.y.startPx - paper.y.endPx + 4} />`;
  }

  #cursorCell(paper: HistoryPaper) {
    if (this.cursor === undefined) return nothing;
    const { left, wide } = this.#edgesOf(paper, this.cursor.column);
    const bottom = Math.log2(this.view.lowestHz) + this.cursor.band / this.view.bandsPerOctave;
    const low = placeOn(paper.y, bottom);
    const high = placeOn(paper.y, bottom + 1 / this.view.bandsPerOctave);
    const box = (name: string) =>
      svg`<rect class=${name} x=${left - 3} width=${wide + 6} y=${high - 3} height=${low - high + 6} />`;
    return svg`${box('cursor')}${box('cursor inner')}`;
  }

  #told(): string {
    const { cursor, view } = this;
    const column = cursor === undefined ? undefined : view.columns[cursor.column];
    if (cursor === undefined || column === undefined) return '';
    const value = column.velocityMmS[cursor.band] ?? undefined;
    const at = column.speedRpm === undefined ? '' : say` at ${speed(column.speedRpm)}`;
    const best = strongestBand(column);
    const strongest =
      best === undefined || best === cursor.band
        ? ''
        : say`; strongest ${bandWords(view, best)} with ${amount(column.velocityMmS[best] ?? undefined, 'mm/s')}`;
    const told = say`${withUnit(value, 'mm/s')} RMS`;
    return `${moment(column.at, this.clock)}${at}, ${bandWords(view, cursor.band)}: ${told}${strongest}.`;
  }

  #zoom(factor: number): void {
    const { view, cursor } = this;
    const at = (cursor === undefined ? undefined : view.columns[cursor.column]?.at) ?? (view.from + view.to) / 2;
    const { from, to } = scaled(view, at, factor);
    this.dispatchEvent(new HistoryStretchEvent(from, to));
  }

  #pick(): void {
    const column = this.cursor === undefined ? undefined : this.view.columns[this.cursor.column];
    if (column !== undefined) this.dispatchEvent(new WindowPickedEvent(column.waveId));
  }

  #placeOf(event: PointerEvent): { px: number; py: number } {
    const box = this.paperElement.getBoundingClientRect();
    const { x, widthPx, heightPx } = this.#paper;
    const px = ((event.clientX - box.left) * widthPx) / Math.max(1, box.width);
    const py = ((event.clientY - box.top) * heightPx) / Math.max(1, box.height);
    return { px: Math.min(x.endPx, Math.max(x.startPx, px)), py };
  }

  #pointAt({ px, py }: { px: number; py: number }): void {
    const { view } = this;
    const { x, y } = this.#paper;
    const at = valueAt(x, px);
    const column = columnAt(view.columns, this.#stretches, at);
    const band = Math.floor((valueAt(y, py) - y.from) * view.bandsPerOctave);
    this.cursor = column === undefined ? undefined : { column, band: Math.min(view.bands - 1, Math.max(0, band)) };
  }

  readonly #onDown = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.paperElement.setPointerCapture(event.pointerId);
    const place = this.#placeOf(event);
    this.drag = { fromPx: place.px, toPx: place.px };
    this.#pointAt(place);
  };

  readonly #onMove = (event: PointerEvent): void => {
    const place = this.#placeOf(event);
    if (this.drag === undefined) this.#pointAt(place);
    else this.drag = { ...this.drag, toPx: place.px };
  };

  readonly #onUp = (event: PointerEvent): void => {
    const { drag } = this;
    this.drag = undefined;
    if (drag === undefined) return;
    const { px } = this.#placeOf(event);
    if (Math.abs(px - drag.fromPx) < DRAG_LEAST_PX) {
      this.#pick();
      return;
    }
    const { x } = this.#paper;
    const ends = [valueAt(x, drag.fromPx), valueAt(x, px)];
    this.dispatchEvent(new HistoryStretchEvent(Math.min(...ends), Math.max(...ends)));
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { columns, bands } = this.view;
    const here = this.cursor ?? { column: columns.length - 1, band: strongestBand(columns.at(-1) ?? NO_COLUMN) ?? 0 };
    const move = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      PageUp: [-PAGE_COLUMNS, 0],
      PageDown: [PAGE_COLUMNS, 0],
      Home: [-columns.length, 0],
      End: [columns.length, 0],
      ArrowUp: [0, 1],
      ArrowDown: [0, -1],
    }[event.key];
    if (move !== undefined && columns.length > 0) {
      const [along = 0, up = 0] = this.cursor === undefined ? [] : move;
      this.cursor = {
        column: Math.min(columns.length - 1, Math.max(0, here.column + along)),
        band: Math.min(bands - 1, Math.max(0, here.band + up)),
      };
    } else if (event.key === '+' || event.key === '=') this.#zoom(0.5);
    else if (event.key === '-') this.#zoom(2);
    else if (event.key === 'Enter' || event.key === ' ') this.#pick();
    else return;
    event.preventDefault();
  };
}

const NO_COLUMN = { waveId: 0, at: 0, velocityMmS: [] };

function ordinal(parts: number): string {
  return parts === 3 ? say`third` : parts === 1 ? say`whole` : say`${parts}th`;
}

declare global {
  interface HTMLElementTagNameMap {
    'wave-history': WaveHistory;
  }
}
