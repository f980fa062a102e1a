// Raw vibration of a spindle: what its windows say in words, their pictures, how they changed over days, and asking for one now.
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Bearing } from '../../shared/bearing.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { WaveRow, WavesView } from '../../shared/wave-views.ts';
import { whyNot, type Api, type WaveSamples } from '../api.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { age, moment, type PlantClock } from '../wording/instants.ts';
import { answerTo } from './spectra-work.ts';
import './wave-findings.ts';
import type { WindowAnalysis } from './wave-findings.ts';
import { WindowPickedEvent } from './wave-history.ts';
import './window-pictures.ts';
import './windows-over-time.ts';
import { windowsTable } from './windows-table.ts';

const LISTED = 200;
const NO_BEARINGS: readonly Bearing[] = [];

interface Shown {
  readonly row: WaveRow;
  readonly samples: WaveSamples;
}

@customElement('vibration-windows')
export class VibrationWindows extends LitElement {
  static override styles = [
    look,
    tables,
    presses,
    markLook,
    css`
      .columns {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 34rem), 1fr));
        gap: 1.5rem 2.5rem;
        align-items: start;
      }
      .columns > div {
        min-width: 0;
      }
      .ask {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: center;
        margin-bottom: 0.75rem;
      }
      .ask p {
        margin: 0;
      }
      h3 {
        margin: 0.75rem 0 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) spindle!: SpindleView;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ type: Boolean }) live = false;
  /** Whether whoever looks may ask a sensor. */
  @property({ type: Boolean }) mayAsk = false;
  @state() private chosenId: number | undefined;
  /** The newest window when one was asked for here, or why it could not be asked. */
  @state() private asked: { readonly newestId: number; readonly at: number } | undefined;
  @state() private refused: string | undefined;
  @state() private analysedHere: { readonly waveId: number; readonly analysis: WindowAnalysis } | undefined;
  readonly #waves = new PageData<WavesView>(this, () => this.api.waves(this.#id, LISTED));
  readonly #older = new PageData<WaveRow>(this, () => this.api.wave(this.chosenId ?? 0));
  readonly #samples = new PageData<WaveSamples>(this, () => this.api.waveSamples(this.#samplesOf));
  #samplesOf = 0;
  #shownId = '';

  get #id(): string {
    return this.spindle.row.spindleId;
  }

  get #newestId(): number {
    return this.spindle.windows?.waveId ?? 0;
  }

  override willUpdate(changed: PropertyValues): void {
    if (this.#id !== this.#shownId) {
      this.#shownId = this.#id;
      this.chosenId = undefined;
      this.asked = undefined;
      this.refused = undefined;
    }
    if (this.spindle.windows === undefined) return;
    this.#waves.want(`${this.#id} ${this.#newestId}`, changed.get('spindle') !== undefined);
    const row = this.#row;
    if (this.chosenId !== undefined && row === undefined) this.#older.want(`${this.chosenId}`);
    if (row?.kept !== true) return;
    this.#samplesOf = row.waveId;
    this.#samples.want(`${row.waveId}`);
    const samples = this.#samples.value;
    if (samples?.waveId === row.waveId) void this.#analyseHere({ row, samples });
  }

  get #row(): WaveRow | undefined {
    const waves = this.#waves.value?.waves ?? [];
    if (this.chosenId === undefined) return waves.find(({ kept }) => kept) ?? waves[0];
    const older = this.#older.value;
    return (
      waves.find(({ waveId }) => waveId === this.chosenId) ?? (older?.waveId === this.chosenId ? older : undefined)
    );
  }

