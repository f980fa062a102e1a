// The 1× of the windows at one speed as a path on polar paper, joined per load: a step at a load is the clamping, a drift is the spindle.
import { css, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { WaveRow } from '../../shared/wave-views.ts';
import { pictureText, readPicture, wholePicture } from '../drawing/picture-look.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { numberOf, PATH_CLOSER } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { MISSING, amount, count, degrees, speed, unitOf, velocity } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { thinned } from './history-shape.ts';
import { amountsOverTime, nameOf, POLAR_HALF_PX, polarPaths, STRIP } from './path-drawing.ts';
import {
  byLoad,
  isSameSpeed,
  pathPoints,
  pathSpeeds,
  type LoadPath,
  type PathLoad,
  type PathPoint,
} from './path-shape.ts';

const ROWS_MAX = 60;
const ZOOM_MAX = Math.max(...PATH_CLOSER);
/** More speeds than this are a list to choose from. */
const BUTTONS_MAX = 4;
/** More loads than these hide each other; the table has them all. */
const LOADS_DRAWN_MAX = 8;

/** What the page's address says: `path-speed` in rpm, and `path-closer`, how much closer to the newest point. */
@customElement('one-times-path')
export class OneTimesPath extends ChoosingElement {
  static override styles = [
    look,
    tables,
    presses,
    pictureText,
    wholePicture,
    readPicture,
    css`
      svg {
        max-width: 40rem;
      }
      label {
        display: inline-flex;
        align-items: center;
        gap: 0.75rem;
        font-weight: 400;
      }
      select {
        width: auto;
      }
      svg.polar {
        max-width: 30rem;
      }
      .paper-line,
      .paper-ring {
        fill: none;
        stroke: var(--paper-line);
      }
      .edge {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1.2;
      }
      .path {
        fill: var(--ground);
        stroke: var(--slate);
        stroke-width: 1.3;
      }
      .path.newest {
        fill: var(--ink);
        stroke: var(--ink);
      }
      .joined {
        fill: none;
        stroke-width: 1.2;
        stroke-dasharray: 4 3;
      }
      .newest .joined {
        stroke-width: 2;
        stroke-dasharray: none;
      }
      .zoom {
        margin: 0.25rem 0;
      }
      .leader {
        fill: none;
        stroke: var(--slate);
        stroke-width: 0.8;
      }
      .picked {
        fill: none;
        stroke: var(--ink);
        stroke-width: 2;
      }
    `,
  ];

  /** In any order. */
  @property({ attribute: false }) waves: readonly WaveRow[] = [];
  @property({ attribute: false }) loads: readonly PathLoad[] = [];
  @property({ attribute: false }) clock!: PlantClock;
  /** The window whose pictures are shown. */
  @property({ attribute: false }) picked: number | undefined;

  get #closer(): number {
    return numberOf(this.choices['path-closer']) ?? 1;
  }

  #zoom(closer: number): void {
    this.choose({ 'path-closer': closer <= 1 ? undefined : String(closer) });
  }

  #choose(speedRpm: number): void {
    this.choose({ 'path-speed': String(Math.round(speedRpm)) });
  }

  override render() {
    const all = pathPoints(this.waves);
    const newest = all.at(-1);
    if (newest === undefined)
      return html`<p class="soft">
        No window has a 1× that can be used: its speed has to be known, and its signal healthy.
      </p>`;
    const speeds = pathSpeeds(all);
    const chosen = numberOf(this.choices['path-speed']) ?? newest.speedRpm;
    const speedRpm = speeds.find((one) => isSameSpeed(one, chosen)) ?? newest.speedRpm;
    const points = all.filter((point) => isSameSpeed(point.speedRpm, speedRpm));
    return html`${this.#speeds(speeds, speedRpm)} ${this.#picture(points, speedRpm)}
    ${this.#table(byLoad(points, this.loads))}`;
  }

  #speeds(speeds: readonly number[], chosen: number) {
    if (speeds.length < 2) return nothing;
    if (speeds.length > BUTTONS_MAX)
      return html`<p class="not-printed">
        <label>
          at
          <select @change=${this.#onSpeed}>
            ${speeds.map(
              (one) => html`<option value=${one} ?selected=${one === chosen}>${speed(Math.round(one))}</option>`,
            )}
          </select>
        </label>
      </p>`;
    return html`<div class="choices not-printed" role="group" aria-label="Speed of the path">
      ${speeds.map(
        (one) =>
          html`<button aria-pressed=${one === chosen ? 'true' : 'false'} @click=${() => this.#choose(one)}>
            ${speed(Math.round(one))}
          </button>`,
      )}
    </div>`;
  }

  readonly #onSpeed = (event: Event): void => {
    this.#choose(Number((event.target as HTMLSelectElement).value));
  };

  #zoomButtons() {
    const closer = this.#closer;
    return html`<div class="zoom not-printed" role="group" aria-label="Part of the path shown">
      <button ?disabled=${closer >= ZOOM_MAX} @click=${() => this.#zoom(closer * 2)}>Closer to the newest</button>
      <button ?disabled=${closer === 1} @click=${() => this.#zoom(closer / 2)}>Wider</button>
      <button ?disabled=${closer === 1} @click=${() => this.#zoom(1)}>The whole</button>
    </div>`;
  }

  #picture(points: readonly PathPoint[], speedRpm: number) {
    const withPhase = points.filter(({ phaseDeg }) => phaseDeg !== undefined);
    const polar = withPhase.length > 0;
    const paths = byLoad(polar ? withPhase : points, this.loads);
    const drawn = paths.slice(-LOADS_DRAWN_MAX);
    const told = say`1× at ${speed(Math.round(speedRpm))}, ${count(points.length, 'window', 'windows')}, ${count(paths.length, 'load', 'loads')}; the newest: ${velocity(points.at(-1)?.velocityMmS)}`;
    const without = points.length - withPhase.length;
    return html`${
        polar
          ? html`<svg
              class="polar"
              viewBox=${`${-POLAR_HALF_PX} ${-POLAR_HALF_PX} ${2 * POLAR_HALF_PX} ${2 * POLAR_HALF_PX}`}
              role="img"
              aria-label=${told}
            >
              ${polarPaths(drawn, this.picked, this.#closer)}
            </svg>`
          : html`<svg viewBox=${`0 0 ${STRIP.widthPx} ${STRIP.heightPx}`} role="img" aria-label=${told}>
              ${amountsOverTime(drawn, this.clock.zone, this.picked)}
            </svg>`
      }
      ${polar ? this.#zoomButtons() : nothing}
      <p class="small soft">
        At ${speed(Math.round(speedRpm))}.
        ${polar ? html`Distance from the middle: velocity, ${unitOf('mm/s')} RMS. Angle: its phase against the tacho mark, counter-clockwise.` : html`No window has tacho marks, so there is no phase: the amount alone is shown, over time.`}
        A sign of its own per load; the newest in
        ink${paths.length > drawn.length ? html`; the ${paths.length - drawn.length} loads before are in the table` : nothing}.
        ${polar && without > 0 ? html`${count(without, 'window', 'windows')} without a phase: in the table only.` : nothing}
      </p>`;
  }

  #table(paths: readonly LoadPath[]) {
    const rows = paths.flatMap((path) => path.points.map((point) => ({ path, point })));
    const shown = thinned(rows, ROWS_MAX).toReversed();
    const left = rows.length - shown.length;
    return html`<details>
      <summary>The same as a table</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Table of the 1× over time">
        <table>
          <caption>
            Newest first; times in
            ${this.clock.zone}${left > 0 ? say`; ${left} windows between these are left out` : ''}
          </caption>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Clamped</th>
              <th scope="col" class="number">Speed</th>
              <th scope="col" class="number">1×, ${unitOf('mm/s')} RMS</th>
              <th scope="col" class="number">Phase</th>
            </tr>
          </thead>
          <tbody>
            ${shown.map(
              ({ path, point }) =>
                html`<tr>
                  <td>${moment(point.at, this.clock)}</td>
                  <td>${nameOf(path)}</td>
                  <td class="number">${speed(point.speedRpm)}</td>
                  <td class="number">${amount(point.velocityMmS, 'mm/s')}</td>
                  <td class="number">${point.phaseDeg === undefined ? MISSING : degrees(point.phaseDeg)}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'one-times-path': OneTimesPath;
  }
}
