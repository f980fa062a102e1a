// Somebody declares that a spindle is worked on from one time to another, or calls that off; who and why stay on record.
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { PlannedWorkView } from '../../shared/planned-work.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { openedForm } from '../opened-form.ts';
import { MILLISECONDS_AN_HOUR } from '../time-spans.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

const NOTE_CHARACTERS_MAX = 1000;
/** From now on; a longer one is declared again. */
const HOURS_OFFERED = [1, 2, 4, 8, 24, 72, 168] as const;

export class WorkPlannedEvent extends Event {
  constructor() {
    super('counterpoise-work-planned', { bubbles: true, composed: true });
  }
}

@customElement('plan-work')
export class PlanWork extends LitElement {
  static override styles = [
    look,
    presses,
    openedForm,
    css`
      form {
        display: grid;
        gap: 0.75rem;
        max-width: 44rem;
      }
      textarea {
        min-height: 4.5rem;
        resize: vertical;
      }
      button,
      select {
        min-height: var(--glove);
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) spindleId = '';
  @property({ attribute: false }) work: readonly PlannedWorkView[] = [];
  @state() private open = false;
  @state() private hours = 2;
  @state() private note = '';
  @state() private sending = false;
  @state() private wrong: string | undefined;

  override render() {
    const now = this.work.find((one) => one.now);
    if (!this.open)
      return html`<p>
          <button aria-expanded="false" @click=${this.#begin}>Declare work on ${this.spindleId}</button>
          ${now === undefined ? nothing : html`<button ?disabled=${this.sending} @click=${() => void this.#callOff(now)}>The work is done</button>`}
        </p>
        ${this.wrong === undefined ? nothing : html`<p role="alert"><b>${this.wrong}</b></p>`}`;
    return html`<form @submit=${(event: SubmitEvent) => void this.#declare(event)}>
      <p>
        <b>Nothing escalates while ${this.spindleId} is worked on, and its readings do not count.</b> Holds stay. Local
        codes, the site’s lockout procedure, qualified people.
      </p>
      <div>
        <label for="hours">From now, for how long</label>
        <select
          id="hours"
          @change=${(event: Event) => (this.hours = Number((event.target as HTMLSelectElement).value))}
        >
          ${HOURS_OFFERED.map((hours) => html`<option value=${hours} ?selected=${hours === this.hours}>${hours < 48 ? `${hours} h` : `${hours / 24} days`}</option>`)}
        </select>
        <span class="soft">until ${moment(this.clock.now + this.hours * MILLISECONDS_AN_HOUR, this.clock)}</span>
      </div>
      <div>
        <label for="what">What is done</label>
        <textarea
          id="what"
          maxlength=${NOTE_CHARACTERS_MAX}
          .value=${this.note}
          @input=${(event: InputEvent) => (this.note = (event.target as HTMLTextAreaElement).value)}
        ></textarea>
      </div>
      ${this.wrong === undefined ? nothing : html`<p role="alert"><b>${this.wrong}</b></p>`}
      <div class="answers">
        <button type="button" @click=${() => (this.open = false)}>Leave it</button>
        <button class="first" type="submit" ?disabled=${this.note.trim() === '' || this.sending}>
          ${this.sending ? 'On its way …' : 'Confirm: worked on'}
        </button>
      </div>
    </form>`;
  }

  readonly #begin = (): void => {
    this.open = true;
    this.wrong = undefined;
    void this.updateComplete.then(() => this.renderRoot.querySelector('textarea')?.focus());
  };

  async #declare(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const { now } = this.clock;
    await this.#send({
      workId: `W-${now.toString(36)}`,
      from: new Date(now).toISOString(),
      until: new Date(now + this.hours * MILLISECONDS_AN_HOUR).toISOString(),
      note: this.note.trim(),
    });
  }

  async #callOff({ workId, from, until }: PlannedWorkView): Promise<void> {
    const [begins, ends] = [new Date(from).toISOString(), new Date(until).toISOString()];
    await this.#send({ workId, from: begins, until: ends, note: 'done', calledOff: true });
  }

  async #send(work: Parameters<Api['planWork']>[1]): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    const answer = await this.api.planWork(this.spindleId, work);
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.open = false;
    this.note = '';
    this.wrong = undefined;
    this.dispatchEvent(new WorkPlannedEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'plan-work': PlanWork;
  }
}
