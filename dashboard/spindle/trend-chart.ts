// A spindle's trend: least to greatest as a band, the mean as a line, limits with their source, loads as ticks; arrow keys read it.
import { css, LitElement, unsafeCSS, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import uPlot from 'uplot';
import plotSheet from 'uplot/dist/uPlot.min.css?inline';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SeriesView } from '../../shared/views.ts';
import { look } from '../look.ts';
import { amount, withUnit } from '../wording/figures.ts';
import { clockTime, moment, type PlantClock } from '../wording/instants.ts';
import { QUANTITY_AXES, trendColumns } from './trend-columns.ts';
import type { TrendMark } from './trend-marks.ts';
import { plotOptions } from './trend-plot.ts';
import type { LoadRecord } from './spindle-rows.ts';

const HEIGHT_PX = 380;

/** Somebody chose a part of what is shown, by dragging or by key. */
export class StretchEvent extends Event {
  readonly from: number;
  readonly to: number;

  constructor(from: number, to: number) {
    super('counterpoise-stretch', { bubbles: true, composed: true });
    this.from = from;
    this.to = to;
  }
}

@customElement('trend-chart')
export class TrendChart extends LitElement {
  static override styles = [
    unsafeCSS(plotSheet),
    look,
    css`
      .paper {
        position: relative;
        min-height: ${HEIGHT_PX}px;
      }
      .told {
        min-height: 1.5em;
        margin: 0.25rem 0 0;
        font-size: var(--small);
      }
      .u-cursor-x {
        border-right: 1px solid var(--ink);
      }
      .u-select {
        background: color-mix(in srgb, var(--ink) 12%, transparent);
      }
    `,
  ];

  @property({ attribute: false }) series: SeriesView | undefined;
  /** Limits, boundaries of zones, what was usual and where a change begins: lines across. */
  @property({ attribute: false }) marks: readonly TrendMark[] = [];
  @property({ attribute: false }) loads: readonly LoadRecord[] = [];
  @property({ attribute: false }) clock!: PlantClock;
  @state() private read = '';
  @query('.paper') private readonly paper!: HTMLElement;
  #plot: uPlot | undefined;
  #drawnFor = '';
  readonly #measure = new ResizeObserver(() => this.#resize());
  readonly #onTheme = (): void => this.#drawAnew();

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('counterpoise-theme', this.#onTheme);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', this.#onTheme);
    void this.updateComplete.then(() => this.#measure.observe(this.paper));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('counterpoise-theme', this.#onTheme);
    matchMedia('(prefers-color-scheme: dark)').removeEventListener('change', this.#onTheme);
    this.#measure.disconnect();
    this.#plot?.destroy();
    this.#plot = undefined;
  }

  override render() {
    const what = this.series === undefined ? say`trend` : QUANTITY_AXES[this.series.quantity];
    return html`<div
        class="paper"
        tabindex="0"
        role="application"
        aria-roledescription="chart"
        aria-label="${what}. Arrow keys read it, plus goes closer, minus back; the same numbers stand in the table below."
        @keydown=${this.#onKey}
      ></div>
      <p class="told" role="status">${this.read}</p>`;
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (changed.has('series') || changed.has('marks') || changed.has('loads')) this.#draw();
  }

  #draw(): void {
    const { series } = this;
    if (series === undefined) return;
    const key = `${series.quantity} ${this.clock.zone}`;
    if (this.#plot === undefined || key !== this.#drawnFor) {
      this.#drawnFor = key;
      this.#drawAnew();
    } else {
      this.#plot.setData(aligned(series), false);
      this.#plot.setScale('x', { min: series.from / 1000, max: series.to / 1000 });
    }
  }

  #drawAnew(): void {
    const { series } = this;
    this.#plot?.destroy();
    this.#plot = undefined;
    if (series === undefined) return;
    const options = plotOptions({
      widthPx: Math.max(240, this.paper.clientWidth),
      heightPx: HEIGHT_PX,
      zone: this.clock.zone,
      probe: this.paper,
      title: QUANTITY_AXES[series.quantity],
      unit: series.unit,
      marks: () => this.marks,
      loads: () => this.loads,
      onSelect: (from, to) => this.dispatchEvent(new StretchEvent(from, to)),
      onCursor: (index) => this.#tell(index),
    });
    this.#plot = new uPlot(options, aligned(series), this.paper);
    this.#plot.setScale('x', { min: series.from / 1000, max: series.to / 1000 });
  }

  #resize(): void {
    const width = this.paper.clientWidth;
    if (this.#plot !== undefined && width > 0 && width !== this.#plot.width)
      this.#plot.setSize({ width, height: HEIGHT_PX });
  }

  #tell(index: number | null): void {
    const plot = this.#plot;
    const { series } = this;
    if (plot === undefined || series === undefined || index === null) {
      this.read = '';
      return;
    }
    const [at = [], max = [], min = [], mean = []] = plot.data;
    const when = at[index];
    if (when === undefined) return;
    const value = mean[index];
    const day = moment(when * 1000, this.clock).replace(/\d\d:\d\d$/, '');
    const told =
      value === null || value === undefined
        ? say`no reading`
        : say`mean ${withUnit(value, series.unit)}, least ${amount(min[index] ?? undefined, series.unit)}, greatest ${amount(max[index] ?? undefined, series.unit)}`;
    this.read = `${day}${clockTime(when * 1000, this.clock.zone)}: ${told}`;
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const plot = this.#plot;
    const { series } = this;
    if (plot === undefined || series === undefined) return;
    const points = plot.data[0].length;
    const here = plot.cursor.idx ?? Math.floor(points / 2);
    const place = {
      ArrowLeft: here - 1,
      ArrowRight: here + 1,
      PageUp: here - 20,
      PageDown: here + 20,
      Home: 0,
      End: points - 1,
    }[event.key];
    if (place !== undefined) this.#putCursor(Math.min(points - 1, Math.max(0, place)));
    else if (event.key === '+') this.#closer(series, here, 0.5);
    else if (event.key === '-') this.#closer(series, here, 2);
    else return;
    event.preventDefault();
  };

  #putCursor(index: number): void {
    const plot = this.#plot;
    const at = plot?.data[0][index];
    if (plot === undefined || at === undefined) return;
    const value = plot.data[3]?.[index];
    plot.setCursor({
      left: plot.valToPos(at, 'x'),
      top: value === null || value === undefined ? 0 : plot.valToPos(value, 'y'),
    });
  }

  #closer(series: SeriesView, index: number, factor: number): void {
    const middle = (this.#plot?.data[0][index] ?? (series.from + series.to) / 2000) * 1000;
    const half = ((series.to - series.from) * factor) / 2;
    this.dispatchEvent(new StretchEvent(middle - half, middle + half));
  }
}

function aligned(series: SeriesView): uPlot.AlignedData {
  const { at, min, mean, max } = trendColumns(series);
  return [at, max, min, mean];
}

declare global {
  interface HTMLElementTagNameMap {
    'trend-chart': TrendChart;
  }
}
