// What the analysis of one window says, in words: doubts about the signal first, then what was measured, then what bearings say.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { speedWithinRpm } from '../../shared/speed-within.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';
import { figureList } from '../figure-list.ts';
import { look } from '../look.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { degrees, figure, speed, velocity, withUnit } from '../wording/figures.ts';
import { findingWords, orderWord, SPEED_SOURCE_WORDS, WEIGHT_WORDS } from './vibration-words.ts';

export type WindowAnalysis = Omit<WaveAnalysis, 'levels'>;

@customElement('wave-findings')
export class WaveFindings extends LitElement {
  static override styles = [
    look,
    markLook,
    figureList,
    css`
      ul {
        list-style: none;
        padding: 0;
        margin: 0 0 0.75rem;
      }
      li {
        display: flex;
        gap: 0.5rem;
        margin: 0 0 0.35rem;
        max-width: 75ch;
      }
      /* In columns of one width: a lone figure on a last line stands below another, not by itself. */
      dl {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(9.5rem, 1fr));
        gap: 0.5rem 1rem;
        margin: 0 0 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) analysis!: WindowAnalysis;
  /** Whether its words are the service’s, in English; else they are in the language of the page. */
  @property({ attribute: false }) fromService = true;

  override render() {
    const { analysis } = this;
    const speaking = analysis.bearings.filter(({ speaks }) => speaks);
    return html`${this.#health()}
    ${
      speaking.length === 0
        ? nothing
        : html`<ul aria-label="Bearing parts that speak">
            ${speaking.map(
              (finding) =>
                html`<li>
                  <span class="watch">${mark('watch')}</span
                  ><span>${findingWords(finding)} A reason to look, no proof of damage.</span>
                </li>`,
            )}
          </ul>`
    }
    ${this.#facts()}`;
  }

  #health() {
    const { health } = this.analysis;
    if (health.length === 0)
      return html`<p class="soft">Nothing is wrong with the signal as far as it can be told from itself.</p>`;
    return html`<ul aria-label="Doubts about the signal">
      ${health.map(
        ({ weight, words }) =>
          html`<li>
            <span class=${weight === 'unusable' ? 'no-data' : 'watch'}
              >${mark(weight === 'unusable' ? 'no-data' : 'watch')}</span
            ><span><strong>${WEIGHT_WORDS[weight]}:</strong> ${this.fromService ? retell(words) : words}</span>
          </li>`,
      )}
    </ul>`;
  }

  #facts() {
    const { analysis } = this;
    const { bandHz, toothPassing, speedSpreadPercent } = analysis;
    const within = speedWithinRpm(analysis);
    const rpm = speed(analysis.speedRpm === undefined ? undefined : Math.round(analysis.speedRpm));
    return html`<dl>
      <div>
        <dt>speed</dt>
        <dd>${within === undefined ? rpm : say`about ${rpm}`}</dd>
        <dd class="small">
          ${SPEED_SOURCE_WORDS[analysis.speedFrom]}${within === undefined ? nothing : html`, within ${figure(within)} rpm`}${speedSpreadPercent === undefined ? nothing : html`; ${spreadWords(speedSpreadPercent)}`}
        </dd>
      </div>
      <div>
        <dt>overall velocity</dt>
        <dd>${velocity(analysis.overallMmS)}</dd>
        <dd class="small">RMS, ${figure(bandHz[0])} to ${figure(bandHz[1])} Hz</dd>
      </div>
      ${analysis.orders.map(
        ({ order, velocityMmS, phaseDeg }) =>
          html`<div>
            <dt>${orderWord(order)}</dt>
            <dd>${velocity(velocityMmS)}</dd>
            <dd class="small">RMS${phaseDeg === undefined ? nothing : html`, at ${degrees(phaseDeg)}`}</dd>
          </div>`,
      )}
      ${
        toothPassing === undefined
          ? nothing
          : html`<div>
              <dt>tooth passing</dt>
              <dd>${velocity(toothPassing.velocityMmS)}</dd>
              <dd class="small">RMS, ${toothPassing.teeth} teeth, ${figure(toothPassing.frequencyHz)} Hz</dd>
            </div>`
      }
      <div>
        <dt>acceleration</dt>
        <dd>${withUnit(analysis.accelerationRmsMS2, 'm/s2')}</dd>
        <dd class="small">RMS; peak ${withUnit(analysis.accelerationPeakMS2, 'm/s2')}</dd>
      </div>
      <div>
        <dt>kurtosis</dt>
        <dd>${figure(analysis.kurtosis)}</dd>
        <dd class="small">3 for plain noise; crest factor ${figure(analysis.crestFactor)}</dd>
      </div>
    </dl>`;
  }
}

/** Less than a hundredth of a per cent is nothing that anybody needs figures for. */
function spreadWords(percent: number): string {
  return percent < 0.01 ? say`steady` : say`within ${figure(percent)} % over the window`;
}

declare global {
  interface HTMLElementTagNameMap {
    'wave-findings': WaveFindings;
  }
}
