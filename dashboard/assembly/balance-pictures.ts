// The polar pictures of the build in force, whole and plane by plane, for a speed that can be chosen, and what they say in words.
import { css, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { numberOf } from '../choices.ts';
import { look, presses } from '../look.ts';
import { amount, speed, times, unbalance } from '../wording/figures.ts';
import type { PlantClock } from '../wording/instants.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';
import { coupleWords } from './couple-words.ts';
import './residual-rose.ts';
import { atSpeed, readingsOf, toldOf, type Reading, type Told } from './rose-shape.ts';
import { SpeedChosen } from './speed-choice.ts';
import { whyNoneCounts } from './what-counts.ts';
import { retell, say } from '../../shared/language/index.ts';
import '../saving/save-picture.ts';

/** What the page's address says: `speed` in rpm, and `bench` whether what the bench contributed is shown. */
@customElement('balance-pictures')
export class BalancePictures extends ChoosingElement {
  static override styles = [
    look,
    presses,
    css`
      .planes {
        display: grid;
        grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
        gap: 0 1rem;
      }
      figure {
        margin: 0;
      }
      figcaption {
        font-weight: 600;
        font-size: var(--small);
        text-align: center;
      }
      ul {
        margin: 0.25rem 0 0.5rem;
        padding-left: 1.1rem;
      }
      label {
        display: inline-flex;
        align-items: center;
        gap: 0.5rem;
        min-height: var(--target);
        font-weight: 400;
        font-size: var(--small);
      }
      input[type='checkbox'] {
        width: 24px;
        min-height: 24px;
        accent-color: var(--ink);
      }
    `,
  ];

  @property({ attribute: false }) assembly!: AssemblyView;
  /** Of the build in force, oldest first. */
  @property({ attribute: false }) measurements: readonly MeasurementView[] = [];
  @property({ attribute: false }) clock!: PlantClock;

  get #speedRpm(): number | undefined {
    return numberOf(this.choices['speed']);
  }

  get #own(): boolean {
    return this.choices['bench'] === 'shown';
  }

  override render() {
    const { row, speedStair, centreOfMassMm } = this.assembly;
    const newest = this.measurements.at(-1);
    if (newest === undefined) return this.#rose(undefined, false);
    const names = newest.planes.length > 1 ? newest.planes.map(({ name }) => name) : [];
    const couple = coupleWords(newest.planes, centreOfMassMm);
    return html`${this.#rose(undefined, false)}<save-picture
        .name=${say`Residual unbalance of ${row.assemblyId}`}
        table=".measurements"
      ></save-picture>
      ${
        names.length === 0
          ? nothing
          : html`<div class="planes">
                ${names.map(
                  (name) =>
                    html`<figure>
                      <figcaption>plane ${name}</figcaption>
                      ${this.#rose(name, true)}
                    </figure>`,
                )}
              </div>
              <p class="small">${couple}</p>`
      }
      ${
        row.serviceSpeedRpm === undefined || newest.permissibleGmm === undefined
          ? nothing
          : html`<speed-choice
              .steps=${speedStair}
              .serviceSpeedRpm=${row.serviceSpeedRpm}
              .speedRpm=${this.#speedRpm}
              @counterpoise-speed=${this.#onSpeed}
            ></speed-choice>`
      }
      <ul aria-label="In words" aria-live="polite">
        ${[undefined, ...names].map((name) => html`<li>${this.#words(name)}</li>`)}
      </ul>
      ${this.#stale()} ${this.#above()}
      ${
        newest.planes.some(({ benchGmm }) => benchGmm !== undefined)
          ? html`<label class="not-printed">
              <input
                type="checkbox"
                .checked=${this.#own}
                @change=${() => this.choose({ bench: this.#own ? undefined : 'shown' })}
              />
              Show what bench spindle and adapter contributed
            </label>`
          : nothing
      }`;
  }

  #rose(plane: string | undefined, small: boolean) {
    const { row, features } = this.assembly;
    return html`<residual-rose
      .measurements=${this.measurements}
      .clock=${this.clock}
      .plane=${plane}
      .small=${small}
      .keyless=${small}
      .features=${features}
      .serviceSpeedRpm=${row.serviceSpeedRpm}
      .speedRpm=${this.#speedRpm}
      .own=${this.#own}
    ></residual-rose>`;
  }

  readonly #onSpeed = (event: Event): void => {
    if (event instanceof SpeedChosen) this.choose({ speed: String(Number(event.speedRpm.toFixed(3))) });
  };

  #words(plane: string | undefined) {
    const { serviceSpeedRpm } = this.assembly.row;
    const newest = readingsOf(this.measurements, plane).at(-1);
    if (newest === undefined) return nothing;
    const reading = atSpeed(newest, serviceSpeedRpm, this.#speedRpm);
    const what = plane === undefined ? say`The whole` : say`Plane ${plane}`;
    const measured = `${what}: ${amount(reading.gmm, 'g.mm')} ± ${unbalance(reading.errorGmm)}`;
    if (reading.permissibleGmm === undefined) return html`${measured}; nothing tells what it may keep.`;
    const at = this.#speedRpm ?? serviceSpeedRpm;
    return html`${measured}, of ${unbalance(reading.permissibleGmm)}
    permissible${at === undefined ? nothing : say` at ${speed(at)}`}:
    ${whyNoneCounts(this.assembly) === undefined ? html`<b>${verdictOf(reading)}</b>` : html`${TOLD_WORDS[toldOf(reading)]} when it was measured`}.`;
  }

  /** A verdict of before is told as one, never as if it were about now. */
  #stale() {
    const why = whyNoneCounts(this.assembly);
    return why === undefined ? nothing : html`<p><b>None of this counts now:</b> ${why}.</p>`;
  }

  /** A circle for a speed is about balance alone: what governs is said beside it. */
  #above() {
    const governing = this.assembly.speedStair.find((step) => step.governs);
    const at = this.#speedRpm;
    if (at === undefined || governing === undefined || at <= governing.speedRpm) return nothing;
    return html`<p class="small">
      ${speed(at)} is above what governs: ${retell(governing.what)} ${speed(governing.speedRpm)}. The circle is about
      balance alone.
    </p>`;
  }
}

const TOLD_WORDS: Readonly<Record<Told, string>> = {
  within: say`within`,
  exceeds: say`exceeds`,
  undecided: say`undecided`,
  'cannot-judge': say`cannot be judged`,
};

function verdictOf(reading: Reading): string {
  const told = toldOf(reading);
  if (told !== 'exceeds' || reading.permissibleGmm === undefined) return VERDICT_WORDS[told];
  return say`exceeds it ${times(reading.gmm / reading.permissibleGmm)}`;
}

declare global {
  interface HTMLElementTagNameMap {
    'balance-pictures': BalancePictures;
  }
}
