// The parts of a picture of a row of values: paper with graduations, the line, named places over it, levels across it.
import { nothing, type SVGTemplateResult } from 'lit';
import { svg } from '../language/html.ts';
import { graduation } from '../wording/figures.ts';
import { inLanes } from './mark-lanes.ts';
import { sign, type SignShape } from './mark-shapes.ts';
import { graduations, placeOn, type Row, type Scale } from './plot-shape.ts';
import type { Range } from './zoom.ts';

export interface PlotMark {
  readonly at: number;
  /** Where it may stand; equal for what stands at one place. */
  readonly from: number;
  readonly to: number;
  readonly word: string;
  readonly shape: SignShape;
  readonly speaks: boolean;
}

export interface PlotLevel {
  readonly at: number;
  readonly word: string;
}

/** `rising`: from zero up. `about-zero`: as far down as up. `decibels`: of a logarithm, which has no zero. */
export type PlotKind = 'rising' | 'about-zero' | 'decibels';

export interface Plot {
  readonly row: Row;
  readonly kind: PlotKind;
  /** What the picture is, for who does not see it. */
  readonly name: string;
  readonly xWord: string;
  readonly yWord: string;
  readonly marks: readonly PlotMark[];
  readonly levels: readonly PlotLevel[];
  /** The part that is shown first, where that is not the whole. */
  readonly opening?: Range;
  /** What stands at an index, in words. */
  readonly told: (index: number) => string;
}

const LEFT_PX = 62;
const RIGHT_PX = 22;
const BOTTOM_PX = 42;
const LANES = 3;
const LANE_PX = 17;
const CHARACTER_PX = 6.6;
/** What the sign before a name takes, in characters. */
const SIGN_CHARACTERS = '   ';
const X_ROOM_PX = 84;
const Y_ROOM_PX = 38;
/** More marks than this in sight say nothing one by one. */
const MARKS_DRAWN_MAX = 160;
/** Below the greatest, in dB: what lies deeper is the noise of the measuring chain as a rule. Common practice, no source. */
const DECIBELS_SHOWN = 90;

export interface Paper {
  readonly x: Scale;
  readonly y: Scale;
  readonly widthPx: number;
  readonly heightPx: number;
}

export function paperOf(
  kind: PlotKind,
  range: Range,
  seen: { least: number; greatest: number },
  size: { widthPx: number; heightPx: number; named: boolean },
): Paper {
  const top = size.named ? LANES * LANE_PX + 8 : 10;
  const { from, to } = valuesShown(kind, seen);
  return {
    widthPx: size.widthPx,
    heightPx: size.heightPx,
    x: { ...range, startPx: LEFT_PX, endPx: size.widthPx - RIGHT_PX },
    y: { from, to, startPx: size.heightPx - BOTTOM_PX, endPx: top },
  };
}

function valuesShown(kind: PlotKind, { least, greatest }: { least: number; greatest: number }): Range {
  switch (kind) {
    case 'rising':
      return { from: 0, to: greatest > 0 ? greatest * 1.06 : 1 };
    case 'about-zero': {
      const far = Math.max(Math.abs(least), Math.abs(greatest));
      return far > 0 ? { from: -far * 1.08, to: far * 1.08 } : { from: -1, to: 1 };
    }
    case 'decibels':
      return { from: Math.max(least, greatest - DECIBELS_SHOWN) - 3, to: greatest + 5 };
  }
}

export function paperLines({ x, y }: Paper, plot: Plot): SVGTemplateResult {
  const [left, right, top, bottom] = [x.startPx, x.endPx, y.endPx, y.startPx];
  const across = graduations(y.from, y.to, Math.max(2, (bottom - top) / Y_ROOM_PX));
  const along = graduations(x.from, x.to, Math.max(2, (right - left) / X_ROOM_PX));
  return svg`${across.map((value) => {
    const py = placeOn(y, value);
    return svg`<line class="paper-line" x1=${left} x2=${right} y1=${py} y2=${py} />
      <text x=${left - 7} y=${py + 4} text-anchor="end">${graduation(value)}</text>`;
  })}
  ${along.map((value) => {
    const px = placeOn(x, value);
    return svg`<line class="paper-line" x1=${px} x2=${px} y1=${top} y2=${bottom} />
      <text x=${px} y=${bottom + 16} text-anchor="middle">${graduation(value)}</text>`;
  })}
  <path class="axis" d=${`M${left} ${top}V${bottom}H${right}`} />
  <text x=${(left + right) / 2} y=${bottom + 34} text-anchor="middle">${plot.xWord}</text>
  <text x="0" y="0" text-anchor="middle" transform=${`translate(12 ${(top + bottom) / 2}) rotate(-90)`}>${plot.yWord}</text>`;
}

