// How many days back is looked: one of a few lengths.
import type { TemplateResult } from 'lit';
import { html } from './language/html.ts';

export function daysChoice(
  name: string,
  { offered, chosen, choose }: { offered: readonly number[]; chosen: number; choose: (days: number) => void },
): TemplateResult {
  return html`<div class="choices not-printed" role="group" aria-label=${name}>
    ${offered.map(
      (days) =>
        html`<button aria-pressed=${days === chosen ? 'true' : 'false'} @click=${() => choose(days)}>
          ${days} days
        </button>`,
    )}
  </div>`;
}
