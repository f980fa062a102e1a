// A code that a camera reads, drawn as one path: on tags and on records, always black on white.
import type { TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { encode } from 'uqr';

/** Opens an address of ours; the class gives it its size. */
export function codeTo(link: string): TemplateResult {
  const { data, size } = encode(link, { ecc: 'M', border: 1 });
  const path = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join('');
  return html`<svg class="code" viewBox="0 0 ${size} ${size}" role="img" aria-label="Code that opens ${link}">
    ${svg`<path d=${path} />`}
  </svg>`;
}
