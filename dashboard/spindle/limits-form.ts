// Limits are entered or imported: a file dropped, chosen or typed, what it would change shown first, declared by a second press.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { limitFaultWords } from '../../shared/limit-fault-words.ts';
import type { LimitsImported } from '../../shared/limits-import.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { count } from '../wording/figures.ts';
import { openedForm } from '../opened-form.ts';
import { csvOf } from './limits-csv.ts';
import type { LimitView } from './spindle-rows.ts';

const FILE_BYTES_MAX = 2_000_000;
/** Spindles and faults told of one file: more is read by nobody, and how many more there are is said. */
const TOLD_MAX = 100;

/** Limits were declared: what is shown of the spindle is old. */
export class LimitsDeclaredEvent extends Event {
  constructor() {
    super('counterpoise-limits-declared', { bubbles: true, composed: true });
  }
}

@customElement('limits-form')
export class LimitsForm extends LitElement {
  static override styles = [
    look,
    presses,
    openedForm,
    css`
      form {
        margin-top: 0.75rem;
      }
      textarea {
        width: 100%;
        min-height: 9rem;
        font-family: var(--font-fixed);
        font-size: var(--small);
        white-space: pre;
        overflow: auto;
      }
      form[dragging] textarea {
        outline: 3px dashed var(--ink);
      }
      .answers {
        margin-top: 0.75rem;
      }
      .wrong {
        font-weight: 600;
      }
      input[type='file'] {
        min-height: var(--target);
        max-width: 100%;
      }
      ul {
        padding-left: 1.25rem;
        margin: 0.25rem 0 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) spindleId = '';
  @property({ attribute: false }) limits: readonly LimitView[] = [];
  /** Undefined while it is closed. */
  @state() private text: string | undefined;
  /** What the service said of this very text. */
  @state() private said: LimitsImported | undefined;
  @state() private wrong: string | undefined;
  @state() private done = '';
  @state() private sending = false;
  #of = '';

  override willUpdate(): void {
    if (this.#of === this.spindleId) return;
    this.#of = this.spindleId;
    this.#close('');
  }

  override render() {
    if (this.text === undefined)
      return html`<p class="not-printed">
          <button aria-expanded="false" @click=${this.#open}>Enter or import limits</button>
        </p>
        <p role="status">${this.done}</p>`;
    return html`<form
      class="not-printed"
      @submit=${(event: SubmitEvent) => void this.#check(event)}
      @dragover=${(event: DragEvent) => this.#drag(event, true)}
      @dragleave=${(event: DragEvent) => this.#drag(event, false)}
      @drop=${(event: DragEvent) => void this.#drop(event)}
    >
      <p>
        One row for each limit, as CSV with a head; or YAML with lists under limits, zones and bearings. What is said of
        a spindle’s quantity replaces what was declared of it. Take the figures from the maker’s own sheet, and name it.
      </p>
      <label for="file">A file, also dropped here</label>
      <input id="file" type="file" accept=".csv,.yaml,.yml,.txt,text/csv" @change=${this.#onFile} />
      <label for="text">Or typed</label>
      <textarea id="text" spellcheck="false" required .value=${this.text} @input=${this.#onText}></textarea>
      ${this.#answer()} ${this.wrong === undefined ? nothing : html`<p class="wrong" role="alert">${this.wrong}</p>`}
      <div class="answers">
        <button type="button" @click=${() => this.#close('')}>Close</button>
        <button ?disabled=${this.sending}>Check</button>
        ${
          this.#canDeclare
            ? html`<button type="button" ?disabled=${this.sending} @click=${() => void this.#declare()}>
                Declare as shown
              </button>`
            : nothing
        }
      </div>
    </form>`;
  }

  get #canDeclare(): boolean {
    const { said } = this;
    return said !== undefined && said.faults.length === 0 && said.changes.some(isChange);
  }

  #answer() {
    const { said } = this;
    if (said === undefined) return nothing;
    if (said.faults.length > 0)
      return html`<div role="status">
        <p class="wrong">
          Nothing is declared: ${said.faults.length === 1 ? say`a fault` : say`${said.faults.length} faults`}.
        </p>
        <ul>
          ${said.faults.slice(0, TOLD_MAX).map((fault) => html`<li>${limitFaultWords(fault)}</li>`)}
        </ul>
        ${moreWords(said.faults.length)}
      </div>`;
    const changed = said.changes.filter(isChange);
    if (changed.length === 0) return html`<p role="status">All of it is declared so already: nothing would change.</p>`;
    return html`<div role="status">
      <p>${count(changed.length, 'spindle would change', 'spindles would change')}:</p>
      ${changed.slice(0, TOLD_MAX).map(
        ({ spindleId, adds, removes }) =>
          html`<p><b>${spindleId}</b></p>
            <ul>
              ${removes.map((words) => html`<li>goes: ${retell(words)}</li>`)}
              ${adds.map((words) => html`<li>comes: ${retell(words)}</li>`)}
            </ul>`,
      )}
      ${moreWords(changed.length)}
    </div>`;
  }

  readonly #open = (): void => {
    this.text = csvOf(this.spindleId, this.limits);
    this.done = '';
  };

  #close(done: string): void {
    this.text = undefined;
    this.said = undefined;
    this.wrong = undefined;
    this.done = done;
  }

  readonly #onText = (event: Event): void => this.#take((event.target as HTMLTextAreaElement).value);

  /** What was said of another text says nothing of this one. */
  #take(text: string): void {
    this.text = text;
    this.said = undefined;
    this.wrong = undefined;
  }

  readonly #onFile = (event: Event): void => void this.#read((event.target as HTMLInputElement).files?.[0]);

  #drag(event: DragEvent, over: boolean): void {
    event.preventDefault();
    (event.currentTarget as HTMLElement).toggleAttribute('dragging', over);
  }

  async #drop(event: DragEvent): Promise<void> {
    this.#drag(event, false);
    await this.#read(event.dataTransfer?.files[0]);
  }

  async #read(file: File | undefined): Promise<void> {
    if (file === undefined) return;
    if (file.size > FILE_BYTES_MAX) {
      this.wrong = say`${file.name} is too large: a file of limits has at most ${FILE_BYTES_MAX / 1000} kB.`;
      return;
    }
    this.#take(await file.text());
  }

  async #check(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    await this.#ask(true);
  }

  async #declare(): Promise<void> {
    const said = await this.#ask(false);
    if (said?.done !== true) return;
    this.#close(say`Declared: the table has the limits in force.`);
    this.dispatchEvent(new LimitsDeclaredEvent());
  }

  async #ask(check: boolean): Promise<LimitsImported | undefined> {
    this.sending = true;
    const answer = await this.api.importLimits(this.text ?? '', check);
    this.sending = false;
    if (answer.kind === 'answer') {
      this.said = answer.value;
      return answer.value;
    }
    this.wrong = whyNot(answer);
    return undefined;
  }
}

function moreWords(all: number) {
  return all <= TOLD_MAX ? nothing : html`<p>And ${all - TOLD_MAX} more, not shown here.</p>`;
}

function isChange({ adds, removes }: LimitsImported['changes'][number]): boolean {
  return adds.length + removes.length > 0;
}

declare global {
  interface HTMLElementTagNameMap {
    'limits-form': LimitsForm;
  }
}
