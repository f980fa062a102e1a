// Draws the 1× over time: as a polar path where phases are known, else as amounts over time. A sign per load, the newest in ink.
import { nothing, type SVGTemplateResult } from 'lit';
import { svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { pointAt, ringValues, type Point } from '../drawing/polar.ts';
import { timeTicks } from '../drawing/time-ticks.ts';
import { degrees, figure, shownTicks, unitOf } from '../wording/figures.ts';
import { freePlace, type Box } from './free-places.ts';
import type { LoadPath, PathPoint } from './path-shape.ts';
import { graduations, placeOn, type Scale } from './plot-shape.ts';
import { shownUnit } from '../wording/units.ts';

export const RADIUS_PX = 160;
export const POLAR_HALF_PX = 205;
const SPOKES_DEG = [0, 45, 90, 135, 180, 225, 270, 315] as const;
/** Loads whose name stands beside their path; the table names them all. */
const NAMED_MAX = 4;
const NAME_PX = 14;
const CHARACTER_PX = 6.8;
/** Rings across the radius, times how much closer. */
const RINGS_MAX = 4;
const ORIGIN: Point = { x: 0, y: 0 };

/** Forms that take turns, so that neighbouring loads are told apart without colour. */
function form(index: number, { x, y }: Point): SVGTemplateResult {
  switch (index % 4) {
    case 0:
      return svg`<circle cx=${x} cy=${y} r="3.6" />`;
    case 1:
      return svg`<rect x=${x - 3.4} y=${y - 3.4} width="6.8" height="6.8" />`;
    case 2:
      return svg`<path d=${`M${x - 4} ${y + 3.4}L${x} ${y - 4}L${x + 4} ${y + 3.4}Z`} />`;
    default:
      return svg`<path d=${`M${x} ${y - 4.6}L${x + 4.6} ${y}L${x} ${y + 4.6}L${x - 4.6} ${y}Z`} />`;
  }
}

function joined(places: readonly Point[]): SVGTemplateResult | typeof nothing {
  if (places.length < 2) return nothing;
  return svg`<path class="joined" d=${`M${places.map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}`} />`;
}

function drawnPath(
  path: LoadPath,
  index: number,
  newest: boolean,
  picked: number | undefined,
  placeOf: (point: PathPoint) => Point,
) {
  const places = path.points.map(placeOf);
  return svg`<g class=${newest ? 'path newest' : 'path'}>
    ${path.load === undefined ? nothing : joined(places)} ${places.map((place) => form(index, place))}
    ${path.points.map((point, at) => (point.waveId === picked ? svg`<circle class="picked" cx=${places[at]?.x ?? 0} cy=${places[at]?.y ?? 0} r="8" />` : nothing))}
  </g>`;
}

/** `zoom` above 1 goes closer to the newest point: a small drift is seen beside a large amount. */
export function polarPaths(paths: readonly LoadPath[], picked: number | undefined, zoom: number): SVGTemplateResult {
  const greatest = Math.max(...paths.flatMap(({ points }) => points.map(({ velocityMmS }) => velocityMmS)));
  const max = greatest > 0 ? greatest * 1.1 : 1;
  const edgePx = RADIUS_PX * zoom;
  const newest = paths.at(-1)?.points.at(-1);
  const onPaper = (velocityMmS: number, angleDeg: number): Point => pointAt((velocityMmS / max) * edgePx, angleDeg);
  const centre = zoom === 1 || newest === undefined ? ORIGIN : onPaper(newest.velocityMmS, newest.phaseDeg ?? 0);
  const placeOf = ({ velocityMmS, phaseDeg }: PathPoint): Point => moved(onPaper(velocityMmS, phaseDeg ?? 0), centre);
  const rings = shownTicks('mm/s', (shown) =>
    zoom === 1 ? ringValues(shown(max)) : graduations(0, shown(max), RINGS_MAX * zoom).filter((value) => value > 0),
  );
  const figuresDeg =
    zoom === 1
      ? freeSpoke(paths.flatMap(({ points }) => points.map(({ phaseDeg }) => phaseDeg ?? 0)))
      : (newest?.phaseDeg ?? 0);
  const figures = rings.flatMap(({ value, word }) => {
    const { x, y } = moved(onPaper(value, figuresDeg), centre);
    return Math.hypot(x, y) < POLAR_HALF_PX
      ? [{ word: shownUnit('mm/s').converted ? word : figure(value), x: x + 3, y: y - 3 }]
      : [];
  });
  return svg`<g transform=${`translate(${-centre.x} ${-centre.y})`}>
    ${spokes(edgePx)}
    ${rings.map(({ value }) => svg`<circle class="paper-ring" r=${(value / max) * edgePx} />`)}
    <circle class="edge" r=${edgePx} />
  </g>
  ${figures.map(({ word, x, y }) => svg`<text x=${x} y=${y}>${word}</text>`)}
  ${paths.map((path, index) => drawnPath(path, index, index === paths.length - 1, picked, placeOf))}
  ${polarNames(paths, placeOf, figures.map(boxOf))}`;
}

/** The room of words that begin at a place. */
function boxOf({ word, x, y }: { readonly word: string } & Point): Box {
  return { left: x, top: y - NAME_PX + 3, width: word.length * CHARACTER_PX, height: NAME_PX };
}

function moved({ x, y }: Point, centre: Point): Point {
  return { x: x - centre.x, y: y - centre.y };
}

function spokes(edgePx: number): SVGTemplateResult[] {
  return SPOKES_DEG.map((angleDeg) => {
    const end = pointAt(edgePx, angleDeg);
    const word = pointAt(edgePx + (angleDeg % 180 === 0 ? 14 : 24), angleDeg);
    return svg`<line class="paper-line" x1="0" y1="0" x2=${end.x} y2=${end.y} />
      ${angleDeg % 90 === 0 ? svg`<text x=${word.x} y=${word.y + 4} text-anchor="middle">${angleDeg === 0 ? say`mark 0°` : degrees(angleDeg)}</text>` : nothing}`;
  });
}

/** Between two spokes, as far from all points as can be: the figures of the rings stand there. */
function freeSpoke(phasesDeg: readonly number[]): number {
  const apart = (angleDeg: number): number =>
    Math.min(...phasesDeg.map((phaseDeg) => Math.abs(((((phaseDeg - angleDeg) % 360) + 540) % 360) - 180)));
  const between = SPOKES_DEG.map((angleDeg) => angleDeg + 22.5);
  return between.reduce((best, angleDeg) => (apart(angleDeg) > apart(best) ? angleDeg : best), between[0] ?? 0);
}

/** Beside the last point of the newest loads, where there is room; the table names them all. */
function polarNames(
  paths: readonly LoadPath[],
  placeOf: (point: PathPoint) => Point,
  figures: readonly Box[],
): SVGTemplateResult {
  const points = paths.flatMap((path) => path.points.map(placeOf));
  const taken: Box[] = [...figures];
  return svg`${paths
    .slice(-NAMED_MAX)
    .toReversed()
    .map((path, back) => {
      const last = path.points.at(-1);
      if (last === undefined || path.load === undefined) return nothing;
      const name = nameOf(path);
      const at = placeOf(last);
      const size = { width: name.length * CHARACTER_PX, height: NAME_PX };
      const box = freePlace(at, size, points, taken, POLAR_HALF_PX);
      if (box === undefined) return nothing;
      taken.push(box);
      const middle = box.top + NAME_PX / 2;
      const near = box.left > at.x ? box.left - 2 : box.left + box.width + 2;
      return svg`${Math.abs(middle - at.y) > NAME_PX ? svg`<path class="leader" d=${`M${at.x} ${at.y}L${near} ${middle}`} />` : nothing}
        <text class=${back === 0 ? 'name newest' : 'name'} x=${box.left} y=${middle + 4}>${name}</text>`;
    })}`;
}

export function nameOf({ load }: LoadPath): string {
  return load === undefined ? say`load not known` : say`${load.assemblyId}, load ${load.ordinal}`;
}

export const STRIP = { widthPx: 560, heightPx: 260, leftPx: 56, bottomPx: 34, topPx: 14, rightPx: 12 } as const;

/** Amounts over time, where there is no phase. */
export function amountsOverTime(
  paths: readonly LoadPath[],
  zone: string,
  picked: number | undefined,
): SVGTemplateResult {
  const points = paths.flatMap((path) => path.points);
  const times = points.map(({ at }) => at);
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const room = Math.max(60_000, (to - from) * 0.03);
  const { widthPx, heightPx, leftPx, bottomPx, topPx, rightPx } = STRIP;
  const x: Scale = { from: from - room, to: to + room, startPx: leftPx, endPx: widthPx - rightPx };
  const greatest = Math.max(...points.map(({ velocityMmS }) => velocityMmS));
  const y: Scale = { from: 0, to: greatest > 0 ? greatest * 1.15 : 1, startPx: heightPx - bottomPx, endPx: topPx };
  const placeOf = ({ at, velocityMmS }: PathPoint): Point => ({ x: placeOn(x, at), y: placeOn(y, velocityMmS) });
  return svg`${shownTicks('mm/s', (shown) => graduations(0, shown(y.to), 5)).map(({ value, word }) => {
    const py = placeOn(y, value);
    return svg`<line class="paper-line" x1=${x.startPx} x2=${x.endPx} y1=${py} y2=${py} />
      <text x=${x.startPx - 6} y=${py + 4} text-anchor="end">${word}</text>`;
  })}
  ${timeTicks(x.from, x.to, zone, 6).map(({ at, word }) => svg`<text x=${placeOn(x, at)} y=${y.startPx + 18} text-anchor="middle">${word}</text>`)}
  <path class="edge" d=${`M${x.startPx} ${y.endPx}V${y.startPx}H${x.endPx}`} />
  <text x="0" y="0" text-anchor="middle" transform=${`translate(12 ${(y.startPx + y.endPx) / 2}) rotate(-90)`}>1×, ${unitOf('mm/s')} RMS</text>
  ${paths.map((path, index) => drawnPath(path, index, index === paths.length - 1, picked, placeOf))}`;
}
