// One raw window of a spindle: what it says in words, and its pictures. Until the next one is there whole, the one before stays.
import { css, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { WaveRow } from '../../shared/wave-views.ts';
import type { Api, WaveSamples } from '../api.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { look, presses } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { answerTo } from './spectra-work.ts';
import './wave-findings.ts';
import type { WindowAnalysis } from './wave-findings.ts';
import { NO_MESSAGE, waveMessage, windowOf, type WaveMessage } from './wave-message.ts';
import './window-pictures.ts';

const NO_BEARINGS: readonly Bearing[] = [];

/** A window with all that its pictures take. */
interface Whole {
  readonly row: WaveRow;
  readonly samples: WaveSamples;
  readonly told: WaveMessage;
}

/** What the page's address says of the pictures. */
@customElement('shown-window')
export class ShownWindow extends ChoosingElement {
  static override styles = [
    look,
    presses,
    css`
      h3 {
        margin: 0.75rem 0 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) spindle!: SpindleView;
  /** The one to show; undefined while it is fetched. */
  @property({ attribute: false }) row: WaveRow | undefined;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ type: Boolean }) live = false;
  /** Whether the newest is followed, rather than one that somebody chose. */
  @property({ type: Boolean }) newest = true;
  @state() private analysedHere: { readonly waveId: number; readonly analysis: WindowAnalysis } | undefined;
  readonly #samples = new PageData<WaveSamples>(this, () => this.api.waveSamples(this.#wantedId));
  readonly #message = new PageData<WaveMessage>(this, async () => {
    const answer = await this.api.journalEntry(this.#wantedId);
    return answer.kind === 'answer' ? { kind: 'answer', value: waveMessage(answer.value) } : answer;
  });
  #wantedId = 0;
  #whole: Whole | undefined;
  #analysing = 0;

  override willUpdate(): void {
    const { row } = this;
    if (this.#whole?.row.device !== row?.device && row !== undefined) this.#whole = undefined;
    if (row?.kept !== true) return;
    this.#wantedId = row.waveId;
    this.#samples.want(`${row.waveId}`);
    this.#message.want(`${row.waveId}`);
    const samples = this.#samples.value;
    if (samples?.waveId !== row.waveId || this.#message.state.kind === 'loading') return;
    this.#whole = { row, samples, told: this.#message.value ?? NO_MESSAGE };
    if (row.analysis === undefined && this.#analysing !== row.waveId) void this.#analyse(this.#whole);
  }

  /** What was skipped or failed in the service is done in the page while its samples are there. */
  async #analyse({ row, samples, told }: Whole): Promise<void> {
    this.#analysing = row.waveId;
    const { bearings, velocityBandHz, envelopeBandHz } = this.spindle.declared ?? {};
    try {
      const { analysis } = await answerTo({
        kind: 'analysis',
        window: windowOf(told, samples, this.spindle.row.programmedSpeedRpm),
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
    const { row } = this;
    const loading = this.#samples.state.kind === 'loading' || this.#message.state.kind === 'loading';
    const fetching = row === undefined || (row.kept && loading && this.#whole?.row.waveId !== row.waveId);
    const shown = fetching ? (this.#whole?.row ?? row) : row;
    if (shown === undefined) return html`<p class="soft" role="status">Fetching the window …</p>`;
    const here = this.analysedHere?.waveId === shown.waveId ? this.analysedHere.analysis : undefined;
    const analysis = shown.analysis ?? here;
    return html`${this.#head(shown)}
    ${
      shown.analysis === undefined && here !== undefined
        ? html`<p class="soft">
            Not analysed by the service: what follows was reckoned in this page, at the speed that its message tells or,
            where it tells none, at the one programmed now.
          </p>`
        : nothing
    }
    ${analysis === undefined ? nothing : html`<wave-findings .analysis=${analysis} .fromService=${shown.analysis !== undefined}></wave-findings>`}
    ${this.#pictures(shown, analysis)}`;
  }

  #head(shown: WaveRow) {
    return html`<h3>
        ${this.newest ? say`The newest window` : say`The window chosen`}: ${moment(shown.at, this.clock)},
        ${shown.device}, ${shown.channel}${shown.asked !== undefined ? say`, asked for` : nothing}
      </h3>
      ${
        this.newest
          ? nothing
          : html`<p class="not-printed">
              <button @click=${() => this.dispatchEvent(new Event('counterpoise-newest'))}>Back to the newest</button>
            </p>`
      }`;
  }

  #pictures(shown: WaveRow, analysis: WindowAnalysis | undefined) {
    if (!shown.kept)
      return html`<p class="soft">
        Its samples were dropped to keep within the room for windows. What was made of them stays; there is no picture.
      </p>`;
    const whole = this.#whole;
    if (whole?.row.waveId !== shown.waveId)
      return (
        insteadOf(this.#samples.state, {
          what: say`its samples`,
          absent: html`<p class="soft">Its samples are no longer kept. What was made of them stays.</p>`,
        }) ?? html`<p class="soft" role="status">Fetching its samples …</p>`
      );
    return html`<window-pictures
      .samples=${whole.samples.accelerationMS2}
      .sampleRateHz=${whole.samples.sampleRateHz}
      .speedRpm=${analysis?.speedRpm}
      .teeth=${analysis?.toothPassing?.teeth}
      .tachoS=${whole.told.tachoS}
      .fullScaleMS2=${whole.told.fullScaleMS2}
      .bearings=${this.spindle.declared?.bearings ?? NO_BEARINGS}
      .analysis=${analysis}
      .choices=${this.choices}
    ></window-pictures>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'shown-window': ShownWindow;
  }
}
