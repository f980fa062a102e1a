// Raw vibration of a spindle: what its windows say in words, their pictures, how they changed over days, and asking for one now.
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Bearing } from '../../shared/bearing.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { WaveRow, WavesView } from '../../shared/wave-views.ts';
import type { Api, WaveSamples } from '../api.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { MILLISECONDS_A_DAY } from '../time-spans.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import './ask-window.ts';
import { answerTo } from './spectra-work.ts';
import './wave-findings.ts';
import type { WindowAnalysis } from './wave-findings.ts';
import { WindowPickedEvent } from './wave-history.ts';
import './window-pictures.ts';
import './windows-over-time.ts';
import { NO_MESSAGE, waveMessage, windowOf, type WaveMessage } from './wave-message.ts';
import { windowsTable } from './windows-table.ts';

const LISTED = 200;
/** What is listed reaches back so far from the newest. */
const LISTED_MS = MILLISECONDS_A_DAY;
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
      h3 {
        margin: 0.75rem 0 0.5rem;
      }
      td {
        vertical-align: middle;
      }
      @media print {
        td button {
          border: 0;
          padding: 0;
          min-height: 0;
          min-width: 0;
        }
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
  @state() private chosenChannel: string | undefined;
  @state() private analysedHere: { readonly waveId: number; readonly analysis: WindowAnalysis } | undefined;
  readonly #waves = new PageData<WavesView>(this, () => this.api.waves(this.#id, { ...this.#listed, limit: LISTED }));
  readonly #older = new PageData<WaveRow>(this, () => this.api.wave(this.chosenId ?? 0));
  readonly #samples = new PageData<WaveSamples>(this, () => this.api.waveSamples(this.#samplesOf));
  readonly #message = new PageData<WaveMessage>(this, async () => {
    const answer = await this.api.journalEntry(this.#samplesOf);
    return answer.kind === 'answer' ? { kind: 'answer', value: waveMessage(answer.value) } : answer;
  });
  #listed = { from: 0, to: 1 };
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
      this.chosenChannel = undefined;
    }
    if (this.spindle.windows === undefined) return;
    const { at } = this.spindle.windows;
    // One beyond, so that the newest is in it; a clock that runs ahead of the plant's does not matter.
    this.#listed = { from: Math.max(0, at - LISTED_MS), to: Math.max(at, this.clock.now) + 1 };
    this.#waves.want(`${this.#id} ${this.#newestId}`, changed.get('spindle') !== undefined);
    const row = this.#row;
    if (this.chosenId !== undefined && row === undefined) this.#older.want(`${this.chosenId}`);
    if (row?.kept !== true) return;
    this.#samplesOf = row.waveId;
    this.#samples.want(`${row.waveId}`);
    this.#message.want(`${row.waveId}`);
    const samples = this.#samples.value;
    if (samples?.waveId === row.waveId && this.#message.state.kind !== 'loading')
      void this.#analyseHere({ row, samples });
  }

  /** As listed, by name. */
  get #channels(): readonly string[] {
    return [...new Set((this.#waves.value?.waves ?? []).map(({ channel }) => channel))].sort();
  }

  /** Chosen here; else the one that readings are made of, else that of the newest window. */
  get #channel(): string | undefined {
    const channels = this.#channels;
    const wanted = [this.chosenChannel, this.spindle.declared?.measuredChannel, this.spindle.windows?.channel];
    return wanted.find((channel) => channel !== undefined && channels.includes(channel)) ?? channels[0];
  }

  get #listedWaves(): readonly WaveRow[] {
    const channel = this.#channel;
    return (this.#waves.value?.waves ?? []).filter((wave) => wave.channel === channel);
  }

  get #row(): WaveRow | undefined {
    const waves = this.#listedWaves;
    if (this.chosenId === undefined) return waves.find(({ kept }) => kept) ?? waves[0];
    const older = this.#older.value;
    return (
      waves.find(({ waveId }) => waveId === this.chosenId) ?? (older?.waveId === this.chosenId ? older : undefined)
    );
  }

  /** Of the window shown; nothing while it is fetched. */
  get #told(): WaveMessage {
    return this.#message.value ?? NO_MESSAGE;
  }

  /** What was skipped or failed in the service is done in the page while its samples are there. */
  async #analyseHere({ row, samples }: Shown): Promise<void> {
    if (row.analysis !== undefined || this.analysedHere?.waveId === row.waveId) return;
    const { bearings, velocityBandHz, envelopeBandHz } = this.spindle.declared ?? {};
    try {
      const { analysis } = await answerTo({
        kind: 'analysis',
        window: windowOf(this.#told, samples, this.spindle.row.programmedSpeedRpm),
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
    return html`<ask-window
        .api=${this.api}
        .spindle=${this.spindle}
        .clock=${this.clock}
        .mayAsk=${this.mayAsk}
        @counterpoise-asked=${() => (this.chosenId = undefined)}
      ></ask-window>
      ${instead ?? this.#shown()}`;
  }

  /** Each measures in another direction or at another place: they are never mixed. */
  #channelChoice() {
    const channels = this.#channels;
    if (channels.length < 2) return nothing;
    const chosen = this.#channel;
    return html`<div class="choices not-printed" role="group" aria-label="Channel">
      ${channels.map(
        (channel) =>
          html`<button
            aria-pressed=${channel === chosen ? 'true' : 'false'}
            @click=${() => this.#chooseChannel(channel)}
          >
            ${channel}
          </button>`,
      )}
    </div>`;
  }

  #chooseChannel(channel: string): void {
    this.chosenChannel = channel;
    this.chosenId = undefined;
  }

  #shown() {
    const waves = this.#listedWaves;
    if (waves.length === 0) return html`<p class="soft">None is on record.</p>`;
    const row = this.#row;
    return html`${this.#channelChoice()}
      <div class="columns" @counterpoise-window=${this.#onPicked}>
        <div>
          ${row === undefined ? html`<p class="soft" role="status">Fetching the window …</p>` : this.#window(row)}
        </div>
        <div>
          <h3>Over time</h3>
          <windows-over-time
            .api=${this.api}
            .spindle=${this.spindle}
            .channel=${this.#channel}
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
        ${row.device}, ${row.channel}${this.#told.asked === undefined ? nothing : ', asked for'}
      </h3>
      ${this.chosenId === undefined ? nothing : html`<p class="not-printed"><button @click=${() => (this.chosenId = undefined)}>Back to the newest</button></p>`}
      ${row.analysis === undefined && here !== undefined ? html`<p class="soft">Not analysed by the service: what follows was reckoned in this page, at the speed that its message tells or, where it tells none, at the one programmed now.</p>` : nothing}
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
      .tachoS=${this.#told.tachoS}
      .fullScaleMS2=${this.#told.fullScaleMS2}
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
