// For which speed the permissible circle is drawn: a slider, a number, or a step of the stair; what that speed would ask, in words.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import { look, presses } from '../look.ts';
import { speed } from '../wording/figures.ts';
import { retell, say } from '../../shared/language/index.ts';
import { numberTyped } from '../wording/typed-number.ts';

const STEP_RPM = 100;
const ROOM = 1.25;
const LEAST_RPM = 500;
/** Beyond what any spindle turns, and what an address keeps. */
const MOST_RPM = 1_000_000;

export class SpeedChosen extends Event {
  readonly speedRpm: number;

  constructor(speedRpm: number) {
    super('counterpoise-speed', { bubbles: true, composed: true });
    this.speedRpm = speedRpm;
  }
}

@customElement('speed-choice')
export class SpeedChoice extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      .row {
        display: grid;
        grid-template-columns: minmax(8rem, 1fr) 7.5rem;
        gap: 0 0.75rem;
        align-items: center;
      }
      label {
        grid-column: 1 / -1;
        font-size: var(--small);
      }
      input[type='range'] {
        padding: 0;
        border: 0;
        background: transparent;
        accent-color: var(--ink);
      }
      .choices button {
        font-size: var(--small);
      }
    `,
  ];

  @property({ attribute: false }) steps: AssemblyView['speedStair'] = [];
  @property({ attribute: false }) serviceSpeedRpm: number | undefined;
  @property({ attribute: false }) speedRpm: number | undefined;

  override render() {
    const service = this.serviceSpeedRpm;
    if (service === undefined) return nothing;
    const shown = this.speedRpm ?? service;
    // What is shown gets no room beyond itself: else the slider's end would run away from whoever pulls at it.
    const most = Math.max(shown, ROOM * Math.max(service, ...this.steps.map(({ speedRpm }) => speedRpm)));
    const max = Math.ceil(most / STEP_RPM) * STEP_RPM;
    return html`<div class="not-printed">
      <div class="row">
        <label for="rpm">Permissible circle at, rpm</label>
        <input
          type="range"
          aria-label="Speed of the permissible circle"
          aria-valuetext=${speed(shown)}
          min=${LEAST_RPM}
          max=${max}
          step=${STEP_RPM}
          .value=${String(shown)}
          @input=${this.#onInput}
        />
        <input
          id="rpm"
          class="number"
          inputmode="numeric"
          autocomplete="off"
          .value=${String(Math.round(shown))}
          @change=${this.#onInput}
        />
      </div>
      <div class="choices" role="group" aria-label="Speeds of the stair">
        ${this.#named(service).map(
          ([word, rpm]) =>
            html`<button
              aria-pressed=${Math.round(rpm) === Math.round(shown) ? 'true' : 'false'}
              @click=${() => this.#choose(rpm)}
            >
              ${word}
            </button>`,
        )}
      </div>
    </div>`;
  }

  #named(service: number): [string, number][] {
    const others = this.steps
      .filter(({ what }) => what !== 'service speed')
      .map(({ what, speedRpm }): [string, number] => [retell(what), speedRpm]);
    return [[say`service speed`, service], ...others];
  }

  readonly #onInput = (event: Event): void => {
    const typed = numberTyped((event.target as HTMLInputElement).value, { inThousands: true });
    if (typed !== undefined && typed >= 1 && typed <= MOST_RPM) this.#choose(typed);
  };

  #choose(speedRpm: number): void {
    this.dispatchEvent(new SpeedChosen(speedRpm));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'speed-choice': SpeedChoice;
  }
}
