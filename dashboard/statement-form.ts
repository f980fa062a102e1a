// A form that opens in place and puts one statement on record: a reason in words where it asks for one, a second press, and what came of it.
import { css, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { html } from './language/html.ts';
import { say } from '../shared/language/index.ts';
import { whyNot, type Answer, type Api } from './api.ts';
import { look, presses } from './look.ts';
import { openedForm } from './opened-form.ts';

const WORDS_CHARACTERS_MAX = 1000;

export abstract class StatementForm extends LitElement {
  static override styles = [
    look,
    presses,
    openedForm,
    css`
      form {
        display: grid;
        gap: 0.5rem;
        max-width: 44rem;
      }
      textarea {
        min-height: 4.5rem;
        resize: vertical;
      }
      .answers {
        justify-content: flex-end;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @state() protected open = false;
  /** What was written into the field of `words`. */
  @state() protected note = '';
  @state() protected sending = false;
  @state() protected wrong: string | undefined;

  protected readonly begin = (): void => {
    this.open = true;
    this.wrong = undefined;
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('textarea, input')?.focus());
  };

  /** Back to what opened it, so that a keyboard goes on from there. */
  protected readonly leave = (): void => {
    this.open = false;
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('[aria-expanded]')?.focus());
  };

  /** The field for words. */
  protected words(label: string): TemplateResult {
    return html`<div>
      <label for="words">${label}</label>
      <textarea
        id="words"
        maxlength=${WORDS_CHARACTERS_MAX}
        .value=${this.note}
        @input=${(event: InputEvent) => (this.note = (event.target as HTMLTextAreaElement).value)}
      ></textarea>
    </div>`;
  }

  /** What is wrong with it, and the two presses; `lacks` while it cannot be sent. */
  protected answers(confirm: string, lacks: boolean, wrong = this.wrong): TemplateResult {
    return html`${complaint(wrong)}
      <div class="answers">
        <button type="button" @click=${this.leave}>Leave it</button>
        <button class="first" type="submit" ?disabled=${lacks || this.sending}>
          ${this.sending ? say`On its way …` : confirm}
        </button>
      </div>`;
  }

  /** Sends it once, however often it is pressed; then closes and tells, or says what was wrong. */
  protected async sendOnce(send: () => Promise<Answer<unknown>>, told: Event): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    const answer = await send();
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.leave();
    this.note = '';
    this.wrong = undefined;
    this.dispatchEvent(told);
  }
}

export const complaint = (wrong: string | undefined): TemplateResult | typeof nothing =>
  wrong === undefined ? nothing : html`<p role="alert"><b>${wrong}</b></p>`;
