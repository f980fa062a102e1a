// How a spindle's windows changed: their spectra over days, or the 1× as a path.
import { nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import type { SpectrogramView, WavesView } from '../../shared/wave-views.ts';
import type { Api } from '../api.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { chosenOf, instantText, PICTURES_OVER_TIME, stretchOf, type Part } from '../choices.ts';
import { look, presses } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf } from '../page.ts';
import { askWhileRead, stillReadLine } from '../still-read.ts';
import { MILLISECONDS_A_MINUTE, SPAN_MS, SPAN_WORDS, type Span } from '../time-spans.ts';
import type { PlantClock } from '../wording/instants.ts';
import './one-times-path.ts';
import { HistoryStretchEvent } from './wave-history.ts';

/** As many columns as a wide screen shows apart. */
const COLUMNS = 400;
/** As many points as a path shows apart, of all channels. */
const WINDOWS = 500;
const SPANS_SHOWN = ['1h', '24h', '7d', '90d'] as const satisfies readonly Span[];
const SPAN_AT_FIRST: Span = '7d';
/** Closer than this there is no more than one window. */
const STRETCH_LEAST_MS = 10 * MILLISECONDS_A_MINUTE;

/** What the page's address says: what begins with `over` is chosen here, the path's own further in. */
@customElement('windows-over-time')
export class WindowsOverTime extends ChoosingElement {
  static override styles = [look, presses];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) spindle!: SpindleView;
  /** Which of the sensor's channels; windows of different ones are never mixed. */
  @property({ attribute: false }) channel: string | undefined;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ type: Boolean }) live = false;
  /** The window whose pictures are shown. */
  @property({ attribute: false }) picked: number | undefined;
  /** As long as there have been windows of this spindle; undefined until that was looked for. */
  @state() private settled: Span | undefined;
  readonly #history = new PageData<SpectrogramView>(this, () =>
    this.api.spectrogram(this.#id, {
      ...this.#asked,
      columns: COLUMNS,
      ...(this.channel === undefined ? {} : { channel: this.channel }),
    }),
  );
  readonly #waves = new PageData<WavesView>(this, () =>
    this.api.waves(this.#id, { ...this.#asked, limit: WINDOWS, chosen: 'evenly' }),
  );
  #asked = { from: 0, to: 1 };
  #shownId = '';

  get #id(): string {
    return this.spindle.row.spindleId;
  }

  get #picture(): (typeof PICTURES_OVER_TIME)[number] {
    return chosenOf(this.choices['over'], PICTURES_OVER_TIME) ?? PICTURES_OVER_TIME[0];
  }

  get #span(): Span {
    return chosenOf(this.choices['over-span'], SPANS_SHOWN) ?? this.settled ?? SPAN_AT_FIRST;
  }

  get #stretch(): Part | undefined {
    return stretchOf(this.choices, 'over-from', 'over-to');
  }

  override willUpdate(): void {
    const another = this.#id !== this.#shownId;
    this.#shownId = this.#id;
    if (another) this.settled = undefined;
    else this.#settleSpan();
    const { now } = this.clock;
    const stretch = this.#stretch;
    this.#asked = stretch ?? { from: now - SPAN_MS[this.#span], to: now };
    const part = stretch === undefined ? this.#span : `${stretch.from} ${stretch.to}`;
    const key = `${this.#id} ${this.spindle.windows?.waveId ?? 0} ${part}`;
    if (this.#picture === 'spectra') this.#history.want(`${key} ${this.channel ?? ''}`, !another);
    else this.#waves.want(key, !another);
    askWhileRead(this.#picture === 'spectra' ? this.#history : this.#waves);
  }

  /** Of a sensor that is new, what it has sent: not a week of hatching. */
  #settleSpan(): void {
    const view = this.#history.value;
    const first = view?.columns[0]?.at;
    if (this.choices['over-span'] !== undefined || this.#stretch !== undefined) return;
    if (this.settled !== undefined || view === undefined || first === undefined) return;
    if (this.#history.state.kind === 'loading') return;
    this.settled = SPANS_SHOWN.find((span) => view.to - first <= SPAN_MS[span]) ?? SPAN_AT_FIRST;
  }

  override render() {
    const picture = this.#picture;
    return html`<div class="choices not-printed" role="group" aria-label="Picture over time">
        <button
          aria-pressed=${picture === 'spectra' ? 'true' : 'false'}
          @click=${() => this.choose({ over: undefined })}
        >
          spectra
        </button>
        <button aria-pressed=${picture === 'path' ? 'true' : 'false'} @click=${() => this.choose({ over: 'path' })}>
          1× as a path
        </button>
      </div>
      ${this.#spans()} ${picture === 'spectra' ? this.#levels() : this.#path()}`;
  }

  #path() {
    const view = this.#waves.value;
    if (view === undefined)
      return insteadOf(this.#waves.state, {
        what: say`the windows over time`,
        absent: html`<p class="soft">None is on record.</p>`,
      });
    return html`${stillReadLine(view)}<one-times-path
        .waves=${view.waves.filter(({ channel }) => channel === this.channel)}
        .loads=${this.spindle.loads}
        .clock=${this.clock}
        .picked=${this.picked}
        .choices=${this.choices}
      ></one-times-path>`;
  }

  #spans() {
    return html`<div class="choices not-printed" role="group" aria-label="Time shown">
      ${SPANS_SHOWN.map(
        (span) =>
          html`<button
            aria-pressed=${this.#stretch === undefined && span === this.#span ? 'true' : 'false'}
            @click=${() => this.#showSpan(span)}
          >
            ${SPAN_WORDS[span]}
          </button>`,
      )}
    </div>`;
  }

  #levels() {
    const view = this.#history.value;
    if (view === undefined)
      return insteadOf(this.#history.state, {
        what: say`the spectra over time`,
        absent: html`<p class="soft">None is on record.</p>`,
      });
    const still = stillReadLine(view);
    if (view.columns.length === 0)
      return still === nothing ? html`<p class="soft">No window was analysed in this time.</p>` : still;
    return html`${still}<wave-history
        .view=${view}
        .loads=${this.spindle.loads}
        .clock=${this.clock}
        .picked=${this.picked}
        @counterpoise-history=${this.#onStretch}
      ></wave-history>`;
  }

  #showSpan(span: Span): void {
    this.choose({ 'over-span': span, 'over-from': undefined, 'over-to': undefined });
  }

  readonly #onStretch = (event: Event): void => {
    if (!(event instanceof HistoryStretchEvent) || event.to - event.from < STRETCH_LEAST_MS) return;
    const { now } = this.clock;
    const from = Math.max(event.from, now - SPAN_MS['90d']);
    this.choose({ 'over-from': instantText(from), 'over-to': instantText(Math.min(event.to, now)) });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'windows-over-time': WindowsOverTime;
  }
}
