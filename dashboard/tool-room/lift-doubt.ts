// Whoever answers for a bench lifts the doubt about its results, with a reason that stays on record.
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { StatementForm } from '../statement-form.ts';

export class DoubtLiftedEvent extends Event {
  constructor() {
    super('counterpoise-doubt-lifted', { bubbles: true, composed: true });
  }
}

@customElement('lift-doubt')
export class LiftDoubt extends StatementForm {
  @property({ attribute: false }) bench = '';

  override render() {
    if (!this.open)
      return html`<p><button aria-expanded="false" @click=${this.begin}>Lift the doubt, with a reason</button></p>`;
    return html`<form @submit=${(event: SubmitEvent) => void this.#send(event)}>
      <p>
        <b>Its results since the last good check count again, on your name.</b> A check that was set up wrongly is a
        reason; that work is waiting is none.
      </p>
      ${this.words(say`Why its results can be believed`)}
      ${this.answers(say`Confirm: lift the doubt`, this.note.trim() === '')}
    </form>`;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    await this.sendOnce(() => this.api.liftDoubt(this.bench, this.note.trim()), new DoubtLiftedEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'lift-doubt': LiftDoubt;
  }
}
