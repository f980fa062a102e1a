// A recording of a hand-held instrument, read and analysed in the browser: what it says in words, tables and pictures.
import { nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import { ADVISORY, VIBRATION_IS_NO_VERDICT, WHERE_IT_TURNS } from '../../shared/cautions.ts';
import { faultWords } from '../../shared/recorded-file/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import { markLook } from '../drawing/standing-mark.ts';
import type { ChoiceChanges } from '../choices.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { Page } from '../page.ts';
import '../vibration/window-pictures.ts';
import { count, figure } from '../wording/figures.ts';
import { askedOf, NOTHING_ENTERED, type Entered, type FieldFault } from './entered.ts';
import { RecordingAskedEvent, SpindleTakenEvent } from './recording-form.ts';
import { recordingLook } from './recording-look.ts';
import type { RecordingRead } from './recording-reading.ts';
import { RecordingRun } from './recording-run.ts';
import { aboutPart, bearingsPart, cannotPart, healthPart, levelsPart, ordersPart } from './recording-told.ts';

const NO_BEARINGS: readonly Bearing[] = [];

const PARTS_AT_FIRST: ChoiceChanges = {
  'spectrum-part': undefined,
  'envelope-part': undefined,
  'waveform-part': undefined,
  band: undefined,
  family: undefined,
};

@customElement('recording-page')
export class RecordingPage extends Page {
  static override styles = [look, tables, presses, markLook, recordingLook];

  @state() private file: File | undefined;
  @state() private entered: Entered = NOTHING_ENTERED;
  @state() private faults: readonly FieldFault[] = [];
  @state() private spindleId: string | undefined;
  /** The window whose pictures are shown; undefined: the one in the middle. */
  @state() private windowShown: number | undefined;
  readonly #spindle = new PageData<SpindleView>(this, () => this.api.spindle(this.spindleId ?? ''));
  readonly #run = new RecordingRun(this);
  /** Whose bearings and bands the analysis on screen rests on. */
  #rests: SpindleView['declared'];
  #window: { readonly samples: Float64Array; readonly of: Float64Array; readonly from: number } | undefined;

  override willUpdate(): void {
    if (this.spindleId !== undefined) this.#spindle.want(this.spindleId);
  }

  protected override updated(changed: PropertyValues<this>): void {
    super.updated(changed);
    // What is declared of a spindle may come after the file: what is on screen is then reckoned anew.
    if (this.file !== undefined && this.#declared !== this.#rests) this.#ask(this.#channel);
  }

  get #channel(): number {
    const { state } = this.#run;
    return state.kind === 'answered' && state.answer.kind === 'read' ? state.answer.channel : 0;
  }

  override render() {
    return html`<h1>Recording</h1>
      <p class="question not-printed">What does a recording of a hand-held instrument say?</p>
      <recording-form
        .spindleIds=${[...(this.picture?.spindles.keys() ?? [])]}
        .spindleId=${this.spindleId}
        .taken=${this.#takenWords()}
        .faults=${this.faults}
        @counterpoise-recording-asked=${this.#onAsked}
        @counterpoise-spindle-taken=${this.#onTaken}
      ></recording-form>
      <div role="status">${this.#working()}</div>
      ${this.#result()}`;
  }

  get #declared() {
    return this.spindleId === undefined ? undefined : this.#spindle.value?.declared;
  }

  #takenWords(): string {
    if (this.spindleId === undefined) return '';
    if (this.#spindle.state.kind === 'loading') return say`Fetching what is declared of ${this.spindleId} …`;
    if (this.#spindle.state.kind !== 'ready') return say`What is declared of ${this.spindleId} could not be fetched.`;
    const bearings = this.#declared?.bearings ?? [];
    return bearings.length === 0
      ? say`${this.spindleId}: no bearing is declared.`
      : `${this.spindleId}: ${bearings.map(({ name }) => name).join(', ')}.`;
  }

  readonly #onTaken = (event: Event): void => {
    if (event instanceof SpindleTakenEvent) this.spindleId = event.spindleId;
  };

  readonly #onAsked = (event: Event): void => {
    if (!(event instanceof RecordingAskedEvent)) return;
    // Another file has parts of its own.
    if (event.file !== this.file) this.choose(PARTS_AT_FIRST);
    this.file = event.file;
    this.entered = event.entered;
    this.#ask(0);
  };

  #ask(channel: number): void {
    if (this.file === undefined) return;
    const declared = this.#declared;
    this.#rests = declared;
    const asked = askedOf(this.entered, declared?.bearings);
    this.faults = asked.kind === 'faults' ? asked.faults : [];
    if (asked.kind === 'faults') return;
    const { velocityBandHz, envelopeBandHz } = declared ?? {};
    const settings = {
      ...(velocityBandHz === undefined ? {} : { velocityBandHz }),
      ...(envelopeBandHz === undefined ? {} : { envelopeBandHz }),
      ...asked.question.settings,
    };
    this.windowShown = undefined;
    this.#run.ask({ file: this.file, choices: asked.choices, question: { ...asked.question, settings }, channel });
  }

  #working() {
    const { state } = this.#run;
    if (state.kind !== 'working') return nothing;
    return html`<p class="soft">
      Reading and analysing ${this.file?.name} …${state.of > 1 ? html` window ${state.done} of ${state.of}` : nothing}
    </p>`;
  }

  #result() {
    const { state } = this.#run;
    switch (state.kind) {
      case 'nothing':
      case 'working':
        return nothing;
      case 'failed':
        return html`<p role="alert">${this.file?.name} could not be analysed. ${state.why}</p>`;
      case 'answered':
        return state.answer.kind === 'read' ? this.#read(state.answer) : this.#refused(state.answer);
    }
  }

  #refused({ faults, faultsMore }: { faults: readonly { words: string; line?: number }[]; faultsMore: number }) {
    return html`<div class="wrong" role="alert">
      <p>${this.file?.name} could not be read:</p>
      <ul>
        ${faults.map((fault) => html`<li>${faultWords(fault)}</li>`)}
        ${faultsMore === 0 ? nothing : html`<li>and ${count(faultsMore, 'line', 'lines')} more.</li>`}
      </ul>
    </div>`;
  }

  #read(read: RecordingRead): TemplateResult {
    const { analysis, question, remarks, format } = read;
    const { told } = analysis;
    return html`<p class="printed-name">
        ${this.file?.name},
        ${analysis.name}${this.spindleId === undefined ? nothing : html`; bearings and bands of ${this.spindleId}`}
      </p>
      ${this.#channels(read)} ${healthPart(analysis)}
      ${
        remarks.length === 0
          ? nothing
          : html`<ul>
              ${remarks.map((remark) => html`<li>${retell(remark)}</li>`)}
            </ul>`
      }
      ${
        told === undefined
          ? aboutPart(analysis, question, format)
          : html`<div class="tables">
                ${levelsPart(analysis, told)} ${ordersPart(analysis, told)} ${aboutPart(analysis, question, format)}
                ${cannotPart(analysis, question)}
              </div>
              ${bearingsPart(analysis, told)}`
      }
      ${this.#pictures(read)}
      <section class="cautions">
        <h2>Cautions</h2>
        <ul>
          ${[ADVISORY, VIBRATION_IS_NO_VERDICT, WHERE_IT_TURNS].map((caution) => html`<li>${caution}</li>`)}
        </ul>
      </section>
      <p class="not-printed"><button @click=${() => window.print()}>Print, A4</button></p>`;
  }

  #channels({ channels, channel }: RecordingRead) {
    if (channels.length === 1) return nothing;
    return html`<div class="choices not-printed" role="group" aria-label="Channel">
      ${channels.map(
        (name, i) =>
          html`<button aria-pressed=${i === channel ? 'true' : 'false'} @click=${() => this.#ask(i)}>${name}</button>`,
      )}
    </div>`;
  }

  #pictures(read: RecordingRead) {
    const { analysis, question, samples } = read;
    const { windows, told } = analysis;
    const at = this.windowShown ?? told?.middle ?? 0;
    const window = windows[at];
    if (window === undefined) return nothing;
    if (this.#window?.of !== samples || this.#window.from !== window.from)
      this.#window = { of: samples, from: window.from, samples: samples.subarray(window.from, window.to) };
    const { teeth, bearings } = question.settings;
    return html`<section aria-labelledby="pictures">
      <h2 id="pictures">
        Pictures${windows.length === 1 ? nothing : html` of window ${at + 1}, from ${figure(window.fromS)} to ${figure(window.toS)} s`}
      </h2>
      ${
        analysis.scaled
          ? nothing
          : html`<p>The file carries no unit: the pictures show shares, multiples and the bare values of the file.</p>`
      }
      ${windows.length === 1 ? nothing : this.#windowChoice(analysis.windows.length, at, told)}
      <window-pictures
        .samples=${this.#window.samples}
        .sampleRateHz=${analysis.sampleRateHz}
        .speedRpm=${window.analysis.speedRpm}
        .teeth=${teeth}
        .bearings=${bearings ?? NO_BEARINGS}
        .fullScaleMS2=${read.fullScaleMS2}
        .analysis=${window.analysis}
        .scaled=${analysis.scaled}
        .choices=${this.choices}
      ></window-pictures>
    </section>`;
  }

  #windowChoice(windows: number, at: number, told: RecordingRead['analysis']['told']) {
    const choice = (words: string, to: number | undefined) =>
      html`<button
        ?disabled=${to === undefined || to < 0 || to >= windows}
        aria-pressed=${to === at ? 'true' : 'false'}
        @click=${() => (this.windowShown = to)}
      >
        ${words}
      </button>`;
    return html`<div class="choices not-printed" role="group" aria-label="Window shown">
      ${choice(say`in the middle`, told?.middle)} ${choice(say`with the greatest velocity`, told?.greatest)}
      <button ?disabled=${at === 0} @click=${() => (this.windowShown = at - 1)}>the one before</button>
      <button ?disabled=${at === windows - 1} @click=${() => (this.windowShown = at + 1)}>the next</button>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'recording-page': RecordingPage;
  }
}
