// Somebody declares that a spindle is worked on from one time to another, or calls that off; who and why stay on record.
import { css, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { PlannedWorkView } from '../../shared/planned-work.ts';
import type { Api } from '../api.ts';
import { complaint, StatementForm } from '../statement-form.ts';
import { MILLISECONDS_AN_HOUR } from '../time-spans.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

/** From now on; a longer one is declared again. */
const HOURS_OFFERED = [1, 2, 4, 8, 24, 72, 168] as const;

export class WorkPlannedEvent extends Event {
  constructor() {
    super('counterpoise-work-planned', { bubbles: true, composed: true });
  }
}

@customElement('plan-work')
export class PlanWork extends StatementForm {
  static override styles = [
    ...StatementForm.styles,
    css`
      form {
        gap: 0.75rem;
      }
      .answers {
        justify-content: flex-start;
      }
      button,
      select,
      textarea {
        min-height: var(--glove);
        min-width: var(--glove);
      }
    `,
  ];

  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) spindleId = '';
  @property({ attribute: false }) work: readonly PlannedWorkView[] = [];
  @state() private hours = 2;

  override render() {
    const now = this.work.find((one) => one.now);
    if (!this.open)
      return html`<p>
          <button aria-expanded="false" @click=${this.begin}>Declare work on ${this.spindleId}</button>
          ${now === undefined ? nothing : html`<button ?disabled=${this.sending} @click=${() => void this.#callOff(now)}>The work is done</button>`}
        </p>
        ${complaint(this.wrong)}`;
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
          ${HOURS_OFFERED.map((hours) => html`<option value=${hours} ?selected=${hours === this.hours}>${hours < 48 ? say`${hours} h` : say`${hours / 24} days`}</option>`)}
        </select>
        <span class="soft">until ${moment(this.clock.now + this.hours * MILLISECONDS_AN_HOUR, this.clock)}</span>
      </div>
      ${this.words(say`What is done`)} ${this.answers(say`Confirm: worked on`, this.note.trim() === '')}
    </form>`;
  }

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
    await this.sendOnce(() => this.api.planWork(this.spindleId, work), new WorkPlannedEvent());
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'plan-work': PlanWork;
  }
}
