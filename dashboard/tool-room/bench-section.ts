// One bench: in a sentence whether it tells the truth, what that touches, and what shows it.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { MAY_LIFT_DOUBT } from '../../shared/rights.ts';
import type { SessionView } from '../../shared/session.ts';
import type { BenchView } from '../../shared/tool-room.ts';
import type { Api } from '../api.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { look, tables } from '../look.ts';
import { assemblyAddress, spindleAddress } from '../router.ts';
import { subjectLook } from '../subject-look.ts';
import { MISSING } from '../wording/figures.ts';
import { day, moment, type PlantClock } from '../wording/instants.ts';
import { SUBJECT_STATE_WORDS } from '../wording/standing-words.ts';
import { CALIBRATION_WORDS, TRUST_MARKS, TRUST_WORDS } from '../wording/tool-room-words.ts';
import { testsOf } from './bench-tests.ts';
import './lift-doubt.ts';
import './own-part.ts';
import './proof-chart.ts';

@customElement('bench-section')
export class BenchSection extends LitElement {
  static override styles = [
    look,
    tables,
    markLook,
    subjectLook,
    css`
      .pictures {
        display: grid;
        grid-template-columns: minmax(0, 46rem) minmax(0, 22rem);
        gap: 1rem 2rem;
        align-items: start;
      }
      h3 {
        margin: 0 0 0.35rem;
      }
      .tests {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(26rem, 100%), 1fr));
        gap: 0 2rem;
        align-items: start;
      }
      .sentence {
        font-size: var(--large);
      }
      .head h2 {
        font-size: var(--large);
        margin: 0;
      }
      .touched p {
        max-width: none;
      }
      .touched a {
        display: inline-block;
        line-height: var(--target);
      }
      @media (max-width: 62rem) {
        .pictures {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @property({ attribute: false }) bench!: BenchView;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) person: SessionView | undefined;

  override render() {
    const { bench } = this;
    const standing = TRUST_MARKS[bench.trust];
    return html`<section aria-labelledby="bench">
      <div class="head">
        <h2 id="bench">${bench.bench}</h2>
        <span class="standing ${standing}">${mark(standing)}<span>${TRUST_WORDS[bench.trust]}</span></span>
      </div>
      <p class="sentence">${retell(bench.sentence)}</p>
      ${this.#touched()} ${this.#facts()}
      <div class="pictures">
        <div>
          <h3>Proving rotor</h3>
          <proof-chart
            .bench=${bench.bench}
            .proofs=${bench.proofs}
            .clock=${this.clock}
            .api=${this.api}
          ></proof-chart>
        </div>
        <div>
          <h3>Its own part</h3>
          <own-part .points=${bench.ownPart} .drift=${bench.drift} .clock=${this.clock}></own-part>
        </div>
      </div>
      ${testsOf(bench.tests, this.clock, this.api)}
    </section>`;
  }

  #touched() {
    const { trust, touched, inDoubtSince, bench } = this.bench;
    if (trust !== 'in-doubt') return nothing;
    return html`<div class="touched">
      <p>
        In
        doubt${inDoubtSince === undefined ? nothing : html` is what it measured since ${moment(inDoubtSince, this.clock)}`}.
        ${touched.assemblies.length === 0 ? say`No assembly rests on it.` : html`Assemblies that rest on it: ${links(touched.assemblies, assemblyAddress)}`}
        ${touched.spindles.length === 0 ? nothing : html`; loaded in ${links(touched.spindles, spindleAddress)}`}
      </p>
      ${
        this.person?.roles.some((role) => MAY_LIFT_DOUBT.includes(role)) === true
          ? html`<lift-doubt class="not-printed" .api=${this.api} .bench=${bench}></lift-doubt>`
          : nothing
      }
    </div>`;
  }

  #facts() {
    const { state, lastResultAt, lastGoodCheckAt, calibratedUntil, calibration } = this.bench;
    return html`<dl class="facts">
      <div>
        <dt>last result</dt>
        <dd>${moment(lastResultAt, this.clock)}</dd>
        <dd class="small">${SUBJECT_STATE_WORDS[state]}</dd>
      </div>
      <div>
        <dt>last good check</dt>
        <dd>${moment(lastGoodCheckAt, this.clock)}</dd>
      </div>
      <div>
        <dt>calibrated until</dt>
        <dd>${calibratedUntil === undefined ? MISSING : day(calibratedUntil, this.clock.zone)}</dd>
        <dd class="small">${CALIBRATION_WORDS[calibration]}</dd>
      </div>
    </dl>`;
  }
}

function links(ids: readonly string[], address: (id: string) => string) {
  return ids.map((id, index) => html`${index === 0 ? nothing : ', '}<a href=${address(id)}>${id}</a>`);
}

declare global {
  interface HTMLElementTagNameMap {
    'bench-section': BenchSection;
  }
}
