// Paints the cells of spectra over days on a canvas, in the colours in force: a cell each would be too many for a drawing.
import type { SpectrogramView } from '../../shared/wave-views.ts';
import { shadeOf, shareOf, type Colour, type Depth, type Stretch } from './history-shape.ts';
import { placeOn, type Scale } from './plot-shape.ts';

const STOPS = ['--level-0', '--level-1', '--level-2', '--level-3', '--level-4'] as const;
/** Shades between the stops that are told apart; more cannot be. */
const SHADES = 64;
/** A window is a moment: however long the time shown is, it is seen. */
const COLUMN_LEAST_PX = 2;

/** A canvas knows no custom properties: each is resolved by an element that is coloured with it. */
function stopsOf(probe: HTMLElement): Colour[] {
  return STOPS.map((name) => {
    probe.style.color = `var(${name})`;
    const [r = 0, g = 0, b = 0] = (getComputedStyle(probe).color.match(/[\d.]+/g) ?? []).map(Number);
    probe.style.color = '';
    return { r, g, b };
  });
}

export interface CellsAsked {
  readonly view: SpectrogramView;
  readonly stretches: readonly Stretch[];
  readonly depth: Depth;
  readonly x: Scale;
  /** Of the logarithm to the base 2 of Hz. */
  readonly y: Scale;
}

export function paintCells(canvas: HTMLCanvasElement, { view, stretches, depth, x, y }: CellsAsked): void {
  const ratio = devicePixelRatio;
  const box = { width: x.endPx - x.startPx, height: y.startPx - y.endPx };
  canvas.width = Math.round(box.width * ratio);
  canvas.height = Math.round(box.height * ratio);
  const context = canvas.getContext('2d');
  if (context === null) return;
  const stops = stopsOf(canvas);
  const shades = Array.from({ length: SHADES }, (_, i) => {
    const { r, g, b } = shadeOf(i / (SHADES - 1), stops);
    return `rgb(${r} ${g} ${b})`;
  });
  const bottom = Math.log2(view.lowestHz);
  const edges = Array.from({ length: view.bands + 1 }, (_, band) =>
    Math.round((placeOn(y, bottom + band / view.bandsPerOctave) - y.endPx) * ratio),
  );
  view.columns.forEach((column, index) => {
    const stretch = stretches[index];
    if (stretch === undefined) return;
    const left = Math.round((placeOn(x, stretch.from) - x.startPx) * ratio);
    const right = Math.round((placeOn(x, stretch.to) - x.startPx) * ratio);
    const wide = Math.max(COLUMN_LEAST_PX * ratio, right - left);
    column.velocityMmS.forEach((value, band) => {
      if (value === null) return;
      const [top, end] = [edges[band + 1] ?? 0, edges[band] ?? 0];
      context.fillStyle = shades[Math.round(shareOf(value, depth) * (SHADES - 1))] ?? '';
      context.fillRect(left, top, wide, end - top);
    });
  });
}
