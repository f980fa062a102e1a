// At which speed the response is shown: buttons for a few, a list for many.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { count, speed } from '../wording/figures.ts';
import type { SpeedBin } from './fan-marks.ts';

/** More speeds than this are a list to choose from. */
const BUTTONS_MAX = 4;

export function fanSpeeds(
  bins: readonly SpeedBin[],
  chosen: SpeedBin,
  choose: (speedBin: number) => void,
): TemplateResult {
  if (bins.length > BUTTONS_MAX) return speedList(bins, chosen, choose);
  return html`<div class="choices not-printed" role="group" aria-label="Speed">
    ${bins.map(
      (bin) =>
        html`<button aria-pressed=${bin === chosen ? 'true' : 'false'} @click=${() => choose(bin.speedBin)}>
          ${speed(bin.speedRpm)}
        </button>`,
    )}
  </div>`;
}

function speedList(bins: readonly SpeedBin[], chosen: SpeedBin, choose: (speedBin: number) => void): TemplateResult {
  return html`<div class="speed">
    <label for="speed">at</label>
    <select id="speed" @change=${(event: Event) => choose(Number((event.target as HTMLSelectElement).value))}>
      ${bins.map(
        (bin) =>
          html`<option value=${bin.speedBin} ?selected=${bin === chosen}>
            ${speed(Math.round(bin.speedRpm))}, ${count(bin.points.length, 'load', 'loads')}
          </option>`,
      )}
    </select>
  </div>`;
}