/** What speaks first, then orders, then the rest. */
function importance({ speaks, shape }: PlotMark): number {
  return speaks ? 0 : shape === 'order' || shape === 'teeth' ? 1 : 2;
}

export function namedPlaces({ x, y }: Paper, marks: readonly PlotMark[]): SVGTemplateResult | typeof nothing {
  const seen = marks.filter(({ to, from }) => to >= x.from && from <= x.to);
  if (seen.length === 0) return nothing;
  const drawn = seen.toSorted((a, b) => importance(a) - importance(b) || a.at - b.at).slice(0, MARKS_DRAWN_MAX);
  const placed = drawn
    .filter(({ at, word }) => word !== '' && at >= x.from && at <= x.to)
    .map((mark) => ({ mark, atPx: placeOn(x, mark.at), word: `${SIGN_CHARACTERS}${mark.word}` }));
  const room = { lanes: LANES, characterPx: CHARACTER_PX, gapPx: 3, endPx: x.endPx };
  const named = inLanes(placed, room);
  const lanes = new Map(named.map(({ of, lane }) => [of.mark, lane]));
  // Names after all lines, so that no line goes through one.
  return svg`${drawn.map((mark) => markLine({ x, y }, mark, lanes.get(mark)))}
    ${named.map(({ of: { mark, atPx }, lane, startPx }) => (lane === undefined ? nothing : markName(mark, atPx, startPx, nameYOf(y, lane))))}`;
}

function nameYOf(y: Scale, lane: number): number {
  return y.endPx - 8 - lane * LANE_PX;
}

function classOf({ shape, speaks }: PlotMark): string {
  return `named ${shape} ${speaks ? 'speaks' : ''}`;
}

function markLine({ x, y }: Pick<Paper, 'x' | 'y'>, mark: PlotMark, lane: number | undefined): SVGTemplateResult {
  const inside = (px: number): number => Math.min(x.endPx, Math.max(x.startPx, px));
  const [left, right] = [inside(placeOn(x, mark.from)), inside(placeOn(x, mark.to))];
  const seen = mark.at >= x.from && mark.at <= x.to;
  const px = placeOn(x, mark.at);
  return svg`<g class=${classOf(mark)}>
    ${right - left > 2 ? svg`<rect x=${left} width=${right - left} y=${y.endPx} height=${y.startPx - y.endPx} fill="url(#slip)" />` : nothing}
    ${seen ? svg`<line x1=${px} x2=${px} y1=${lane === undefined ? y.endPx : nameYOf(y, lane) + 2} y2=${y.startPx} />` : nothing}
  </g>`;
}

function markName(mark: PlotMark, atPx: number, startPx: number, nameY: number): SVGTemplateResult {
  // Moved inwards at the edge: the sign goes with its name.
  const signPx = startPx < atPx ? startPx + 6 : startPx;
  return svg`<g class=${classOf(mark)}>
    <g transform=${`translate(${signPx} ${nameY - 2})`}>${sign(mark.shape)}</g>
    <text x=${signPx + 9} y=${nameY + 2}>${mark.word}</text>
  </g>`;
}

export function levelLines({ x, y }: Paper, levels: readonly PlotLevel[]): SVGTemplateResult {
  return svg`${levels
    .filter(({ at }) => at >= y.from && at <= y.to)
    .map(({ at, word }) => {
      const py = placeOn(y, at);
      return svg`<line class="level" x1=${x.startPx} x2=${x.endPx} y1=${py} y2=${py} />
        <text x=${x.endPx - 4} y=${py - 4} text-anchor="end">${word}</text>`;
    })}`;
}

export const slipPattern = svg`<pattern id="slip" class="hatch" width="5" height="5" patternUnits="userSpaceOnUse">
  <path d="M0 5 L5 0" />
</pattern>`;
