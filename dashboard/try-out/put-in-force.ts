// Putting a draft in force: a reason, then a second press; it counts from then on, and the set before can be put back the same way.
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { DraftInForce } from '../../shared/try-out.ts';
import { StatementForm } from '../statement-form.ts';

export class InForceEvent extends Event {
  constructor() {
    super('counterpoise-in-force', { bubbles: true, composed: true });
  }
}

@customElement('put-in-force')
export class PutInForce extends StatementForm {
  /** What would be put in force; in words why not, where it cannot be. */
  @property({ attribute: false }) draft: Omit<DraftInForce, 'why'> | string = '';

  override render() {
    if (!this.open)
      return html`<p><button aria-expanded="false" @click=${this.begin}>Put in force, with a reason</button></p>`;
    const cannot = typeof this.draft === 'string' ? this.draft : undefined;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>From then on holds are raised by it, on your name.</b> Holds that stand stay as they are. The limits of the
        machine and tool makers govern.
      </p>
      ${this.words(say`Why`)}
      ${this.answers(say`Confirm: put in force`, this.note.trim() === '' || cannot !== undefined, cannot ?? this.wrong)}
    </form>`;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const { draft } = this;
    if (typeof draft === 'string') return;
    await this.sendOnce(() => this.api.putInForce({ ...draft, why: this.note.trim() }), new InForceEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'put-in-force': PutInForce;
  }
}
