// The polar picture: each measurement's vector, before joined to after, its disk of error, and the circle of what is permissible.
import { LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import type { Predicted } from '../../shared/advice.ts';
import type { MeasurementView } from '../../shared/assembly-views.ts';
import type { CorrectionFeature } from '../../shared/messages/index.ts';
import { pointAt, ringPath, ringValues } from '../drawing/polar.ts';
import { look } from '../look.ts';
import { amount, degrees, figure, shownTicks, type ShownTick, unbalance, vector } from '../wording/figures.ts';
import { FORETOLD_WORDS } from '../wording/advice-words.ts';
import type { PlantClock } from '../wording/instants.ts';
import { featureTracks, TRACKS_MAX } from './feature-track.ts';
import { roseKey } from './rose-key.ts';
import { roseLook } from './rose-look.ts';
import {
  atSpeed,
  boxBeside,
  readingsOf,
  roseScale,
  spotOf,
  withRoomFor,
  type Polar,
  type Reading,
  type RoseScale,
} from './rose-shape.ts';
import { TRACK_PX, trackMarks } from './track-marks.ts';
import { say } from '../../shared/language/index.ts';
import { shownUnit } from '../wording/units.ts';

const SPOKES_DEG = [0, 45, 90, 135, 180, 225, 270, 315] as const;
/** More vectors than these hide each other; the table has them all. */
const DRAWN_MAX = 10;
const OUTWARD_SHARE = 0.84;
const LARGE = { radius: 160, margin: 50 } as const;
/** Room for two short lines, and for a digit, at the size that they are written in. */
const OFF_THE_PAPER_PX = { width: 86, height: 30 } as const;
const FIGURE_PX = 7.5;
const SMALL = { radius: 100, margin: 44 } as const;

@customElement('residual-rose')
export class ResidualRose extends LitElement {
  static override styles = [look, roseLook];

  /** Of one build, oldest first. */
  @property({ attribute: false }) measurements: readonly MeasurementView[] = [];
  @property({ attribute: false }) clock!: PlantClock;
  /** The name of one plane; undefined for the whole. */
  @property({ attribute: false }) plane: string | undefined;
  @property({ attribute: false }) serviceSpeedRpm: number | undefined;
  /** At which speed the permissible circle is drawn. */
  @property({ attribute: false }) speedRpm: number | undefined;
  @property({ attribute: false }) features: readonly CorrectionFeature[] = [];
  @property({ attribute: false }) predicted: Predicted | undefined;
  @property({ type: Boolean }) own = false;
  @property({ type: Boolean, reflect: true }) small = false;
  @property({ attribute: false }) keyless = false;

  #shown: readonly Reading[] = [];
  /** What may be kept at service speed: the paper is chosen for it. */
  #atService: number | undefined;

  override willUpdate(_changed: PropertyValues<this>): void {
    const readings = readingsOf(this.measurements, this.plane);
    this.#atService = readings.at(-1)?.permissibleGmm;
    this.#shown = readings.map((reading) => atSpeed(reading, this.serviceSpeedRpm, this.speedRpm));
  }

  override render() {
    const newest = this.#shown.at(-1);
    if (newest === undefined) return html`<p class="soft">This build has not been measured yet.</p>`;
    const drawn = this.#shown.slice(-DRAWN_MAX);
    const { radius, margin } = this.small ? SMALL : LARGE;
    const scale = withRoomFor(
      roseScale(
        drawn.map(({ gmm }) => gmm),
        this.#atService,
        radius,
      ),
      newest.permissibleGmm,
    );
    const tracks = featureTracks(this.features, this.plane);
    const edge = radius + tracks.slice(0, TRACKS_MAX).length * TRACK_PX;
    const half = edge + margin;
    return html`<svg viewBox=${`${-half} ${-half} ${2 * half} ${2 * half}`} role="img" aria-label=${this.#told(newest)}>
        <pattern id="hatch" class="hatch" width="6" height="6" patternUnits="userSpaceOnUse">
          <path d="M0 6 L6 0" />
        </pattern>
        <pattern id="dense" class="dense" width="4" height="4" patternUnits="userSpaceOnUse">
          <path d="M0 4 L4 0" />
        </pattern>
        ${this.#paper(scale, edge)} ${this.#permissible(newest, scale)} ${trackMarks(tracks, radius)}
        ${this.#ringWords(newest, scale)} ${this.#way(drawn, scale)}
        ${drawn.map((reading) => this.#vector(reading, scale, drawn))} ${this.#own(newest, scale)}
        ${this.#predicted(newest, scale)} ${drawn.slice(-2).map((reading) => this.#named(reading, scale, drawn))}
      </svg>
      ${this.keyless ? nothing : this.#key(newest, tracks.length)}`;
  }

  #key(newest: Reading, tracks: number) {
    return roseKey({
      newest,
      clock: this.clock,
      before: this.#shown.length - 1,
      notDrawn: Math.max(0, this.#shown.length - DRAWN_MAX),
      speedRpm: this.speedRpm ?? this.serviceSpeedRpm,
      tracks,
      own: this.own,
      predicted: this.predicted !== undefined,
    });
  }

  #told(newest: Reading): string {
    const what = this.plane === undefined ? say`the whole` : say`plane ${this.plane}`;
    const after =
      this.predicted === undefined
        ? ''
        : say`; predicted after correction: ${vector(this.predicted.residualGmm, this.predicted.angleDeg)}, ${FORETOLD_WORDS[this.predicted.verdict]}`;
    return say`Polar picture of ${what}: ${this.#shown.length} measurements of this build; the newest: ${vector(newest.gmm, newest.angleDeg)}, permissible ${unbalance(newest.permissibleGmm)}${after}`;
  }

  #paper(scale: RoseScale, edge: number) {
    const spokes = SPOKES_DEG.map((angleDeg) => {
      const end = pointAt(scale.radiusPx, angleDeg);
      const word = pointAt(edge + (angleDeg % 180 === 0 ? 14 : 22), angleDeg);
      const text = angleDeg === 0 ? say`mark 0°` : degrees(angleDeg);
      const line = svg`<line class="paper" x1="0" y1="0" x2=${end.x} y2=${end.y} />`;
      return angleDeg % 90 === 0
        ? svg`${line}<text x=${word.x} y=${word.y + 4} text-anchor="middle">${text}</text>`
        : line;
    });
    const rings = ringsOn(scale).map(({ value }) => {
      return svg`<circle class="paper" r=${(value / scale.maxGmm) * scale.radiusPx} />`;
    });
    return [...spokes, ...rings, svg`<circle class="edge" r=${scale.radiusPx} />`];
  }

  /** In the half that the newest vector does not point into: its own number stands there. */
  #ringWords(newest: Reading, scale: RoseScale) {
    const up = spotOf(newest, scale).y > 0;
    const { permissibleGmm = -Infinity, errorGmm } = newest;
    const clear = ringsOn(scale).filter(({ value }) => Math.abs(value - permissibleGmm) > errorGmm * 1.2);
    return clear.map(({ value, word }) => {
      const radius = (value / scale.maxGmm) * scale.radiusPx;
      return svg`<text x="3" y=${up ? 13 - radius : radius - 3}>${shownUnit('g.mm').converted ? word : figure(value)}</text>`;
    });
  }

  #permissible({ permissibleGmm, errorGmm }: Reading, scale: RoseScale) {
    if (permissibleGmm === undefined) return nothing;
    const perGmm = scale.radiusPx / scale.maxGmm;
    const inner = Math.max(0, permissibleGmm - errorGmm) * perGmm;
    const outer = Math.min(scale.maxGmm, permissibleGmm + errorGmm) * perGmm;
    return svg`<path d=${ringPath(inner, outer)} fill="url(#hatch)" />
      <path class="edge" d=${ringPath(inner, outer)} />
      <circle class="permissible" r=${Math.min(permissibleGmm, scale.maxGmm) * perGmm} />`;
  }

  #way(drawn: readonly Reading[], scale: RoseScale) {
    if (drawn.length < 2) return nothing;
    const spots = drawn.map((reading) => spotOf(reading, scale));
    return svg`<path class="path" d=${`M${spots.map(({ x, y }) => `${x} ${y}`).join('L')}`} />`;
  }

  #vector(reading: Reading, scale: RoseScale, drawn: readonly Reading[]) {
    const newest = reading === drawn.at(-1);
    const spot = spotOf(reading, scale);
    const name = `${newest ? 'newest' : ''} ${reading.inDoubt === undefined ? '' : 'doubt'}`;
    return svg`<line class=${`vector ${name}`} x1="0" y1="0" x2=${spot.x} y2=${spot.y} />
      ${newest && !spot.beyond ? this.#disk(reading, spot, scale) : nothing}
      ${
        spot.beyond
          ? svg`<path class=${`end ${name}`} d="M-6 4 L0 -8 L6 4 Z" transform=${`translate(${spot.x} ${spot.y}) rotate(${-reading.angleDeg})`} />`
          : svg`<circle class=${`end ${name}`} cx=${spot.x} cy=${spot.y} r=${newest ? 4.5 : 3.5} />`
      }`;
  }

  /** Over all lines. Only the newest and the one before have their amount beside them: words do not lie on one another. */
  #named(reading: Reading, scale: RoseScale, drawn: readonly Reading[]) {
    const newest = reading === drawn.at(-1);
    if (!newest && this.predicted !== undefined) return nothing;
    return this.#amount(reading, spotOf(reading, scale), newest, scale);
  }

  #disk({ errorGmm }: Pick<Reading, 'errorGmm'>, spot: { x: number; y: number }, { maxGmm, radiusPx }: RoseScale) {
    return svg`<circle class="disk" cx=${spot.x} cy=${spot.y} r=${(errorGmm / maxGmm) * radiusPx} />`;
  }

  #amount({ gmm, errorGmm }: Reading, spot: ReturnType<typeof spotOf>, newest: boolean, scale: RoseScale) {
    const { radiusPx } = scale;
    const name = newest ? 'newest' : '';
    if (spot.beyond) {
      const { left, top, width, height } = boxBeside(spot, OFF_THE_PAPER_PX, radiusPx);
      const middle = left + width / 2;
      return svg`<rect class="behind" x=${left} y=${top} width=${width} height=${height} />
        <text class=${name} text-anchor="middle"
          ><tspan x=${middle} y=${top + 12}>${amount(gmm, 'g.mm')},</tspan><tspan x=${middle} dy="13">off the paper</tspan></text>`;
    }
    const off = newest ? Math.max(8, (errorGmm / scale.maxGmm) * radiusPx + 4) : 8;
    // Away from the centre, except near the edge, where the bands around the picture begin.
    const below = Math.hypot(spot.x, spot.y) < OUTWARD_SHARE * radiusPx ? spot.y > 0 : spot.y <= 0;
    const y = below ? spot.y + off + 11 : spot.y - off - 2;
    const width = amount(gmm, 'g.mm').length * FIGURE_PX + 4;
    return svg`<rect class="behind" x=${spot.x - width / 2} y=${y - 11} width=${width} height="14" />
      <text class=${name} x=${spot.x} y=${y} text-anchor="middle">${amount(gmm, 'g.mm')}</text>`;
  }

  #own({ own }: Reading, scale: RoseScale) {
    if (!this.own || own === undefined) return nothing;
    const { x, y } = spotOf(own, scale);
    return svg`<line class="path" x1="0" y1="0" x2=${x} y2=${y} />
      <rect class="own" x=${x - 4} y=${y - 4} width="8" height="8" />`;
  }

  #predicted(newest: Reading, scale: RoseScale) {
    if (this.predicted === undefined) return nothing;
    const after: Polar = { gmm: this.predicted.residualGmm, angleDeg: this.predicted.angleDeg };
    const [from, to] = [spotOf(newest, scale), spotOf(after, scale)];
    return svg`<line class="foretold way" x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y} />
      ${this.#disk(this.predicted, to, scale)}
      <path class="foretold" d=${`M${to.x - 6} ${to.y}h12M${to.x} ${to.y - 6}v12`} />`;
  }
}

/** Round in the unit that is read here. */
const ringsOn = ({ maxGmm }: RoseScale): ShownTick[] => shownTicks('g.mm', (shown) => ringValues(shown(maxGmm)));

declare global {
  interface HTMLElementTagNameMap {
    'residual-rose': ResidualRose;
  }
}
