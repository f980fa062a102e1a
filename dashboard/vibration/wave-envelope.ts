// The envelope spectrum of a window: how often something strikes, against where each part of a bearing would.
import { css, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { partOf, partText } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { figure } from '../wording/figures.ts';
import { envelopeScale, type AmountScale } from './amount-scale.ts';
import { envelopeRow } from './envelope-row.ts';
import { familyOf, frequencyMarks, PART_WORDS, speedOf, type FrequencyMark } from './frequency-marks.ts';
import { linesTable, markKey, plotMarks } from './lines-table.ts';
import './line-plot.ts';
import type { Plot } from './plot-drawing.ts';
import { plotLook } from './plot-look.ts';
import type { Row } from './plot-shape.ts';
import type { Envelope } from './spectra.ts';
import { answerTo } from './spectra-work.ts';
import { standsOut, strongestLines } from './strongest-lines.ts';
import { findingWords, lineWords } from './vibration-words.ts';
import { numberTyped } from '../wording/typed-number.ts';

const HARMONICS = 3;
const LINES_LISTED = 12;
/** What is shown first reaches beyond the highest harmonic with a name by this factor. */
const ROOM_BEYOND = 1.25;
/** And this many turns of the shaft where no bearing is known. */
const TURNS_SHOWN = 20;

/**
 * What the page's address says: `band` in Hz, undefined: as in the analysis, or found; `family`, whose harmonics are shown,
 * undefined: of what speaks; and `envelope-part` of the picture.
 */
@customElement('wave-envelope')
export class WaveEnvelope extends ChoosingElement {
  static override styles = [
    look,
    tables,
    presses,
    plotLook,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: end;
      }
      form label {
        font-size: var(--small);
      }
      form input {
        width: 8rem;
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
  @state() private envelope: Envelope | undefined;
  @state() private fault: string | undefined;
  @state() private refused: string | undefined;
  @query('#from') private readonly fromInput!: HTMLInputElement;
  @query('#to') private readonly toInput!: HTMLInputElement;
  #named: readonly FrequencyMark[] = [];
  #marks: readonly FrequencyMark[] = [];
  #plot: Plot | undefined;
  #scale: (AmountScale & { readonly floor: number }) | undefined;
  #asking = 0;
  #reckonedOf: string | undefined;
  #drawnOf: string | undefined;

  get #chosenHz(): readonly [number, number] | undefined {
    const part = partOf(this.choices['band']);
    return part === undefined ? undefined : [part.from, part.to];
  }

  get #family(): string | undefined {
    return this.choices['family'];
  }

  override willUpdate(changed: PropertyValues): void {
    const band = this.choices['band'];
    if (changed.has('samples') || changed.has('sampleRateHz') || band !== this.#reckonedOf) {
      this.#reckonedOf = band;
      void this.#reckon();
    }
    // A closer part is the same drawing.
    const family = this.#family;
    if (family === this.#drawnOf && [...changed.keys()].every((name) => name === 'choices')) return;
    this.#drawnOf = family;
    this.#named = frequencyMarks(this).filter(({ shape }) => shape !== 'teeth');
    this.#marks = this.#withFamily();
    this.#plot = this.#drawn();
  }

  async #reckon(): Promise<void> {
    const asking = ++this.#asking;
    const { samples, sampleRateHz } = this;
    const bandHz = this.#chosenHz ?? this.analysis?.envelope?.bandHz;
    try {
      const answered = await answerTo({ kind: 'envelope', samples, sampleRateHz, bandHz });
      if (asking !== this.#asking) return;
      this.envelope = answered.envelope;
      this.fault = undefined;
    } catch (fault) {
      if (asking !== this.#asking) return;
      this.envelope = undefined;
      this.fault = fault instanceof Error ? fault.message : String(fault);
    }
  }

  get #shaftHz(): number | undefined {
    const speedRpm = speedOf(this);
    return speedRpm === undefined ? undefined : speedRpm / 60;
  }

  get #parts(): readonly FrequencyMark[] {
    return this.#named.filter(({ shape }) => shape !== 'order');
  }

  #withFamily(): FrequencyMark[] {
    const shaftHz = this.#shaftHz;
    if (shaftHz === undefined) return [];
    const heads = this.#parts.filter(({ word, speaks }) =>
      this.#family === undefined ? speaks : word === this.#family,
    );
    return [...this.#named, ...heads.flatMap((head) => familyOf(head, this.#named, shaftHz, HARMONICS))];
  }

  #drawn(): Plot | undefined {
    if (this.envelope === undefined) return undefined;
    const { spectrum } = this.envelope;
    const { rms, floor: floorRms } = envelopeRow(this.envelope, this.#shaftHz);
    const scale = envelopeScale(floorRms, this.scaled);
    const floor = floorRms / scale.per;
    this.#scale = { ...scale, floor };
    const row: Row = { values: rms.map((value) => value / scale.per), first: 0, step: spectrum.stepHz };
    const highest = Math.max(
      TURNS_SHOWN * (this.#shaftHz ?? 0),
      HARMONICS * Math.max(0, ...this.#parts.map(({ toHz }) => toHz)),
    );
    return {
      row,
      kind: 'rising',
      name: say`Spectrum of the envelope`,
      xWord: say`Frequency of the envelope, Hz`,
      yWord: say`envelope, ${scale.word}`,
      marks: plotMarks(this.#marks),
      levels: [{ at: floor, word: say`floor` }],
      ...(highest > 0 ? { opening: { from: 0, to: highest * ROOM_BEYOND } } : {}),
      told: (index) => this.#told(index, row, { floor, scale }),
    };
  }

  #told(index: number, row: Row, { floor, scale }: { readonly floor: number; readonly scale: AmountScale }): string {
    const hz = index * row.step;
    const value = row.values[index] ?? 0;
    const { place, from } = lineWords(
      { hz, stepHz: row.step, stands: standsOut(value, floor) },
      this.#marks,
      this.#shaftHz,
    );
    return `${place}: ${scale.said(value)}${from}.`;
  }

  override render() {
    return html`${this.#findings()} ${this.#bandForm()} ${this.#families()} ${this.#picture()}`;
  }

  /** Words first: the table twin of what the analysis found. */
  #findings() {
    const findings = this.analysis?.bearings ?? [];
    if (findings.length > 0) {
      const sorted = findings.toSorted((a, b) => Number(b.speaks) - Number(a.speaks) || b.indicator - a.indicator);
      return html`${sorted.some(({ speaks }) => speaks) ? nothing : html`<p>No part of a declared bearing speaks in this window.</p>`}
        <details>
          <summary>Every part, in words</summary>
          <ul>
            ${sorted.map((finding) => html`<li>${findingWords(finding)}</li>`)}
          </ul>
        </details>`;
    }
    return this.#parts.length > 0
      ? nothing
      : html`<p class="soft">
          ${this.#shaftHz === undefined ? say`The speed is not known, so no part of a bearing can be named.` : say`No bearing is declared for this spindle, so no part of one can be named. The plant engineer declares them by geometry or by the maker’s multiples.`}
        </p>`;
  }

  #bandForm() {
    const band = this.envelope?.bandHz;
    const how =
      this.#chosenHz !== undefined
        ? say`chosen here`
        : this.analysis?.envelope?.band === 'given'
          ? say`as declared for this spindle`
          : say`found: where the signal is most impulsive`;
    return html`<form class="not-printed" @submit=${this.#onBand}>
        <div>
          <label for="from">Band from, Hz</label>
          <input id="from" inputmode="decimal" .value=${band === undefined ? '' : String(Math.round(band[0]))} />
        </div>
        <div>
          <label for="to">to, Hz</label>
          <input id="to" inputmode="decimal" .value=${band === undefined ? '' : String(Math.round(band[1]))} />
        </div>
        <button>Use this band</button>
        ${this.#chosenHz === undefined ? nothing : html`<button type="button" @click=${() => this.choose({ band: undefined })}>As before</button>`}
      </form>
      ${this.refused === undefined ? nothing : html`<p role="alert">${this.refused}</p>`}
      ${band === undefined ? nothing : html`<p class="small soft">Band ${figure(band[0])} to ${figure(band[1])} Hz, ${how}.</p>`}`;
  }

  #families() {
    const parts = this.#parts;
    if (parts.length === 0) return nothing;
    return html`<div class="choices not-printed" role="group" aria-label="Harmonics and sidebands of">
      <button
        aria-pressed=${this.#family === undefined ? 'true' : 'false'}
        @click=${() => this.choose({ family: undefined })}
      >
        what speaks
      </button>
      ${parts.map(
        ({ word, shape }) =>
          html`<button
            aria-pressed=${this.#family === word ? 'true' : 'false'}
            aria-label=${shape === 'order' || shape === 'teeth' ? say`harmonics of ${word}` : say`harmonics of ${word}, ${PART_WORDS[shape]}`}
            @click=${() => this.choose({ family: word })}
          >
            ${word}
          </button>`,
      )}
    </div>`;
  }

  #picture() {
    if (this.fault !== undefined) return html`<p role="alert">No envelope: ${this.fault}</p>`;
    if (this.#plot === undefined || this.#scale === undefined)
      return html`<p class="soft" role="status">Reckoning the envelope …</p>`;
    const { row } = this.#plot;
    return html`<line-plot .plot=${this.#plot} .choices=${this.choices} part-name="envelope-part"></line-plot>
      ${markKey(this.#plot.marks)}
      ${linesTable({
        lines: strongestLines(row, this.#marks, this.#shaftHz, LINES_LISTED, this.#scale.floor),
        stepHz: row.step,
        caption: say`Strongest first; a line counts from four times the floor on`,
        valueWord: say`Envelope, ${this.#scale.word}`,
        listed: this.#scale.listed,
        name: say`Table of the strongest lines of the envelope`,
      })}`;
  }

  readonly #onBand = (event: Event): void => {
    event.preventDefault();
    const [from, to] = [this.fromInput, this.toInput].map(({ value }) => numberTyped(value, { inThousands: true }));
    const highest = this.sampleRateHz / 2;
    if (from === undefined || to === undefined || !(from > 0 && to > from && to <= highest)) {
      this.refused = say`A band from above 0 up to ${figure(highest)} Hz is needed, the lower edge first.`;
      return;
    }
    this.refused = undefined;
    this.choose({ band: partText({ from, to }) });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'wave-envelope': WaveEnvelope;
  }
}
