// The waveform of a window: what the sensor measured, sample by sample, with tacho marks and where it was cut off.
import { nothing, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { numberLocale, say } from '../../shared/language/index.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { look, presses, tables } from '../look.ts';
import { COUNTED, count, figure, times, unitOf, whole } from '../wording/figures.ts';
import { sampleWords } from './amount-scale.ts';
import { markKey } from './lines-table.ts';
import './line-plot.ts';
import type { Plot, PlotMark } from './plot-drawing.ts';
import { plotLook } from './plot-look.ts';
import { inPlaces } from './vibration-words.ts';
import { railsOf, shapeStatistics, type Rail, type ShapeStatistics } from './shape-statistics.ts';
import { shownUnit } from '../wording/units.ts';

/** The first mark has its name; the others are lines of the same kind. */
const TACHO_NAMED = 1;

/** What the page's address says: `waveform-part` of the picture. */
@customElement('wave-shape')
export class WaveShape extends ChoosingElement {
  static override styles = [look, tables, presses, plotLook];

  /** m/s². */
  @property({ attribute: false }) samples!: Float64Array;
  @property({ type: Number }) sampleRateHz = 0;
  /** Seconds from the first sample. */
  @property({ attribute: false }) tachoS: readonly number[] = [];
  @property({ attribute: false }) fullScaleMS2: number | undefined;
  @property({ attribute: false }) analysis: Omit<WaveAnalysis, 'levels'> | undefined;
  /** Whether the samples are in m/s²: else what is told are bare values. */
  @property({ attribute: false }) scaled = true;
  #statistics: ShapeStatistics | undefined;
  #rails: readonly Rail[] = [];
  #plot: Plot | undefined;

  override willUpdate(changed: PropertyValues): void {
    if (changed.has('samples')) {
      this.#statistics = shapeStatistics(this.samples);
      this.#rails = railsOf(this.samples);
    }
    if (['samples', 'sampleRateHz', 'tachoS', 'fullScaleMS2', 'scaled'].some((name) => changed.has(name)))
      this.#plot = this.#drawn();
  }

  #drawn(): Plot {
    const { samples, sampleRateHz, fullScaleMS2, scaled } = this;
    // A file without a unit has none to convert.
    const { of, converted } = shownUnit(scaled ? 'm/s2' : COUNTED);
    const rails = this.#rails.map(({ at, samples: many }) => ({
      at: of(at),
      word: say`cut off here: ${count(many, 'sample', 'samples')}`,
    }));
    const ends = fullScaleMS2 === undefined || rails.length > 0 ? [] : [fullScaleMS2, -fullScaleMS2];
    return {
      row: { values: converted ? samples.map(of) : samples, first: 0, step: 1 / sampleRateHz },
      kind: 'about-zero',
      name: say`Waveform of the acceleration`,
      xWord: say`Time from the first sample, s`,
      yWord: scaled ? say`acceleration, ${unitOf('m/s2')}` : say`value in the file, no unit`,
      marks: this.tachoS.map((at, index): PlotMark => ({
        at,
        from: at,
        to: at,
        word: index < TACHO_NAMED ? say`tacho` : '',
        shape: 'tacho',
        speaks: false,
      })),
      levels: [...rails, ...ends.map((at) => ({ at: of(at), word: say`end of the range` }))],
      told: (index) =>
        say`${inPlaces(index / sampleRateHz, 5, false)} s, sample ${whole(index)}: ${sampleWords(samples[index], scaled)}.`,
    };
  }

  override render() {
    if (this.#plot === undefined || this.#statistics === undefined) return nothing;
    return html`<line-plot .plot=${this.#plot} .choices=${this.choices} part-name="waveform-part"></line-plot>
      ${markKey(this.#plot.marks)} ${this.#table(this.#statistics)}`;
  }

  #table(own: ShapeStatistics) {
    const { analysis } = this;
    const amount = (value: number): string => sampleWords(value, this.scaled);
    const rows: readonly (readonly [string, string])[] = [
      [say`Length`, `${figure(this.samples.length / this.sampleRateHz)} s`],
      [say`Samples`, whole(this.samples.length)],
      [say`Sample rate`, `${this.sampleRateHz.toLocaleString(numberLocale())} Hz`],
      [say`Mean`, amount(own.offset)],
      [say`RMS about the mean`, amount(analysis?.accelerationRmsMS2 ?? own.rms)],
      [say`Peak about the mean`, amount(analysis?.accelerationPeakMS2 ?? own.peak)],
      [say`Crest factor, peak to RMS`, times(analysis?.crestFactor ?? own.crestFactor)],
      [say`Kurtosis, 3 for plain noise`, figure(analysis?.kurtosis ?? own.kurtosis)],
      [say`Tacho marks`, this.tachoS.length === 0 ? say`none` : String(this.tachoS.length)],
      ...this.#rails.map(
        ({ at, samples }) => [say`Cut off at ${amount(at)}`, count(samples, 'sample', 'samples')] as const,
      ),
    ];
    return html`<details>
      <summary>The same in figures</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Figures of the waveform">
        <table>
          <tbody>
            ${rows.map(
              ([what, value]) =>
                html`<tr>
                  <th scope="row">${what}</th>
                  <td class="number">${value}</td>
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
    'wave-shape': WaveShape;
  }
}
