// Which of its speeds a trend is of: all of them, or one that the spindle really runs.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { speed } from '../wording/figures.ts';
import type { SeverityBin } from './spindle-rows.ts';

/** The stretch of speeds that is asked of the gateway; nothing for all. */
export function atSpeed(bin: SeverityBin | undefined): { fromSpeedRpm?: number; toSpeedRpm?: number } {
  return bin === undefined ? {} : { fromSpeedRpm: bin.fromSpeedRpm, toSpeedRpm: bin.toSpeedRpm };
}

export function speedChoice(
  bins: readonly SeverityBin[],
  chosen: SeverityBin | undefined,
  choose: (speedBin: number | undefined) => void,
): TemplateResult | typeof nothing {
  if (bins.length === 0) return nothing;
  const onChange = (event: Event): void => {
    const { value } = event.target as HTMLSelectElement;
    choose(value === '' ? undefined : Number(value));
  };
  return html`<div class="at-speed">
    <label for="trend-speed">at</label>
    <select id="trend-speed" @change=${onChange}>
      <option value="" ?selected=${chosen === undefined}>all speeds</option>
      ${bins.map(
        (bin) => html`<option value=${bin.speedBin} ?selected=${bin === chosen}>about ${speed(bin.speedRpm)}</option>`,
      )}
    </select>
  </div>`;
}
