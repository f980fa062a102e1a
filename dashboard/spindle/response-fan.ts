// The response fan: how this spindle's 1× answers to the residual unbalance of what was clamped, on square-law paper.
import { nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import { placeOf, roomyMax, squareLawTicks, type SquareLawScale } from '../drawing/square-law.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { look, presses, tables } from '../look.ts';
import { fanSpeeds } from './fan-speeds.ts';
import {
  amount,
  count,
  figure,
  shownTicks,
  speed,
  type ShownTick,
  unbalance,
  unitOf,
  velocity,
} from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import {
  asLongAsRoom,
  binAtFirst,
  fanMarks,
  lineReadings,
  onLine,
  showsRelation,
  speedBins,
  type FanMark,
  type SpeedBin,
} from './fan-marks.ts';
import { fanLook } from './fan-look.ts';
import type { LimitView } from './spindle-rows.ts';
import { shownUnit } from '../wording/units.ts';

const WIDTH = 560;
/** What the name at the mark of now takes, in the widest of the usual fonts. */
const ROOM_FOR_NAME_PX = 160;
const HEIGHT = 400;
const LEFT = 64;
const BOTTOM = 46;
const TOP = 14;
const RIGHT = 18;
const X_ROOM_PX = 38;
const Y_ROOM_PX = 22;
const LIMIT_NEAR = 1.4;

interface Paper {
  readonly x: SquareLawScale;
  readonly y: SquareLawScale;
}

/** What the page's address says: the number of the speed bin as `fan`. */
@customElement('response-fan')
export class ResponseFan extends ChoosingElement {
  static override styles = [look, tables, presses, fanLook];

  @property({ attribute: false }) points: readonly ResponsePoint[] = [];
  @property({ attribute: false }) lines: readonly ResponseLine[] = [];
  @property({ attribute: false }) limits: readonly LimitView[] = [];
  @property({ attribute: false }) presentOrdinal: number | undefined;
  @property({ attribute: false }) speedNowRpm: number | undefined;
  @property({ attribute: false }) clock!: PlantClock;

  override render() {
    const bins = speedBins(this.points, this.lines);
    const bin =
      bins.find(({ speedBin }) => String(speedBin) === this.choices['fan']) ?? binAtFirst(bins, this.speedNowRpm);
    if (bin === undefined || bin.points.length === 0) {
      return html`<p class="soft">
        No load yet whose residual is known and whose readings can be compared. Each load will be one mark here.
      </p>`;
    }
    return html`${fanSpeeds(bins, bin, (speedBin) => this.choose({ fan: String(speedBin) }))}
      ${this.#picture(bin)}<save-picture .name=${say`Response to unbalance at ${speed(bin.speedRpm)}`}></save-picture
      >${this.#readings(bin)} ${this.#table(bin)}`;
  }

  #picture(bin: SpeedBin) {
    const limit = limitInForce(this.limits, 'synchronous', bin.speedRpm);
    const marks = fanMarks(bin, this.presentOrdinal, this.clock.now);
    const velocities = marks.map(({ point }) => point.synchronousMmS);
    // A limit far above everything would press the marks to the bottom: it is then told in words.
    const near = limit !== undefined && limit.limitMmS <= LIMIT_NEAR * Math.max(...velocities);
    const paper: Paper = {
      x: {
        max: roundedUp(
          marks.map(({ point }) => point.residualGmm),
          'g.mm',
        ),
        lengthPx: WIDTH - LEFT - RIGHT,
      },
      y: {
        max: roundedUp(near ? [...velocities, limit.limitMmS] : velocities, 'mm/s'),
        lengthPx: HEIGHT - TOP - BOTTOM,
      },
    };
    return html`<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${this.#told(bin)}>
      ${this.#axes(paper)} ${showsRelation(bin.line) ? this.#line(bin.line, paper) : nothing}
      ${limit === undefined ? nothing : near ? this.#limit(limit, paper) : this.#limitAbove(limit)}
      ${marks.map((fanMark) => this.#name(fanMark, paper))} ${marks.map((fanMark) => this.#mark(fanMark, paper))}
    </svg>`;
  }

  #told(bin: SpeedBin): string {
    return say`1× velocity against residual unbalance at ${speed(bin.speedRpm)}, ${bin.points.length} loads; the same numbers stand in the table below`;
  }

  #axes({ x, y }: Paper) {
    const floor = HEIGHT - BOTTOM;
    return svg`
      ${ticksOn(x, X_ROOM_PX, 'g.mm').map(({ value, word }) => {
        const at = LEFT + placeOf(value, x);
        return svg`<line class="paper" x1=${at} x2=${at} y1=${TOP} y2=${floor} />
          <text x=${at} y=${floor + 16} text-anchor="middle">${word}</text>`;
      })}
      ${ticksOn(y, Y_ROOM_PX, 'mm/s').map(({ value, word }) => {
        const at = floor - placeOf(value, y);
        return svg`<line class="paper" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${at} y2=${at} />
          <text x=${LEFT - 6} y=${at + 4} text-anchor="end">${word}</text>`;
      })}
      <path class="axis" d=${`M${LEFT} ${TOP} V${floor} H${WIDTH - RIGHT}`} />
      <text class="title" x=${(LEFT + WIDTH - RIGHT) / 2} y=${HEIGHT - 8} text-anchor="middle">residual unbalance of what was clamped, ${unitOf('g.mm')}</text>
      <text class="title" transform=${`translate(13 ${(TOP + floor) / 2}) rotate(-90)`} text-anchor="middle">1× velocity, ${unitOf('mm/s')} RMS</text>`;
  }

  #line(line: ResponseLine, { x, y }: Paper) {
    const floor = HEIGHT - BOTTOM;
    // Straight on this paper: two ends are enough; it is cut where it would leave the top.
    const right = onLine(line, x.max);
    const steep = right > y.max && line.slope > 0;
    const endGmm = steep ? Math.sqrt(Math.max(0, (y.max * y.max - line.own) / line.slope)) : x.max;
    const from = floor - placeOf(onLine(line, 0), y);
    const to = floor - placeOf(Math.min(right, y.max), y);
    return svg`<line class="fitted"
      x1=${LEFT} y1=${from} x2=${LEFT + placeOf(endGmm, x)} y2=${to} />`;
  }

  #limit(limit: LimitView, { y }: Paper) {
    const at = HEIGHT - BOTTOM - placeOf(limit.limitMmS, y);
    return svg`<line class="limit" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${at} y2=${at} />
      <text x=${LEFT + 6} y=${at - 5}>limit ${velocity(limit.limitMmS)}, ${limit.source}</text>`;
  }

  #limitAbove(limit: LimitView) {
    return svg`<text x=${LEFT + 6} y=${TOP + 12}>the limit, ${velocity(limit.limitMmS)}, is above this picture; ${asLongAsRoom(limit.source)}<title>${limit.source}</title></text>`;
  }

  /** Beneath all marks: a name hides none of them. */
  #name({ point, age }: FanMark, paper: Paper) {
    if (age !== 'now') return nothing;
    const { cx, cy } = centreOf(point, paper);
    const left = cx > WIDTH - ROOM_FOR_NAME_PX;
    return svg`<text class="now" x=${left ? cx - 10 : cx + 10} y=${cy - 7} text-anchor=${left ? 'end' : 'start'}>${point.assemblyId}, in it now</text>`;
  }

  #mark({ point, age }: FanMark, paper: Paper) {
    const { cx, cy } = centreOf(point, paper);
    return svg`<circle class=${`load ${age}`} cx=${cx} cy=${cy} r=${age === 'now' ? 6 : 4}>
        <title>${this.#title(point)}</title>
      </circle>`;
  }

  #title(point: ResponsePoint): string {
    return say`${point.assemblyId}, load ${point.loadOrdinal}, ${moment(point.at, this.clock)}: ${unbalance(point.residualGmm)}, ${velocity(point.synchronousMmS)}`;
  }

  #readings({ line, points }: SpeedBin) {
    const key = html`<p class="soft small">
      One mark per load: dark, the last seven days; pale, before. Both axes are square-law paper, on which the response
      is a straight line.
    </p>`;
    if (!showsRelation(line)) {
      return html`<p>${noRelationWords(line)}</p>
        ${key}`;
    }
    const { perGmm, ownMmS } = lineReadings(line);
    return html`<dl>
        <div>
          <dt>answers with</dt>
          <dd>${amount(shownUnit('g.mm').back(perGmm), 'mm/s')} ${unitOf('mm/s')} per ${unitOf('g.mm')}</dd>
        </div>
        <div>
          <dt>by itself, with no unbalance clamped</dt>
          <dd>${velocity(ownMmS)}</dd>
        </div>
        <div>
          <dt>correlation of the squares</dt>
          <dd>${figure(line.correlation)} over ${count(line.loads, 'load', 'loads')}</dd>
        </div>
      </dl>
      ${offTheLine(line.loads, points.length)} ${key}`;
  }

  #table(bin: SpeedBin) {
    const points = [...bin.points].sort((a, b) => b.at - a.at);
    return html`<details>
      <summary>The same as a table</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Loads at ${speed(bin.speedRpm)}">
        <table>
          <thead>
            <tr>
              <th scope="col">Load</th>
              <th scope="col">Assembly</th>
              <th scope="col">Since</th>
              <th scope="col" class="number">Residual, ${unitOf('g.mm')}</th>
              <th scope="col" class="number">1×, ${unitOf('mm/s')}</th>
              <th scope="col" class="number">Readings</th>
            </tr>
          </thead>
          <tbody>
            ${points.map(
              (point) =>
                html`<tr>
                  <td>${point.loadOrdinal}</td>
                  <td>${point.assemblyId}</td>
                  <td>${moment(point.at, this.clock)}</td>
                  <td class="number">${amount(point.residualGmm, 'g.mm')}</td>
                  <td class="number">${amount(point.synchronousMmS, 'mm/s')}</td>
                  <td class="number">${point.readings}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`;
  }
}

/** The far end of an axis: round in the unit that is read here. */
function roundedUp(values: readonly number[], ucum: string): number {
  const { of, back } = shownUnit(ucum);
  return back(roomyMax(values.map(of)));
}

const ticksOn = ({ max, lengthPx }: SquareLawScale, roomPx: number, ucum: string): ShownTick[] =>
  shownTicks(ucum, (shown) => squareLawTicks({ max: Number(shown(max).toPrecision(6)), lengthPx }, roomPx));

function noRelationWords(line: ResponseLine | undefined): string {
  if (line === undefined)
    return say`No relation shown: too few of the loads have readings enough to say how it answers.`;
  const { correlation } = line;
  if (correlation === undefined) return say`No relation shown: the residuals of what was clamped are all alike.`;
  return say`No relation shown: its 1× does not follow the residual unbalance of what was clamped (correlation of the squares ${figure(correlation)}).`;
}

const centreOf = ({ residualGmm, synchronousMmS }: ResponsePoint, { x, y }: Paper) => ({
  cx: LEFT + placeOf(residualGmm, x),
  cy: HEIGHT - BOTTOM - placeOf(synchronousMmS, y),
});

declare global {
  interface HTMLElementTagNameMap {
    'response-fan': ResponseFan;
  }
}

/** A mark joins the line when its load has ended and had readings enough. */
function offTheLine(onLine: number, shown: number) {
  if (onLine >= shown) return nothing;
  return html`<p class="soft small">
    Of the ${shown} loads shown ${shown - onLine} are not in the line: not over yet, or with too few readings.
  </p>`;
}
