// The trend's numbers as a table, thinned so that it can be read: least and greatest are never lost.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { SeriesView } from '../../shared/views.ts';
import { amount, speed, unitOf } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import type { SeverityBin } from './spindle-rows.ts';
import { QUANTITY_WORDS, trendRows } from './trend-columns.ts';
import type { TrendMark } from './trend-marks.ts';

/** The lines across the picture, each with whose it is. */
export function marksList(marks: readonly TrendMark[]): TemplateResult | typeof nothing {
  if (marks.length === 0) return nothing;
  return html`<details>
    <summary>The lines across it, and whose they are</summary>
    <ul class="small">
      ${marks.map(({ told }) => html`<li>${told}</li>`)}
    </ul>
  </details>`;
}

export function trendTable(series: SeriesView, clock: PlantClock, bin?: SeverityBin): TemplateResult {
  const rows = trendRows(series);
  const unit = unitOf(series.unit);
  return html`<details>
    <summary>The same as a table</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Table of the trend">
      <table class="trend">
        <caption>
          ${QUANTITY_WORDS[series.quantity]},
          ${unit}${bin === undefined ? nothing : html`, at ${speed(bin.fromSpeedRpm)} to ${speed(bin.toSpeedRpm)}`};
          times in ${clock.zone}
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col" class="number">Least, ${unit}</th>
            <th scope="col" class="number">Mean, ${unit}</th>
            <th scope="col" class="number">Greatest, ${unit}</th>
            <th scope="col" class="number">Readings</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            (row) =>
              html`<tr>
                <td>${moment(row.at, clock)}</td>
                <td class="number">${amount(row.min, series.unit)}</td>
                <td class="number">${amount(row.mean, series.unit)}</td>
                <td class="number">${amount(row.max, series.unit)}</td>
                <td class="number">${row.count}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}
