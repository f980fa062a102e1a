// The amplitude spectrum of a window: which line is how strong, and what it may come from.
import { css, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import { decibels, VIBRATION_QUANTITIES, type Spectrum, type VibrationQuantity } from '../../shared/vibration/index.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { chosenOf, numberOf, SPECTRUM_LINES } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { whole, withUnit } from '../wording/figures.ts';
import '../saving/save-picture.ts';
import { spectrumScale, type LevelScale } from './amount-scale.ts';
import { frequencyMarks, speedOf, type FrequencyMark } from './frequency-marks.ts';
import { linesTable, markKey, plotMarks } from './lines-table.ts';
import './line-plot.ts';
import type { Plot } from './plot-drawing.ts';
import { plotLook } from './plot-look.ts';
import type { Row } from './plot-shape.ts';
import { answerTo } from './spectra-work.ts';
import { medianOf, standsOut, strongestLines } from './strongest-lines.ts';
import { hertz, lineWords, QUANTITY_WORDS } from './vibration-words.ts';

/** Below this, integrating acceleration shows the sensor's drift and not the machine: 10 Hz is where ISO 20816-1 begins as a rule. */
const LOWEST_HZ = 10;
const LINES_LISTED = 12;
/** What is shown first: the band of the overall velocity, and whatever has a name. */
const OPENING_HZ = 1000;
const ROOM_BEYOND = 1.15;
const LINES_CHOICE = [undefined, ...SPECTRUM_LINES];
const QUANTITY_AT_FIRST: VibrationQuantity = 'velocity';

/** What the page's address says: `quantity`, `scale`, `lines`, and `spectrum-part` of the picture. */
@customElement('wave-spectrum')
export class WaveSpectrum extends ChoosingElement {
  static override styles = [
    look,
    tables,
    presses,
    plotLook,
    css`
      .choose {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1.5rem;
        align-items: center;
      }
      .choose label {
        display: inline-flex;
        align-items: center;
        gap: 0.5rem;
        font-weight: 400;
        max-width: 100%;
      }
      .choose select {
        width: auto;
        min-width: 0;
      }
    `,
  ];

  /** m/s². */
  @property({ attribute: false }) samples!: Float64Array;
  @property({ type: Number }) sampleRateHz = 0;
  @property({ attribute: false }) speedRpm: number | undefined;
  @property({ attribute: false }) teeth: number | undefined;
  @property({ attribute: false }) bearings: readonly Bearing[] = [];
  @property({ attribute: false }) analysis: Omit<WaveAnalysis, 'levels'> | undefined;
  /** Whether the samples are in m/s²: else what is told are shares and multiples. */
  @property({ attribute: false }) scaled = true;
  @state() private spectrum: Spectrum | undefined;
  @state() private fault: string | undefined;
  #marks: readonly FrequencyMark[] = [];
  #plot: Plot | undefined;
  #rms: Row | undefined;
  #scale: LevelScale | undefined;
  #asking = 0;
  #reckonedOf = '';
  #drawnOf = '';

  get #quantity(): VibrationQuantity {
    return chosenOf(this.choices['quantity'], VIBRATION_QUANTITIES) ?? QUANTITY_AT_FIRST;
  }

  get #inDecibels(): boolean {
    return this.choices['scale'] === 'decibels';
  }

  get #linesMax(): number | undefined {
    return numberOf(this.choices['lines']);
  }

  override willUpdate(changed: PropertyValues): void {
    const reckonedOf = `${this.#quantity} ${this.#linesMax ?? ''}`;
    if (changed.has('samples') || changed.has('sampleRateHz') || reckonedOf !== this.#reckonedOf) {
      this.#reckonedOf = reckonedOf;
      void this.#reckon();
    }
    if (['analysis', 'speedRpm', 'teeth', 'bearings'].some((name) => changed.has(name)))
      this.#marks = frequencyMarks(this);
    // A closer part is the same drawing: the row is long, and zooming must not wait for it.
    const drawnOf = `${this.#quantity} ${this.#inDecibels}`;
    if (drawnOf !== this.#drawnOf || [...changed.keys()].some((name) => name !== 'choices')) {
      this.#drawnOf = drawnOf;
      this.#plot = this.#drawn();
    }
  }

  async #reckon(): Promise<void> {
    const asking = ++this.#asking;
    const shaftHz = (speedOf(this) ?? Number.POSITIVE_INFINITY) / 60;
    const { samples, sampleRateHz } = this;
    const [quantity, linesMax] = [this.#quantity, this.#linesMax];
    try {
      const lowestHz = quantity === 'acceleration' ? 0 : Math.min(LOWEST_HZ, shaftHz / 2);
      const answered = await answerTo({ kind: 'spectrum', samples, sampleRateHz, quantity, lowestHz, linesMax });
      if (asking !== this.#asking) return;
      this.spectrum = answered.spectrum;
      this.fault = undefined;
    } catch (fault) {
      if (asking !== this.#asking) return;
      this.spectrum = undefined;
      this.fault = fault instanceof Error ? fault.message : String(fault);
    }
  }

  #drawn(): Plot | undefined {
    const { spectrum } = this;
    if (spectrum === undefined) return undefined;
    const quantity = this.#quantity;
    const scale = spectrumScale(spectrum, quantity, this.scaled);
    this.#scale = scale;
    // RMS of each line, as the overall values are RMS too.
    const values = spectrum.amplitude.map((value) => value / Math.SQRT2 / scale.per);
    const rms: Row = { values, first: 0, step: spectrum.stepHz };
    this.#rms = rms;
    const median = medianOf(values);
    const row = this.#inDecibels ? { ...rms, values: values.map((value) => levelOf(value, scale)) } : rms;
    return {
      row,
      kind: this.#inDecibels ? 'decibels' : 'rising',
      name: say`Spectrum of the ${QUANTITY_WORDS[quantity]}`,
      xWord: say`Frequency, Hz`,
      yWord: `${QUANTITY_WORDS[quantity]}, ${this.#inDecibels ? scale.decibelWord : scale.word}`,
      marks: plotMarks(this.#marks),
      levels: [],
      opening: { from: 0, to: Math.max(OPENING_HZ, ROOM_BEYOND * Math.max(0, ...this.#marks.map(({ toHz }) => toHz))) },
      told: (index) => this.#told(index, rms, { median, scale }),
    };
  }

  #told(index: number, rms: Row, { median, scale }: { readonly median: number; readonly scale: LevelScale }): string {
    const hz = index * rms.step;
    const value = rms.values[index] ?? 0;
    const level = this.#inDecibels ? `, ${withUnit(levelOf(value, scale), 'dB')}` : '';
    const { place, from } = lineWords(
      { hz, stepHz: rms.step, stands: standsOut(value, median) },
      this.#marks,
      this.#shaftHz,
    );
    return `${place}: ${scale.said(value)}${level}${from}.`;
  }

  get #shaftHz(): number | undefined {
    const speedRpm = speedOf(this);
    return speedRpm === undefined ? undefined : speedRpm / 60;
  }

  override render() {
    return html`${this.#choices()} ${this.#picture()}`;
  }

  #picture() {
    if (this.fault !== undefined) return html`<p role="alert">No spectrum: ${this.fault}</p>`;
    if (this.#plot === undefined || this.#rms === undefined || this.#scale === undefined || this.spectrum === undefined)
      return html`<p class="soft" role="status">Reckoning the spectrum …</p>`;
    const { stepHz, averages } = this.spectrum;
    return html`<line-plot .plot=${this.#plot} .choices=${this.choices} part-name="spectrum-part"></line-plot
      ><save-picture .name=${say`Spectrum, ${QUANTITY_WORDS[this.#quantity]}`}></save-picture>
      ${markKey(this.#plot.marks)}
      <p class="small soft">
        One line each ${hertz(stepHz, stepHz / 10)}, Hann
        window${averages > 1 ? html`, mean of ${averages} overlapping parts` : nothing}.
        ${this.#shaftHz === undefined ? say`The speed is not known, so no order and no bearing line is named.` : nothing}
      </p>
      ${linesTable({
        lines: strongestLines(this.#rms, this.#marks, this.#shaftHz, LINES_LISTED),
        stepHz,
        caption: say`Strongest first; a line counts from four times the median line on`,
        valueWord: `${capital(QUANTITY_WORDS[this.#quantity])}, ${this.#scale.word}`,
        listed: this.#scale.listed,
        name: say`Table of the strongest lines of the ${QUANTITY_WORDS[this.#quantity]}`,
      })}`;
  }

  #choices() {
    return html`<div class="choose not-printed">
      <div class="choices" role="group" aria-label="Quantity of the spectrum">
        ${VIBRATION_QUANTITIES.map(
          (quantity) =>
            html`<button
              aria-pressed=${quantity === this.#quantity ? 'true' : 'false'}
              @click=${() => this.choose({ quantity: quantity === QUANTITY_AT_FIRST ? undefined : quantity })}
            >
              ${QUANTITY_WORDS[quantity]}
            </button>`,
        )}
      </div>
      <div class="choices" role="group" aria-label="Scale of the spectrum">
        ${[false, true].map(
          (inDecibels) =>
            html`<button
              aria-pressed=${inDecibels === this.#inDecibels ? 'true' : 'false'}
              @click=${() => this.choose({ scale: inDecibels ? 'decibels' : undefined })}
            >
              ${inDecibels ? say`decibels` : say`linear`}
            </button>`,
        )}
      </div>
      <label
        >Lines
        <select @change=${this.#onLines}>
          ${LINES_CHOICE.filter((lines) => lines === undefined || 2 * lines < this.samples.length).map(
            (lines) =>
              html`<option value=${lines ?? ''} ?selected=${lines === this.#linesMax}>
                ${lines === undefined ? say`finest` : say`${whole(lines)}, mean of several parts`}
              </option>`,
          )}
        </select>
      </label>
    </div>`;
  }

  readonly #onLines = (event: Event): void => {
    const { value } = event.target as HTMLSelectElement;
    this.choose({ lines: value === '' ? undefined : value });
  };
}

function capital(word: string): string {
  return word.slice(0, 1).toUpperCase() + word.slice(1);
}

function levelOf(value: number, { least, reference }: LevelScale): number {
  return decibels(Math.max(value, least), reference);
}

declare global {
  interface HTMLElementTagNameMap {
    'wave-spectrum': WaveSpectrum;
  }
}
