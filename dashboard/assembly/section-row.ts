// Holes and flats from the side, all on one scale: how deep each goes, and how deep its holder's maker lets it go.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import type { AdviceStep } from '../../shared/advice.ts';
import type { CorrectionFeature } from '../../shared/messages/index.ts';
import { look } from '../look.ts';
import { degrees, graduation } from '../wording/figures.ts';
import { cutsOf, sectionScale, type Cut } from './section-shape.ts';

const SIDE_PX = 16;
const TOP_PX = 6;
const BELOW_PX = 10;

@customElement('section-row')
export class SectionRow extends LitElement {
  static override styles = [
    look,
    css`
      ul {
        list-style: none;
        margin: 0;
        padding: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1rem;
        align-items: flex-start;
      }
      svg {
        display: block;
      }
      li span {
        display: block;
        font-size: var(--small);
        font-variant-numeric: tabular-nums;
      }
      .stuff {
        fill: url(#stuff);
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .stuff-hatch path {
        stroke: var(--slate);
        stroke-width: 0.7;
      }
      .hole {
        fill: var(--ground);
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .open {
        stroke: var(--ground);
        stroke-width: 2.4;
      }
      .limit {
        stroke: var(--ink);
        stroke-width: 1.4;
        stroke-dasharray: 5 3;
      }
    `,
  ];

  @property({ attribute: false }) features: readonly CorrectionFeature[] = [];
  @property({ attribute: false }) steps: readonly AdviceStep[] = [];

  override render() {
    const cuts = cutsOf(this.features, this.steps);
    if (cuts.length === 0) return nothing;
    const pxPerMm = sectionScale(cuts);
    return html`<ul aria-label="From the side, to scale">
        ${cuts.map(
          (cut) =>
            html`<li>
              ${this.#cut(cut, pxPerMm)}<span><b>${cut.number}</b> at ${degrees(cut.angleDeg)}</span>
              <span>${graduation(cut.depthMm)} mm deep</span
              ><span class="soft">limit ${graduation(cut.depthMaxMm)} mm</span>
            </li>`,
        )}
      </ul>
      <p class="soft small">
        From the side, all on one scale; dashed: the depth that its holder’s maker permits, down to the tip of the
        drill’s point.
      </p>`;
  }

  #cut({ widthMm, depthMm, depthMaxMm, pointMm }: Cut, pxPerMm: number) {
    const width = widthMm * pxPerMm;
    const whole = width + 2 * SIDE_PX;
    const height = TOP_PX + Math.max(depthMaxMm, depthMm + pointMm) * pxPerMm + BELOW_PX;
    const [depth, point] = [depthMm * pxPerMm, pointMm * pxPerMm];
    const limitY = TOP_PX + depthMaxMm * pxPerMm;
    return html`<svg width=${whole} height=${height} viewBox="0 0 ${whole} ${height}" aria-hidden="true">
      <pattern id="stuff" class="stuff-hatch" width="7" height="7" patternUnits="userSpaceOnUse">
        <path d="M0 7 L7 0" />
      </pattern>
      ${svg`<path class="stuff" d=${`M0 ${TOP_PX}H${whole}V${height}H0z`} />
        <path class="hole" d=${`M${SIDE_PX} ${TOP_PX}v${depth}l${width / 2} ${point}l${width / 2} ${-point}v${-depth}`} />
        <line class="open" x1=${SIDE_PX + 1} y1=${TOP_PX} x2=${SIDE_PX + width - 1} y2=${TOP_PX} />
        <line class="limit" x1="0" y1=${limitY} x2=${whole} y2=${limitY} />`}
    </svg>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'section-row': SectionRow;
  }
}
