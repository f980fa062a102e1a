// Raw vibration of a spindle: what its windows say in words, their pictures, how they changed over days, and asking for one now.
import { css, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { OneWave, WaveRow, WavesView } from '../../shared/wave-views.ts';
import type { Api } from '../api.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { numberOf } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { askWhileRead, stillReadLine } from '../still-read.ts';
import { MILLISECONDS_A_DAY } from '../time-spans.ts';
import type { PlantClock } from '../wording/instants.ts';
import './ask-window.ts';
import './shown-window.ts';
import { WindowPickedEvent } from './wave-history.ts';
import './windows-over-time.ts';
import { windowsTable } from './windows-table.ts';

const LISTED = 200;
/** What is listed reaches back so far from the newest. */
const LISTED_MS = MILLISECONDS_A_DAY;
/** More are chosen from a list: buttons would stand over the picture they are for. */
const CHANNEL_BUTTONS_MAX = 8;

/** What the page's address says: `window` and `channel` are chosen here, the rest further in. */
@customElement('vibration-windows')
export class VibrationWindows extends ChoosingElement {
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
  readonly #waves = new PageData<WavesView>(this, () =>
    this.api.waves(this.#id, { ...this.#listed, limit: LISTED, chosen: 'newest' }),
  );
  readonly #older = new PageData<OneWave>(this, () => this.api.wave(this.#chosenId ?? 0));
  #listed = { from: 0, to: 1 };

  get #id(): string {
    return this.spindle.row.spindleId;
  }

  get #newestId(): number {
    return this.spindle.windows?.waveId ?? 0;
  }

  get #chosenId(): number | undefined {
    return numberOf(this.choices['window']);
  }

  override willUpdate(changed: PropertyValues): void {
    if (this.spindle.windows === undefined) return;
    const { at } = this.spindle.windows;
    // One beyond, so that the newest is in it; a clock that runs ahead of the plant's does not matter.
    this.#listed = { from: Math.max(0, at - LISTED_MS), to: Math.max(at, this.clock.now) + 1 };
    this.#waves.want(`${this.#id} ${this.#newestId}`, changed.get('spindle') !== undefined);
    askWhileRead(this.#waves);
    const row = this.#row;
    if (this.#chosenId !== undefined && row === undefined) this.#older.want(`${this.#chosenId}`);
  }

  /** As listed, by name. */
  get #channels(): readonly string[] {
    return [...new Set((this.#waves.value?.waves ?? []).map(({ channel }) => channel))].sort();
  }

  /** Chosen here; else the one that readings are made of, else that of the newest window. */
  get #channel(): string | undefined {
    const channels = this.#channels;
    const wanted = [this.choices['channel'], this.spindle.declared?.measuredChannel, this.spindle.windows?.channel];
    return wanted.find((channel) => channel !== undefined && channels.includes(channel)) ?? channels[0];
  }

  get #listedWaves(): readonly WaveRow[] {
    const channel = this.#channel;
    return (this.#waves.value?.waves ?? []).filter((wave) => wave.channel === channel);
  }

  /** Chosen, and older than what is listed. */
  get #olderRow(): OneWave | undefined {
    const older = this.#older.value;
    return older !== undefined && older.waveId === this.#chosenId && older.spindleId === this.#id ? older : undefined;
  }

  /** Said of an address that names one that is not there, or one of another spindle. */
  get #isMissing(): boolean {
    return this.#chosenId !== undefined && this.#row === undefined && this.#older.state.kind !== 'loading';
  }

  get #row(): WaveRow | undefined {
    const waves = this.#listedWaves;
    const chosen = this.#chosenId;
    if (chosen === undefined) return waves.find(({ kept }) => kept) ?? waves[0];
    return waves.find(({ waveId }) => waveId === chosen) ?? this.#olderRow;
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
      what: say`the vibration windows`,
      absent: html`<p class="soft">None is on record.</p>`,
    });
    return html`<ask-window
        .api=${this.api}
        .spindle=${this.spindle}
        .clock=${this.clock}
        .mayAsk=${this.mayAsk}
        @counterpoise-asked=${() => this.choose({ window: undefined })}
      ></ask-window>
      ${instead ?? this.#shown()}`;
  }

  /** Each measures in another direction or at another place: they are never mixed. */
  #channelChoice() {
    const channels = this.#channels;
    if (channels.length < 2) return nothing;
    const chosen = this.#channel;
    if (channels.length > CHANNEL_BUTTONS_MAX)
      return html`<label class="not-printed"
        >Channel
        <select @change=${({ target }: Event) => this.#chooseChannel((target as HTMLSelectElement).value)}>
          ${channels.map((channel) => html`<option value=${channel} ?selected=${channel === chosen}>${channel}</option>`)}
        </select>
      </label>`;
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
    this.choose({ channel, window: undefined });
  }

  #shown() {
    const waves = this.#listedWaves;
    const still = stillReadLine(this.#waves.value);
    if (waves.length === 0) return still === nothing ? html`<p class="soft">None is on record.</p>` : still;
    const row = this.#row;
    if (this.#isMissing)
      return html`${still}
        <p>Window ${this.#chosenId} is not on record of this spindle.</p>
        <p class="not-printed">
          <button @click=${() => this.choose({ window: undefined })}>Back to the newest</button>
        </p>`;
    return html`${still} ${this.#channelChoice()}
      <div class="columns" @counterpoise-window=${this.#onPicked}>
        <div>
          <shown-window
            .api=${this.api}
            .spindle=${this.spindle}
            .row=${row}
            .clock=${this.clock}
            .live=${this.live}
            .newest=${this.#chosenId === undefined}
            .choices=${this.choices}
            @counterpoise-newest=${() => this.choose({ window: undefined })}
          ></shown-window>
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
            .choices=${this.choices}
          ></windows-over-time>
        </div>
      </div>
      ${windowsTable({
        waves,
        more: this.#waves.value?.more ?? false,
        shownId: row?.waveId,
        clock: this.clock,
        api: this.api,
        onShow: (waveId) => this.choose({ window: String(waveId) }),
      })}`;
  }

  readonly #onPicked = (event: Event): void => {
    if (event instanceof WindowPickedEvent) this.choose({ window: String(event.waveId) });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'vibration-windows': VibrationWindows;
  }
}
