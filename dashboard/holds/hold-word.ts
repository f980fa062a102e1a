// The word HOLD drawn and not typed: 23 mm high on every machine, whatever fonts it has.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';

/** In millimetres; the strokes are 5.4 mm wide, so the letters reach from edge to edge. */
export function holdWord(): TemplateResult {
  return html`<svg viewBox="0 0 89 23" role="img" aria-label="HOLD" stroke-width="5.4">
    <path d="M2.7 0V23M16.3 0V23M2.7 11.5H16.3" />
    <rect x="25.7" y="2.7" width="17.6" height="17.6" rx="8.6" />
    <path d="M52.7 0V20.3H66" />
    <path d="M71.7 2.7V20.3H77.5A8.8 8.8 0 0 0 77.5 2.7H69" />
  </svg>`;
}
