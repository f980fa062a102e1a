// The floor's picture as a table of the same numbers, for readers, for print and for who prefers figures.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { markWithWord } from '../drawing/standing-mark.ts';
import { spindleAddress } from '../router.ts';
import { MISSING, amount, speed, times, unitOf } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { notComparableWords, ratioOf } from '../wording/standing-words.ts';
import type { Cell } from './floor-order.ts';

/** Beyond this many rows a browser would lay out a table for seconds: a cell's own page has its table. */
const ROWS_MAX = 400;

export function floorTable(cells: readonly Cell[], clock: PlantClock): TemplateResult {
  const rows = cells.flatMap((cell) => cell.rows);
  if (rows.length > ROWS_MAX)
    return html`<p class="soft small">The numbers of a cell stand on the cell's own page.</p>`;
  return html`<details>
    <summary>The same as a table</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Table of the floor">
      <table>
        <thead>
          <tr>
            <th scope="col">Spindle</th>
            <th scope="col">Standing</th>
            <th scope="col">Loaded</th>
            <th scope="col" class="number">Speed</th>
            <th scope="col" class="number">1×, ${unitOf('mm/s')}</th>
            <th scope="col" class="number">Expected, ${unitOf('mm/s')}</th>
            <th scope="col" class="number">Observed ÷ expected</th>
            <th scope="col" class="number">Overall, ${unitOf('mm/s')}</th>
            <th scope="col" class="number">Limit, ${unitOf('mm/s')}</th>
            <th scope="col">Reading of</th>
            <th scope="col">Comparable</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            (row) =>
              html`<tr>
                <th scope="row"><a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a></th>
                <td>${markWithWord(row.standing)}</td>
                <td>${row.loaded?.assemblyId ?? MISSING}</td>
                <td class="number">${speed(row.speedRpm)}</td>
                <td class="number">${amount(row.synchronousMmS, 'mm/s')}</td>
                <td class="number">${amount(row.expectedMmS, 'mm/s')}</td>
                <td class="number">${times(ratioOf(row))}</td>
                <td class="number">${amount(row.overallMmS, 'mm/s')}</td>
                <td class="number">${amount(row.overallLimitMmS, 'mm/s')}</td>
                <td>${moment(row.lastReadingAt, clock)}</td>
                <td>${notComparableWords(row) ?? say`yes`}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}
