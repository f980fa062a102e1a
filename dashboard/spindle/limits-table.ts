// The limits in force and the table of zones that was chosen, each with its source, its date, and who entered it.
import { html, nothing, type TemplateResult } from 'lit';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import type { SpindleView } from '../../shared/views.ts';
import { figure, MISSING, speed, velocity } from '../wording/figures.ts';
import { day, type PlantClock } from '../wording/instants.ts';

export function limitsTable(spindle: SpindleView, clock: PlantClock): TemplateResult {
  const { zones } = spindle.severity;
  return html`<section class="below" aria-labelledby="limits">
    <h2 id="limits">Limits in force</h2>
    ${
      spindle.limits.length === 0 && zones === undefined
        ? html`<p>
            No limit is entered. The machine maker's limits, with their source, come first; the plant engineer enters
            them.
          </p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Limits">
            <table>
              <thead>
                <tr>
                  <th scope="col">Of</th>
                  <th scope="col">From, to</th>
                  <th scope="col" class="number">Limit</th>
                  <th scope="col">Source</th>
                  <th scope="col">Entered by</th>
                </tr>
              </thead>
              <tbody>
                ${spindle.limits.map(
                  (limit) =>
                    html`<tr>
                      <td>${limit.quantity === 'overall' ? 'overall velocity' : '1× velocity'}</td>
                      <td class="nowrap">${speed(limit.fromSpeedRpm)} to ${speed(limit.toSpeedRpm)}</td>
                      <td class="number">${velocity(limit.limitMmS)}</td>
                      <td>
                        ${limit.source}${limit.sourceDate === undefined ? nothing : html`, ${day(Date.parse(limit.sourceDate), clock.zone)}`}
                      </td>
                      <td>${limit.enteredBy ?? MISSING}</td>
                    </tr>`,
                )}
                ${
                  zones === undefined
                    ? nothing
                    : html`<tr>
                        <td>zones A/B, B/C, C/D of the overall velocity</td>
                        <td>where no limit is in force</td>
                        <td class="number">${figure(zones.abMmS)}, ${figure(zones.bcMmS)}, ${velocity(zones.cdMmS)}</td>
                        <td>
                          ${zones.source}${zones.sourceDate === undefined ? nothing : html`, ${day(Date.parse(zones.sourceDate), clock.zone)}`}
                          ${zones.generic ? html`<br /><b>${GENERIC_WORDS}</b>` : nothing}
                        </td>
                        <td>${zones.enteredBy ?? MISSING}</td>
                      </tr>`
                }
              </tbody>
            </table>
          </div>`
    }
    <p class="soft small">
      The machine maker's limits come first, then a table that somebody chose. None of them comes with the program.
    </p>
  </section>`;
}
