// The date bars as figures: the same rows, in the same order.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { AheadRow } from '../../shared/ahead-plant.ts';
import { spindleAddress } from '../router.ts';
import { figure, MISSING, speed } from '../wording/figures.ts';
import { day, type PlantClock } from '../wording/instants.ts';
import { DID_WORDS, QUANTITY_WORDS } from './ahead-row-words.ts';

export function aheadTable(rows: readonly AheadRow[], { zone }: PlantClock): TemplateResult {
  const dayOf = (at: number | undefined): string => (at === undefined ? MISSING : day(at, zone));
  return html`<details class="twin">
    <summary>The same as a table</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="What reaches its limit, as a table">
      <table class="ahead">
        <caption>
          Velocity, mm/s RMS; days in ${zone}
        </caption>
        <thead>
          <tr>
            <th scope="col">Spindle</th>
            <th scope="col">Cell</th>
            <th scope="col" class="number">At about</th>
            <th scope="col">Quantity</th>
            <th scope="col" class="number">Level, mm/s</th>
            <th scope="col" class="number">Limit, mm/s</th>
            <th scope="col">Its source</th>
            <th scope="col">10 % by</th>
            <th scope="col">50 % by</th>
            <th scope="col">90 % by</th>
            <th scope="col">On record since</th>
            <th scope="col">Said then</th>
            <th scope="col">Tried two weeks back</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            (row) =>
              html`<tr>
                <th scope="row"><a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a></th>
                <td>${row.cell}</td>
                <td class="number">${speed(row.speedRpm)}</td>
                <td>${QUANTITY_WORDS[row.quantity]}</td>
                <td class="number">${figure(row.levelMmS)}</td>
                <td class="number">${figure(row.limit.mmS)}</td>
                <td>${retell(row.limit.source)}</td>
                <td class="nowrap">${dayOf(row.p10At)}</td>
                <td class="nowrap">${dayOf(row.p50At)}</td>
                <td class="nowrap">${row.p90At === undefined ? say`not told` : dayOf(row.p90At)}</td>
                <td class="nowrap">${dayOf(row.told?.at)}</td>
                <td class="nowrap">${dayOf(row.told?.p50At)}</td>
                <td>${row.backTest === undefined ? say`not tried` : DID_WORDS[row.backTest.did]}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}
