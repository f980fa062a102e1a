// How the trend is plotted: our colours, the plant's clock on the axis, limits and loads drawn over the band.
import type uPlot from 'uplot';

import { timeTicks } from '../drawing/time-ticks.ts';
import { figure, graduation, shownTicks } from '../wording/figures.ts';
import type { LoadRecord } from './spindle-rows.ts';
import { levelTicks } from './ahead-shape.ts';
import { standingAlone } from './trend-columns.ts';
import { topMark, type TrendMark } from './trend-marks.ts';
import { shownUnit } from '../wording/units.ts';

const TICK_ROOM_PX = 84;
const ID_ROOM_PX = 56;
const WORD_PX = 14;
const LEVELS_MAX = 8;

export interface PlotAsked {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly zone: string;
  /** Where the colours in force are read from. */
  readonly probe: HTMLElement;
  readonly title: string;
  /** UCUM. */
  readonly unit: string;
  readonly marks: () => readonly TrendMark[];
  readonly loads: () => readonly LoadRecord[];
  readonly onSelect: (fromMs: number, toMs: number) => void;
  readonly onCursor: (index: number | null) => void;
}

interface Colours {
  readonly ink: string;
  readonly slate: string;
  readonly band: string;
  readonly paper: string;
}

/** A canvas knows no custom properties: each is resolved by an element that is coloured with it. */
function coloursOf(probe: HTMLElement): Colours {
  const read = (name: string): string => {
    probe.style.color = `var(${name})`;
    const colour = getComputedStyle(probe).color;
    probe.style.color = '';
    return colour;
  };
  return { ink: read('--ink'), slate: read('--slate'), band: read('--band'), paper: read('--paper-line') };
}

export function plotOptions(asked: PlotAsked): uPlot.Options {
  const colours = coloursOf(asked.probe);
  const font = `12px ${getComputedStyle(asked.probe).fontFamily}`;
  const axis = {
    stroke: colours.slate,
    font,
    grid: { stroke: colours.paper, width: 1 },
    ticks: { stroke: colours.slate, width: 1, size: 5 },
  };
  return {
    width: asked.widthPx,
    height: asked.heightPx,
    legend: { show: false },
    cursor: { y: false, drag: { x: true, y: false, setScale: false }, points: { size: 7 } },
    scales: { x: { time: true }, y: { range: (_plot, _min, max) => yRange(max, asked.marks()) } },
    axes: [
      {
        ...axis,
        splits: (plot, _axis, min, max) =>
          timeTicks(min * 1000, max * 1000, asked.zone, Math.max(2, plot.width / TICK_ROOM_PX)).map(
            ({ at }) => at / 1000,
          ),
        values: (_plot, splits) => splits.map((at) => timeTicks(at * 1000, at * 1000, asked.zone, 1)[0]?.word ?? ''),
      },
      {
        ...axis,
        size: 62,
        label: asked.title,
        labelFont: font,
        labelSize: 20,
        ...levelsOf(asked.unit),
      },
    ],
    series: [
      {},
      // Edges, so that a single peak of a long time stays seen: the band is less than a pixel wide there.
      { stroke: colours.slate, width: 0.5, points: { show: false } },
      { stroke: colours.slate, width: 0.5, points: { show: false } },
      { stroke: colours.ink, width: 1.5, points: { show: false } },
    ],
    bands: [{ series: [1, 2], fill: colours.band }],
    hooks: {
      draw: [
        (plot) => drawAlone(plot, colours),
        (plot) => drawMarks(plot, asked.marks(), colours, font),
        (plot) => drawLoads(plot, asked.loads(), colours, font),
      ],
      setSelect: [(plot) => select(plot, asked.onSelect)],
      setCursor: [(plot) => asked.onCursor(plot.cursor.idx ?? null)],
    },
  };
}

/** In the unit that is read here, where that is another: round in it. */
function levelsOf(unit: string): Pick<uPlot.Axis, 'splits' | 'values'> {
  if (!shownUnit(unit).converted) return { values: (_plot, splits) => splits.map((value) => figure(value)) };
  return {
    splits: (_plot, _axis, _min, max) =>
      shownTicks(unit, (shown) => levelTicks(shown(max), LEVELS_MAX)).map(({ value }) => value),
    values: (_plot, splits) => splits.map((value) => graduation(shownUnit(unit).of(value))),
  };
}

/** From zero, and high enough for the lowest limit: what is far below a limit should look so. */
function yRange(max: number | null, marks: readonly TrendMark[]): [number, number] {
  const top = Math.max(max ?? 0, topMark(marks));
  return [0, top > 0 ? top * 1.18 : 1];
}

