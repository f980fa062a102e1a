// The plant's spindles by cell: which machine, which interface, how fast, how many limits, and who measures them.
import type { TemplateResult } from 'lit';
import type { DeclaredRow } from '../../shared/declared-limits.ts';
import { say } from '../../shared/language/index.ts';
import { html } from '../language/html.ts';
import { addressOf, spindleAddress } from '../router.ts';
import { MISSING, speed } from '../wording/figures.ts';
import { age, type PlantClock } from '../wording/instants.ts';

/** When a spindle was heard last, as the feed tells it now. */
export type HeardAt = (row: DeclaredRow) => number | undefined;

export function spindlesTable(rows: readonly DeclaredRow[], heardAt: HeardAt, clock: PlantClock): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Spindles">
    <table>
      <thead>
        <tr>
          <th scope="col">Cell</th>
          <th scope="col">Spindle</th>
          <th scope="col">Machine</th>
          <th scope="col">Interface</th>
          <th scope="col" class="number">Maximum</th>
          <th scope="col" class="number">Limits</th>
          <th scope="col">Sensor</th>
          <th scope="col">Last heard</th>
        </tr>
      </thead>
      <tbody>
        ${rows.map((row) => rowOf(row, heardAt(row), clock))}
      </tbody>
    </table>
  </div>`;
}

function rowOf(row: DeclaredRow, heardAt: number | undefined, clock: PlantClock): TemplateResult {
  const limits = row.limits.length + (row.zones === undefined ? 0 : 1);
  return html`<tr>
    <td class="nowrap">${row.cell ?? say`not declared`}</td>
    <th scope="row"><a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a></th>
    <td>${row.machine ?? MISSING}</td>
    <td class="nowrap">${row.interface ?? MISSING}</td>
    <td class="number">${row.maxSpeedRpm === undefined ? MISSING : speed(row.maxSpeedRpm)}</td>
    <td class="number">
      ${limits === 0 ? html`<b>none</b>` : html`<a href=${addressOf({ page: 'limits', find: row.spindleId })}>${limits}</a>`}
    </td>
    <td>${row.sensor ?? say`none so far`}</td>
    <td class="nowrap">${heardAt === undefined ? say`never` : say`${age(heardAt, clock)} ago`}</td>
  </tr>`;
}
