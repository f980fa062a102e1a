// The four marks: thin ring, half-filled diamond, tag with a hole, dashed outline with a question mark. Shape first, then colour.
import { css, type SVGTemplateResult, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import type { Standing } from '../../shared/views.ts';
import { STANDING_WORDS } from '../wording/standing-words.ts';

/** In a square of 20 × 20, in the colour of the text around it. */
export function markShape(standing: Standing): SVGTemplateResult {
  switch (standing) {
    case 'in-family':
      return svg`<circle cx="10" cy="10" r="6.5" fill="none" stroke="currentColor" stroke-width="1.5" />`;
    case 'watch':
      return svg`<path d="M10 2 L18 10 L10 18 L2 10 Z" fill="none" stroke="currentColor" stroke-width="1.8" />
        <path d="M10 2 L10 18 L2 10 Z" fill="currentColor" />`;
    case 'hold':
      return svg`<path d="M2.5 2.5 H12 L17.5 8 V17.5 H2.5 Z M8.2 7 A1.9 1.9 0 1 0 4.4 7 A1.9 1.9 0 1 0 8.2 7 Z"
        fill="currentColor" fill-rule="evenodd" />`;
    case 'no-data':
      return svg`<circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" stroke-width="1.7" stroke-dasharray="3.2 2.2" />
        <path d="M7.4 8 A2.6 2.6 0 1 1 10 10.4 V11.6 M10 13.6 V15" fill="none" stroke="currentColor" stroke-width="1.7" />`;
  }
}

/** The mark alone; the word has to stand beside it. `fresh`: a heavier outline until somebody has opened it. */
export function mark(
  standing: Standing,
  options: { readonly size?: number; readonly fresh?: boolean } = {},
): TemplateResult {
  const size = options.size ?? 18;
  return html`<svg class="mark ${standing}" width=${size} height=${size} viewBox="-3 -3 26 26" aria-hidden="true">
    ${options.fresh === true ? svg`<rect x="-1.6" y="-1.6" width="23.2" height="23.2" fill="none" stroke="currentColor" stroke-width="2.4" />` : ''}
    ${markShape(standing)}
  </svg>`;
}

export function markWithWord(standing: Standing, fresh = false): TemplateResult {
  return html`<span class="standing ${standing}"
    >${mark(standing, { fresh })}<span>${STANDING_WORDS[standing]}</span></span
  >`;
}

export const markLook = css`
  .mark {
    flex: none;
    vertical-align: -0.25em;
  }
  .in-family {
    color: var(--slate);
  }
  .watch {
    color: var(--ochre);
  }
  .hold {
    color: var(--plum);
  }
  .no-data {
    color: var(--cobalt);
  }
  .standing {
    display: inline-flex;
    align-items: center;
    gap: 0.35rem;
    white-space: nowrap;
  }
  @media print {
    td .standing {
      white-space: normal;
    }
  }
  .standing.hold,
  .standing.watch,
  .standing.no-data {
    font-weight: 600;
  }
`;