  /** What was skipped or failed in the service is done in the page while its samples are there. */
  async #analyseHere({ row, samples }: Shown): Promise<void> {
    if (row.analysis !== undefined || this.analysedHere?.waveId === row.waveId) return;
    const { bearings, velocityBandHz, envelopeBandHz } = this.spindle.declared ?? {};
    const speedRpm = row.state === 'waiting' ? undefined : this.spindle.row.programmedSpeedRpm;
    try {
      const { analysis } = await answerTo({
        kind: 'analysis',
        window: {
          accelerationMS2: samples.accelerationMS2,
          sampleRateHz: samples.sampleRateHz,
          ...(speedRpm === undefined ? {} : { speedRpm }),
        },
        settings: {
          ...(bearings === undefined ? {} : { bearings }),
          ...(velocityBandHz === undefined ? {} : { velocityBandHz }),
          ...(envelopeBandHz === undefined ? {} : { envelopeBandHz }),
        },
      });
      this.analysedHere = { waveId: row.waveId, analysis };
    } catch {
      // The pictures are drawn all the same; the list says why the service could make nothing of it.
    }
  }

  override render() {
    const { windows } = this.spindle;
    return html`<section aria-labelledby="windows">
      <h2 id="windows">Vibration windows</h2>
      ${windows === undefined ? this.#none() : this.#body()}
    </section>`;
  }

  #none(): TemplateResult {
    return html`<p class="soft">
      No raw vibration has come from this spindle’s sensor: one that can send it publishes each window on its topic
      <span class="fixed">wave</span>.
    </p>`;
  }

  #body() {
    const instead = insteadOf(this.#waves.state, {
      what: 'the vibration windows',
      absent: html`<p class="soft">None is on record.</p>`,
    });
    return html`${this.#ask()} ${instead ?? this.#shown()}`;
  }

  #ask() {
    const told = this.#askedWords();
    return html`<div class="ask">
      ${this.mayAsk ? html`<button class="not-printed" @click=${this.#onAsk}>Ask for a window now</button>` : nothing}
      <p role="status">${told}</p>
      ${this.refused === undefined ? nothing : html`<p role="alert">${this.refused}</p>`}
    </div>`;
  }

  #askedWords() {
    const { windows } = this.spindle;
    if (windows === undefined) return nothing;
    if (windows.asked !== undefined)
      return html`Asked by ${windows.asked.by} ${age(windows.asked.at, this.clock)} ago; it has not come yet.`;
    if (this.asked === undefined)
      return html`<span class="soft">The last came ${age(windows.at, this.clock)} ago.</span>`;
    return windows.waveId > this.asked.newestId
      ? html`The window that was asked for has come: measured ${moment(windows.at, this.clock)}.`
      : html`Asked just now; it has not come yet.`;
  }

  readonly #onAsk = async (): Promise<void> => {
    this.refused = undefined;
    const answer = await this.api.askWave(this.#id);
    if (answer.kind === 'answer') {
      this.asked = { newestId: this.#newestId, at: this.clock.now };
      this.chosenId = undefined;
    } else this.refused = whyNot(answer);
  };

  #shown() {
    const waves = this.#waves.value?.waves ?? [];
    if (waves.length === 0) return html`<p class="soft">None is on record.</p>`;
    const row = this.#row;
    return html`<div class="columns" @counterpoise-window=${this.#onPicked}>
        <div>
          ${row === undefined ? html`<p class="soft" role="status">Fetching the window …</p>` : this.#window(row)}
        </div>
        <div>
          <h3>Over time</h3>
          <windows-over-time
            .api=${this.api}
            .spindle=${this.spindle}
            .waves=${waves}
            .clock=${this.clock}
            .live=${this.live}
            .picked=${row?.waveId}
          ></windows-over-time>
        </div>
      </div>
      ${windowsTable({
        waves,
        more: this.#waves.value?.more ?? false,
        shownId: row?.waveId,
        clock: this.clock,
        api: this.api,
        onShow: (waveId) => (this.chosenId = waveId),
      })}`;
  }

  #window(row: WaveRow) {
    const here = this.analysedHere?.waveId === row.waveId ? this.analysedHere.analysis : undefined;
    const analysis = row.analysis ?? here;
    return html`<h3>
        ${this.chosenId === undefined ? 'The newest window' : 'The window chosen'}: ${moment(row.at, this.clock)},
        ${row.device}, ${row.channel}
      </h3>
      ${this.chosenId === undefined ? nothing : html`<p class="not-printed"><button @click=${() => (this.chosenId = undefined)}>Back to the newest</button></p>`}
      ${row.analysis === undefined && here !== undefined ? html`<p class="soft">Not analysed by the service: what follows was reckoned in this page, at the speed programmed now.</p>` : nothing}
      ${analysis === undefined ? nothing : html`<wave-findings .analysis=${analysis}></wave-findings>`}
      ${this.#pictures(row, analysis)}`;
  }

  #pictures(row: WaveRow, analysis: WindowAnalysis | undefined) {
    if (!row.kept)
      return html`<p class="soft">
        Its samples were dropped to keep within the room for windows. What was made of them stays; there is no picture.
      </p>`;
    const samples = this.#samples.value;
    const instead = insteadOf(this.#samples.state, {
      what: 'its samples',
      absent: html`<p class="soft">Its samples are no longer kept. What was made of them stays.</p>`,
    });
    if (instead !== undefined || samples?.waveId !== row.waveId)
      return instead ?? html`<p class="soft" role="status">Fetching its samples …</p>`;
    return html`<window-pictures
      .samples=${samples.accelerationMS2}
      .sampleRateHz=${samples.sampleRateHz}
      .speedRpm=${analysis?.speedRpm}
      .teeth=${analysis?.toothPassing?.teeth}
      .bearings=${this.spindle.declared?.bearings ?? NO_BEARINGS}
      .analysis=${analysis}
    ></window-pictures>`;
  }

  readonly #onPicked = (event: Event): void => {
    if (event instanceof WindowPickedEvent) this.chosenId = event.waveId;
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'vibration-windows': VibrationWindows;
  }
}
