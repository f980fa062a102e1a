// The lines that stand around every page: of when the picture is, what of the address was not understood, and on paper of which plant.
import { nothing, type TemplateResult } from 'lit';
import { say } from '../../shared/language/index.ts';
import type { Picture } from '../feed-fold.ts';
import { html } from '../language/html.ts';
import { clockTime, day } from '../wording/instants.ts';

export function oldPictureLine({ now, zone }: Picture): TemplateResult {
  return html`<p class="old" role="alert">
    Not live: this is the plant as it was at ${clockTime(now, zone)}. Connecting again by itself.
  </p>`;
}

/** `left`: as `leftAside` gives it. What is on screen is not what the address was written for: that is said. */
export function leftAsideLine(left: readonly string[]): TemplateResult | typeof nothing {
  if (left.length === 0) return nothing;
  return html`<p class="left-aside not-printed" role="status">
    This address also says <span class="fixed">${left.join(', ')}</span>, which this page does not understand: it is
    left aside.
  </p>`;
}

/** Only on paper: of which plant, of when, and where it is to be found. */
export function printedLine({ plant, invented, zone, now }: Picture): TemplateResult {
  const at = Date.now();
  return html`<p class="printed">
    ${plant}${invented ? say` (invented data)` : nothing}, as of ${day(now, zone)} ${clockTime(now, zone)}; printed
    ${day(at, zone)} ${clockTime(at, zone)}, ${zone}<br />
    ${location.href}
  </p>`;
}
