// What was in a spindle, newest first: a few at a glance, some more on demand, each down to the message that said so.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Api } from '../api.ts';
import '../raw-message.ts';
import { assemblyAddress } from '../router.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import type { LoadRecord } from './spindle-rows.ts';

/** At a glance, beside the other lists. */
const LOADS_SHOWN = 5;
/** With those on demand; earlier ones stand on the pages of their assemblies. */
const LOADS_SHOWN_MAX = 20;

export function loadsTable(loads: readonly LoadRecord[], clock: PlantClock, api: Api): TemplateResult {
  const newest = [...loads].sort((a, b) => b.at - a.at);
  const before = newest.slice(LOADS_SHOWN, LOADS_SHOWN_MAX);
  return html`<section class="below" aria-labelledby="loads">
    <h2 id="loads">What was in it${newest.length > LOADS_SHOWN ? html`, the last ${LOADS_SHOWN}` : nothing}</h2>
    ${
      newest.length === 0
        ? html`<p class="soft">No load known yet.</p>`
        : rowsOf(newest.slice(0, LOADS_SHOWN), say`Loads`, clock, api)
    }
    ${
      before.length === 0
        ? nothing
        : html`<details>
            <summary>${before.length === 1 ? say`The one before` : say`The ${before.length} before`}</summary>
            ${rowsOf(before, say`Earlier loads`, clock, api)}
          </details>`
    }
  </section>`;
}

function rowsOf(loads: readonly LoadRecord[], name: string, clock: PlantClock, api: Api): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label=${name}>
    <table>
      <thead>
        <tr>
          <th scope="col">Load</th>
          <th scope="col">Assembly</th>
          <th scope="col">From</th>
          <th scope="col">Until</th>
          <th scope="col">Message</th>
        </tr>
      </thead>
      <tbody>
        ${loads.map(
          (load) =>
            html`<tr>
              <td>${load.ordinal}</td>
              <td>
                <a href=${assemblyAddress(load.assemblyId)}>${load.assemblyId}</a>
                ${load.buildId === undefined ? nothing : html`<span class="soft">${load.buildId}</span>`}
              </td>
              <td class="nowrap">${moment(load.at, clock)}</td>
              <td class="nowrap">${load.until === undefined ? say`in it now` : moment(load.until, clock)}</td>
              <td><raw-message .api=${api} .position=${load.position}></raw-message></td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
