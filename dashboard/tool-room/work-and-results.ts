// What the tool room has to do, most pressing first, and what its benches sent, newest first.
import { css, nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { RecentResult, WorkRow } from '../../shared/tool-room.ts';
import { mark } from '../drawing/standing-mark.ts';
import { assemblyAddress, spindleAddress } from '../router.ts';
import { MISSING, amount, unitOf, whole } from '../wording/figures.ts';
import { age, moment, type PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { WORK_WORDS } from '../wording/tool-room-words.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';

const WORK_SHOWN_MAX = 20;
/** Older ones stand with their assemblies. */
const RESULTS_SHOWN_MAX = 12;

export function workList(work: readonly WorkRow[], clock: PlantClock): TemplateResult {
  if (work.length === 0) return html`<p>Nothing waits for the tool room.</p>`;
  return html`<ol class="work">
      ${work.slice(0, WORK_SHOWN_MAX).map((row) => workRow(row, clock))}
    </ol>
    ${work.length > WORK_SHOWN_MAX ? html`<p class="soft small">${work.length - WORK_SHOWN_MAX} more follow as these are done.</p>` : nothing}`;
}

function workRow(row: WorkRow, clock: PlantClock): TemplateResult {
  const standing = row.onHold ? 'hold' : 'watch';
  return html`<li>
    <span class=${standing}>${mark(standing, { size: 22 })}</span>
    <div>
      <a class="id" href=${assemblyAddress(row.assemblyId)}>${row.assemblyId}</a>
      <b>${WORK_WORDS[row.kind]}</b>${row.onHold ? html`<span class="hold">, on hold</span>` : nothing}
      <p class="small">
        ${asSentence(retell(row.why))}
        <span class="soft"
          >Waiting
          ${age(row.since, clock)}${row.loadedIn === undefined ? nothing : html`, loaded in <a href=${spindleAddress(row.loadedIn)}>${row.loadedIn}</a>`}${row.kind === 'correct' ? html`; ${placesWords(row.features)}` : nothing}.</span
        >
      </p>
    </div>
  </li>`;
}

function placesWords(features: number): string {
  if (features === 0) return say`no place to correct it is declared`;
  return features === 1 ? say`can be corrected at one place` : say`can be corrected at ${whole(features)} places`;
}

export function resultsTable(results: readonly RecentResult[], clock: PlantClock): TemplateResult {
  if (results.length === 0) return html`<p class="soft">None yet. A bench publishes each result by itself.</p>`;
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Results">
    <table>
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">Assembly</th>
          <th scope="col" class="number">Residual, ${unitOf('g.mm')}</th>
          <th scope="col" class="number">Permissible</th>
          <th scope="col">Verdict</th>
          <th scope="col">Bench</th>
        </tr>
      </thead>
      <tbody>
        ${results.slice(0, RESULTS_SHOWN_MAX).map((result) => resultRow(result, clock))}
      </tbody>
    </table>
  </div>`;
}

function resultRow({ assemblyId, measurement, worse }: RecentResult, clock: PlantClock): TemplateResult {
  return html`<tr>
    <td class="nowrap">${moment(measurement.at, clock)}</td>
    <th scope="row"><a href=${assemblyAddress(assemblyId)}>${assemblyId}</a></th>
    <td class="number">${amount(measurement.residualGmm, 'g.mm')} ± ${amount(measurement.errorGmm, 'g.mm')}</td>
    <td class="number">
      ${measurement.permissibleGmm === undefined ? MISSING : amount(measurement.permissibleGmm, 'g.mm')}
    </td>
    <td>
      ${VERDICT_WORDS[measurement.verdict]}
      ${measurement.inDoubt === undefined ? nothing : html`<span class="small no-data remark">${mark('no-data', { size: 16 })} in doubt</span>`}
      ${worse === undefined ? nothing : html`<span class="small remark"><b>${asSentence(retell(worse))}</b></span>`}
    </td>
    <td class="nowrap">${measurement.bench}</td>
  </tr>`;
}

export const workLook = css`
  .work {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  .work li {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    gap: 0 0.75rem;
    align-items: start;
    border-bottom: 1px solid var(--rule);
    padding: 0.5rem 0;
  }
  .work li > span {
    padding-top: 0.55rem;
  }
  .work p {
    margin: 0;
  }
  .work .id {
    display: inline-flex;
    align-items: center;
    min-height: var(--target);
    font-weight: 650;
    font-size: var(--large);
    margin-right: 0.5rem;
  }
  .remark {
    display: block;
  }
`;
