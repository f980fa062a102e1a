// Choosing a file, by dropping it or by its name, and telling what does not stand in it.
import { LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { BEARING_LINE_FORM, COLUMN_UNITS, FILE_BYTES_MAX } from '../../shared/recorded-file/index.ts';
import { look, presses, tables } from '../look.ts';
import { NOTHING_ENTERED, SCALE_UNITS, type Entered, type FieldFault, type FieldName } from './entered.ts';
import { recordingLook } from './recording-look.ts';

const MIB = 1024 * 1024;

/** What is to be analysed: told when a file was chosen and when the form was sent. */
export class RecordingAskedEvent extends Event {
  readonly file: File;
  readonly entered: Entered;

  constructor(file: File, entered: Entered) {
    super('counterpoise-recording-asked', { bubbles: true, composed: true });
    this.file = file;
    this.entered = entered;
  }
}

export class SpindleTakenEvent extends Event {
  readonly spindleId: string | undefined;

  constructor(spindleId: string | undefined) {
    super('counterpoise-spindle-taken', { bubbles: true, composed: true });
    this.spindleId = spindleId;
  }
}

@customElement('recording-form')
export class RecordingForm extends LitElement {
  static override styles = [look, presses, tables, recordingLook];

  /** Of the plant, whose bearings and bands may be taken. */
  @property({ attribute: false }) spindleIds: readonly string[] = [];
  @property({ attribute: false }) spindleId: string | undefined;
  @property({ attribute: false }) taken = '';
  @property({ attribute: false }) faults: readonly FieldFault[] = [];
  @state() private entered: Entered = NOTHING_ENTERED;
  @state() private file: File | undefined;
  /** Dropped beside the one that was taken. */
  @state() private othersLeft = 0;
  @state() private over = false;

  override render() {
    return html`<form class="not-printed" novalidate @submit=${this.#onSubmit}>
      <div
        class="drop ${this.over ? 'over' : ''}"
        @dragover=${this.#onOver}
        @dragleave=${() => (this.over = false)}
        @drop=${this.#onDrop}
      >
        <label for="file">Drop a recording here, or choose one</label>
        <input
          id="file"
          type="file"
          accept=".csv,.tsv,.txt,.wav,text/csv,text/plain,audio/wav"
          @change=${this.#onChosen}
        />
        <p class="soft">
          ${this.file === undefined ? html`A table as text (CSV) or a WAV file, up to ${FILE_BYTES_MAX / MIB} MiB.` : html`Chosen: <b>${this.file.name}</b>.`}
          ${this.othersLeft === 0 ? nothing : html`One at a time: the others that were dropped were left.`} It is read
          and analysed in this browser; nothing of it is sent anywhere.
        </p>
      </div>
      <div class="fields">
        ${this.#text('speed', say`Speed of the shaft, rpm`)} ${this.#text('teeth', say`Teeth of the cutter`)}
        ${this.#scale()} ${this.#spindle()}
      </div>
      ${this.#bearings()} ${this.#reading()} ${this.#wrong()}
      <p><button class="first" ?disabled=${this.file === undefined}>Analyse</button></p>
    </form>`;
  }

  #text(field: FieldName, label: string) {
    const wrong = this.faults.some((fault) => fault.field === field);
    return html`<div>
      <label for=${field}>${label}</label>
      <input
        id=${field}
        name=${field}
        inputmode="decimal"
        autocomplete="off"
        aria-invalid=${wrong ? 'true' : nothing}
        .value=${this.entered[field]}
        @input=${(event: InputEvent) => this.#put({ [field]: (event.target as HTMLInputElement).value })}
      />
    </div>`;
  }

  #put(change: Partial<Entered>): void {
    this.entered = { ...this.entered, ...change };
  }

  #choose(field: 'scaleUnit' | 'unit' | 'decimalMark', label: string, options: readonly (readonly [string, string])[]) {
    return html`<select
      id=${field}
      aria-label=${label}
      @change=${(event: Event) => this.#put({ [field]: (event.target as HTMLSelectElement).value })}
    >
      ${options.map(([value, words]) => html`<option value=${value} ?selected=${value === this.entered[field]}>${words}</option>`)}
    </select>`;
  }

  #scale() {
    return html`<div>
      <label for="scale">Full scale of a WAV file</label>
      <div class="two">
        <input
          id="scale"
          inputmode="decimal"
          autocomplete="off"
          .value=${this.entered.scale}
          @input=${(event: InputEvent) => this.#put({ scale: (event.target as HTMLInputElement).value })}
        />
        ${this.#choose(
          'scaleUnit',
          say`Unit of the full scale`,
          SCALE_UNITS.map((unit) => [unit, unit === 'g' ? 'g' : 'm/s²'] as const),
        )}
      </div>
    </div>`;
  }

  #spindle() {
    return html`<div>
      <label for="spindle">Bearings and bands of</label>
      <select
        id="spindle"
        @change=${(event: Event) => {
          const { value } = event.target as HTMLSelectElement;
          this.dispatchEvent(new SpindleTakenEvent(value === '' ? undefined : value));
        }}
      >
        <option value="">no spindle of the plant</option>
        ${this.spindleIds.map((id) => html`<option value=${id} ?selected=${id === this.spindleId}>${id}</option>`)}
      </select>
      ${this.taken === '' ? nothing : html`<p class="hint">${this.taken}</p>`}
    </div>`;
  }

  #bearings() {
    return html`<details>
      <summary>Bearings and bands by hand</summary>
      <div class="fields">
        <div class="wide">
          <label for="bearings">Bearings, one in each line</label>
          <textarea
            id="bearings"
            rows="3"
            spellcheck="false"
            .value=${this.entered.bearings}
            @input=${(event: InputEvent) => this.#put({ bearings: (event.target as HTMLTextAreaElement).value })}
          ></textarea>
          <p class="hint">Each is ${BEARING_LINE_FORM}, as the bearing’s maker says.</p>
        </div>
        ${this.#text('bandFrom', say`Overall velocity from, Hz`)} ${this.#text('bandTo', say`Overall velocity to, Hz`)}
        ${this.#text('envelopeFrom', say`Envelope from, Hz`)} ${this.#text('envelopeTo', say`Envelope to, Hz`)}
      </div>
    </details>`;
  }

  #reading() {
    return html`<details>
      <summary>How the file is to be read</summary>
      <div class="fields">
        <div>
          <label for="unit">Unit of acceleration in a table</label>
          ${this.#choose('unit', say`Unit of acceleration in a table`, [['', say`as its head says`], ...COLUMN_UNITS.map((unit) => [unit, unit.replace('s2', 's²')] as const)])}
        </div>
        ${this.#text('sensitivity', say`Sensitivity of the sensor, mV per g`)}
        ${this.#text('rate', say`Sample rate, Hz`)}
        <div>
          <label for="decimalMark">Decimal mark</label>
          ${this.#choose('decimalMark', say`Decimal mark`, [
            ['', say`found by itself`],
            ['point', say`point`],
            ['comma', say`comma`],
          ])}
        </div>
      </div>
      <p class="hint">
        What is told here goes before what the file says. A table names its columns and units in a line over its
        numbers: time [s]; front X [g].
      </p>
    </details>`;
  }

  #wrong() {
    if (this.faults.length === 0) return nothing;
    return html`<div class="wrong" role="alert">
      <ul>
        ${this.faults.map(({ words }) => html`<li>${words}</li>`)}
      </ul>
    </div>`;
  }

  readonly #onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    this.#ask();
  };

  #ask(): void {
    if (this.file !== undefined) this.dispatchEvent(new RecordingAskedEvent(this.file, this.entered));
  }

  readonly #onChosen = (event: Event): void => this.#take((event.target as HTMLInputElement).files);

  readonly #onOver = (event: DragEvent): void => {
    event.preventDefault();
    this.over = true;
  };

  readonly #onDrop = (event: DragEvent): void => {
    event.preventDefault();
    this.over = false;
    this.#take(event.dataTransfer?.files ?? null);
  };

  #take(files: FileList | null): void {
    const file = files?.[0];
    if (file === undefined) return;
    this.file = file;
    this.othersLeft = (files?.length ?? 1) - 1;
    this.#ask();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'recording-form': RecordingForm;
  }
}
