// The pictures of one window, one at a time: spectrum, envelope, waveform. The same for a stored window and for a recording.
import {} from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import { ChoosingElement } from '../choosing-element.ts';
import { chosenOf, WINDOW_PICTURES } from '../choices.ts';
import { look, presses } from '../look.ts';
import './wave-envelope.ts';
import type { WindowAnalysis } from './wave-findings.ts';
import './wave-shape.ts';
import './wave-spectrum.ts';

type Picture = (typeof WINDOW_PICTURES)[number];
const PICTURE_WORDS: Readonly<Record<Picture, string>> = {
  spectrum: say`spectrum`,
  envelope: say`envelope`,
  waveform: say`waveform`,
};

/** What the page's address says: `picture` is chosen here, the rest further in. */
@customElement('window-pictures')
export class WindowPictures extends ChoosingElement {
  static override styles = [look, presses];

  /** m/s². */
  @property({ attribute: false }) samples!: Float64Array;
  @property({ type: Number }) sampleRateHz = 0;
  @property({ attribute: false }) speedRpm: number | undefined;
  @property({ attribute: false }) teeth: number | undefined;
  @property({ attribute: false }) bearings: readonly Bearing[] = [];
  @property({ attribute: false }) tachoS: readonly number[] = [];
  @property({ attribute: false }) fullScaleMS2: number | undefined;
  @property({ attribute: false }) analysis: WindowAnalysis | undefined;
  /** Whether the samples are in m/s²: else what is told are shares and multiples. */
  @property({ attribute: false }) scaled = true;

  get #shown(): Picture {
    return chosenOf(this.choices['picture'], WINDOW_PICTURES) ?? WINDOW_PICTURES[0];
  }

  override render() {
    return html`<div class="choices not-printed" role="group" aria-label="Picture of the window">
        ${WINDOW_PICTURES.map(
          (picture) =>
            html`<button
              aria-pressed=${picture === this.#shown ? 'true' : 'false'}
              @click=${() => this.choose({ picture: picture === WINDOW_PICTURES[0] ? undefined : picture })}
            >
              ${PICTURE_WORDS[picture]}
            </button>`,
        )}
      </div>
      ${this.#picture()}`;
  }

  #picture() {
    switch (this.#shown) {
      case 'spectrum':
        return html`<wave-spectrum
          .samples=${this.samples}
          .sampleRateHz=${this.sampleRateHz}
          .speedRpm=${this.speedRpm}
          .teeth=${this.teeth}
          .bearings=${this.bearings}
          .analysis=${this.analysis}
          .scaled=${this.scaled}
          .choices=${this.choices}
        ></wave-spectrum>`;
      case 'envelope':
        return html`<wave-envelope
          .samples=${this.samples}
          .sampleRateHz=${this.sampleRateHz}
          .speedRpm=${this.speedRpm}
          .teeth=${this.teeth}
          .bearings=${this.bearings}
          .analysis=${this.analysis}
          .scaled=${this.scaled}
          .choices=${this.choices}
        ></wave-envelope>`;
      case 'waveform':
        return html`<wave-shape
          .samples=${this.samples}
          .sampleRateHz=${this.sampleRateHz}
          .tachoS=${this.tachoS}
          .fullScaleMS2=${this.fullScaleMS2}
          .analysis=${this.analysis}
          .scaled=${this.scaled}
          .choices=${this.choices}
        ></wave-shape>`;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'window-pictures': WindowPictures;
  }
}
