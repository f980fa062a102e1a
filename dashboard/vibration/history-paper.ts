// What stands around the cells of spectra over days: axes, holes, loads and speeds as ticks, the key, and the table.
import type { SVGTemplateResult, TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SpectrogramView } from '../../shared/wave-views.ts';
import { timeTicks } from '../drawing/time-ticks.ts';
import { amount, figure, graduation, speed, unitOf } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import {
  bandEdges,
  octaveTicks,
  speedChanges,
  strongestBand,
  thinned,
  totalOf,
  valueOf,
  type Depth,
  type Stretch,
} from './history-shape.ts';
import { placeOn, type Scale } from './plot-shape.ts';

export interface HistoryLoad {
  readonly at: number;
  readonly assemblyId: string;
}

export interface HistoryPaper {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly x: Scale;
  /** Of the logarithm to the base 2 of Hz. */
  readonly y: Scale;
}

const LEFT_PX = 62;
const RIGHT_PX = 22;
const TOP_PX = 40;
const BOTTOM_PX = 40;
const TICK_ROOM_PX = 84;
const CHARACTER_PX = 6.8;
const ROWS_MAX = 60;
const SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

export function historyPaper(view: SpectrogramView, widthPx: number, heightPx: number): HistoryPaper {
  const bottom = Math.log2(view.lowestHz);
  return {
    widthPx,
    heightPx,
    x: { from: view.from, to: view.to, startPx: LEFT_PX, endPx: widthPx - RIGHT_PX },
    y: {
      from: bottom,
      to: bottom + view.bands / view.bandsPerOctave,
      startPx: heightPx - BOTTOM_PX,
      endPx: TOP_PX,
    },
  };
}

export function historyAxes({ x, y }: HistoryPaper, zone: string): SVGTemplateResult {
  const [left, right, top, bottom] = [x.startPx, x.endPx, y.endPx, y.startPx];
  const times = timeTicks(x.from, x.to, zone, Math.max(2, (right - left) / TICK_ROOM_PX));
  return svg`${times.map(({ at, word }) => {
    const px = placeOn(x, at);
    return svg`<line class="tick" x1=${px} x2=${px} y1=${bottom} y2=${bottom + 5} />
      <text x=${px} y=${bottom + 18} text-anchor="middle">${word}</text>`;
  })}
  ${octaveTicks(2 ** y.from, 2 ** y.to).map((hz) => {
    const py = placeOn(y, Math.log2(hz));
    return svg`<line class="tick" x1=${left - 5} x2=${left} y1=${py} y2=${py} />
      <text x=${left - 8} y=${py + 4} text-anchor="end">${graduation(hz)}</text>`;
  })}
  <path class="axis" d=${`M${left} ${top}V${bottom}H${right}`} />
  <text x="0" y="0" text-anchor="middle" transform=${`translate(12 ${(top + bottom) / 2}) rotate(-90)`}>Frequency, Hz</text>`;
}

export function holesDrawn({ x, y }: HistoryPaper, holes: readonly Stretch[]): SVGTemplateResult {
  return svg`<pattern id="hole" class="hatch" width="7" height="7" patternUnits="userSpaceOnUse"><path d="M0 7 L7 0" /></pattern>
    ${holes.map(({ from, to }) => {
      const [left, right] = [placeOn(x, from), placeOn(x, to)];
      return svg`<rect x=${left} width=${Math.max(0, right - left)} y=${y.endPx} height=${y.startPx - y.endPx} fill="url(#hole)" />`;
    })}`;
}

/** Two rows above the cells: what was clamped, and the speed where it became another one. */
export function ticksAbove(
  paper: HistoryPaper,
  view: SpectrogramView,
  loads: readonly HistoryLoad[],
): SVGTemplateResult {
  const clamped = loads
    .filter(({ at }) => at >= view.from && at <= view.to)
    .map(({ at, assemblyId }) => ({ at, word: assemblyId }));
  const speeds = speedChanges(view.columns).map(({ at, speedRpm }) => ({ at, word: speed(speedRpm) }));
  return svg`${tickRow(paper, clamped, paper.y.endPx - 28)} ${tickRow(paper, speeds, paper.y.endPx - 11)}`;
}

/** A tick each; a word where the one before leaves room for it. */
function tickRow({ x }: HistoryPaper, ticks: readonly { at: number; word: string }[], rowY: number): SVGTemplateResult {
  let freePx = x.startPx;
  return svg`${ticks
    .toSorted((a, b) => a.at - b.at)
    .map(({ at, word }) => {
      const px = Math.max(x.startPx, placeOn(x, at));
      const endPx = px + 4 + word.length * CHARACTER_PX;
      const named = px >= freePx && endPx <= x.endPx + CHARACTER_PX;
      if (named) freePx = endPx + 4;
      return svg`<line class="tick" x1=${px} x2=${px} y1=${rowY + (named ? -9 : 2)} y2=${rowY + 7} />
        ${named ? svg`<text x=${px + 4} y=${rowY}>${word}</text>` : ''}`;
    })}`;
}

export function levelKey(depth: Depth): TemplateResult {
  return html`<div class="key" role="img" aria-label=${keyWords(depth)}>
    <svg viewBox="0 0 420 34">
      ${SHARES.map(
        (share, index) => svg`<rect class=${`level-${index}`} x=${index * 60} y="0" width="60" height="14" />
          <text x=${index * 60 + 30} y="28" text-anchor="middle">${amount(valueOf(share, depth), 'mm/s')}</text>`,
      )}
      <text x="308" y="12">${unitOf('mm/s')} RMS in a band${depth.beyond ? say`; darkest: and above` : ''}</text>
    </svg>
  </div>`;
}

function keyWords(depth: Depth): string {
  const values = SHARES.map((share) => amount(valueOf(share, depth), 'mm/s')).join(', ');
  return depth.beyond
    ? say`From palest to strongest: ${values} ${unitOf('mm/s')} RMS in a band, and above`
    : say`From palest to strongest: ${values} ${unitOf('mm/s')} RMS in a band`;
}

export function bandWords(view: Pick<SpectrogramView, 'lowestHz' | 'bandsPerOctave'>, band: number): string {
  const [from, to] = bandEdges(view, band);
  return say`${figure(from)} to ${figure(to)} Hz`;
}

export function historyTable(view: SpectrogramView, clock: PlantClock): TemplateResult {
  const rows = thinned(view.columns, ROWS_MAX).toReversed();
  const left = view.columns.length - rows.length;
  return html`<details>
    <summary>The same as a table</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Table of the windows over time">
      <table>
        <caption>
          Velocity, ${unitOf('mm/s')} RMS, newest first; times in
          ${clock.zone}${left > 0 ? say`; ${left} windows between these are left out` : ''}
        </caption>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col" class="number">Speed</th>
            <th scope="col" class="number">All bands</th>
            <th scope="col">Strongest band</th>
            <th scope="col" class="number">In it</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map((column) => {
            const band = strongestBand(column);
            return html`<tr>
              <td>${moment(column.at, clock)}</td>
              <td class="number">${speed(column.speedRpm)}</td>
              <td class="number">${amount(totalOf(column), 'mm/s')}</td>
              <td>${band === undefined ? '–' : bandWords(view, band)}</td>
              <td class="number">
                ${band === undefined ? '–' : amount(column.velocityMmS[band] ?? undefined, 'mm/s')}
              </td>
            </tr>`;
          })}
        </tbody>
      </table>
    </div>
  </details>`;
}
