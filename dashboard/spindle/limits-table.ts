// The limits in force and the table of zones that was chosen: a line each; whose they are once where it is one for all.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import type { SpindleView } from '../../shared/views.ts';
import { amount, speed, velocity } from '../wording/figures.ts';
import { day, type PlantClock } from '../wording/instants.ts';
import type { LimitView } from './spindle-rows.ts';

type ZonesView = NonNullable<SpindleView['severity']['zones']>;

export function limitsTable({ limits, severity: { zones } }: SpindleView, clock: PlantClock): TemplateResult {
  return html`<section class="below" aria-labelledby="limits">
    <h2 id="limits">Limits in force</h2>
    ${
      limits.length === 0 && zones === undefined
        ? html`<p>
            No limit is entered. The machine maker's limits, with their source, come first; the plant engineer enters
            them.
          </p>`
        : rowsOf(limits, zones, clock)
    }
    <p class="soft small">
      The machine maker's limits come first, then a table that somebody chose. None of them comes with the program.
    </p>
  </section>`;
}

function rowsOf(limits: readonly LimitView[], zones: ZonesView | undefined, clock: PlantClock): TemplateResult {
  const whose = new Set(limits.map((limit) => whoseWords(limit, clock)));
  const each = whose.size > 1;
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Limits">
      <table>
        <thead>
          <tr>
            <th scope="col">Of</th>
            <th scope="col">From, to</th>
            <th scope="col" class="number">Limit</th>
            ${each ? html`<th scope="col">Whose</th>` : nothing}
          </tr>
        </thead>
        <tbody>
          ${limits.map(
            (limit) =>
              html`<tr>
                <td>${limit.quantity === 'overall' ? say`overall velocity` : say`1× velocity`}</td>
                <td class="nowrap">${speed(limit.fromSpeedRpm)} to ${speed(limit.toSpeedRpm)}</td>
                <td class="number">${velocity(limit.limitMmS)}</td>
                ${each ? html`<td>${whoseWords(limit, clock)}</td>` : nothing}
              </tr>`,
          )}
          ${
            zones === undefined
              ? nothing
              : html`<tr>
                  <td>overall, zones A/B, B/C, C/D</td>
                  <td>where no limit is in force</td>
                  <td class="number">
                    ${amount(zones.abMmS, 'mm/s')}, ${amount(zones.bcMmS, 'mm/s')}, ${velocity(zones.cdMmS)}
                  </td>
                  ${each ? html`<td>see below</td>` : nothing}
                </tr>`
          }
        </tbody>
      </table>
    </div>
    <p class="small">
      ${each || limits.length === 0 ? nothing : html`Limits: ${[...whose]}. `}${
        zones === undefined
          ? nothing
          : html`Zones: ${whoseWords(zones, clock)}${zones.generic ? html`; <b>${GENERIC_WORDS}</b>` : nothing}.`
      }
    </p>`;
}

/** Whose sheet, of what day, and who entered it. */
function whoseWords(
  { source, sourceDate, enteredBy }: Pick<LimitView, 'source' | 'sourceDate' | 'enteredBy'>,
  clock: PlantClock,
): string {
  const dated = sourceDate === undefined ? source : `${source}, ${day(Date.parse(sourceDate), clock.zone)}`;
  return enteredBy === undefined ? dated : say`${dated}; entered by ${enteredBy}`;
}