function select(plot: uPlot, onSelect: PlotAsked['onSelect']): void {
  const { left, width } = plot.select;
  if (width < 4) return;
  onSelect(plot.posToVal(left, 'x') * 1000, plot.posToVal(left + width, 'x') * 1000);
  plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
}

/** Told apart by their dashes and by where their word stands: limits left, zones right, what was usual between. */
const DASHES: Readonly<Record<TrendMark['kind'], readonly number[]>> = {
  limit: [10, 4],
  zone: [3, 3],
  usual: [],
  change: [10, 3, 2, 3],
};
const WORD_AT: Readonly<Record<TrendMark['kind'], number>> = { limit: 0, zone: 1, usual: 0.45, change: 0.45 };

const DOT_RADIUS_PX = 2.5;

/** A dot at the mean and a stroke from least to greatest. */
function drawAlone(plot: uPlot, colours: Colours): void {
  const { ctx, bbox, data } = plot;
  const [at, max = [], min = [], mean = []] = data;
  const ratio = devicePixelRatio;
  ctx.save();
  ctx.strokeStyle = colours.ink;
  ctx.fillStyle = colours.ink;
  ctx.lineWidth = ratio;
  for (const index of standingAlone(mean)) {
    const x = plot.valToPos(at[index] ?? 0, 'x', true);
    if (x < bbox.left || x > bbox.left + bbox.width) continue;
    const y = (value: number | null | undefined): number => plot.valToPos(value ?? 0, 'y', true);
    ctx.beginPath();
    ctx.moveTo(x, y(min[index]));
    ctx.lineTo(x, y(max[index]));
    ctx.stroke();
    ctx.beginPath();
    ctx.arc(x, y(mean[index]), DOT_RADIUS_PX * ratio, 0, 2 * Math.PI);
    ctx.fill();
  }
  ctx.restore();
}

function drawMarks(plot: uPlot, marks: readonly TrendMark[], colours: Colours, font: string): void {
  const { ctx, bbox } = plot;
  const ratio = devicePixelRatio;
  ctx.save();
  ctx.lineWidth = 1.4 * ratio;
  ctx.font = scaledFont(font, ratio);
  ctx.textBaseline = 'alphabetic';
  const words: { readonly share: number; readonly y: number }[] = [];
  for (const { kind, mmS, word } of marks) {
    const y = plot.valToPos(mmS, 'y', true);
    if (y < bbox.top || y > bbox.top + bbox.height) continue;
    const colour = kind === 'limit' || kind === 'change' ? colours.ink : colours.slate;
    ctx.strokeStyle = colour;
    ctx.fillStyle = colour;
    ctx.setLineDash(DASHES[kind].map((length) => length * ratio));
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    const share = WORD_AT[kind];
    ctx.textAlign = share === 1 ? 'right' : 'left';
    const inset = (share === 1 ? -6 : 6) * ratio;
    // Words of limits that are the same stand one above the other.
    let wordY = y - 5 * ratio;
    while (words.some((other) => other.share === share && Math.abs(other.y - wordY) < WORD_PX * ratio))
      wordY -= WORD_PX * ratio;
    words.push({ share, y: wordY });
    ctx.fillText(word, bbox.left + bbox.width * share + inset, wordY);
  }
  ctx.restore();
}

function drawLoads(plot: uPlot, loads: readonly LoadRecord[], colours: Colours, font: string): void {
  const { ctx, bbox } = plot;
  const ratio = devicePixelRatio;
  const right = bbox.left + bbox.width;
  const places = loads
    .map((load) => ({ x: plot.valToPos(load.at / 1000, 'x', true), id: load.assemblyId }))
    .filter(({ x }) => x >= bbox.left && x <= right)
    .sort((a, b) => a.x - b.x);
  ctx.save();
  ctx.strokeStyle = colours.slate;
  ctx.fillStyle = colours.slate;
  ctx.lineWidth = ratio;
  ctx.font = scaledFont(font, ratio);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  places.forEach(({ x, id }, i) => {
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + 14 * ratio);
    ctx.stroke();
    const free = (places[i + 1]?.x ?? right) - x;
    if (free >= ID_ROOM_PX * ratio) ctx.fillText(id, x + 3 * ratio, bbox.top + 11 * ratio);
  });
  ctx.restore();
}

function scaledFont(font: string, ratio: number): string {
  return font.replace(/^12px/, `${12 * ratio}px`);
}
