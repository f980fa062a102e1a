// The lists of the assembly page: its measurements with their verdicts, its parts with their marked maxima, its loads.
import { css, html, nothing, type TemplateResult } from 'lit';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import type { Api } from '../api.ts';
import '../raw-message.ts';
import { spindleAddress } from '../router.ts';
import { figure, MISSING, speed, times, withUnit } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { STAGE_WORDS, VERDICT_WORDS } from '../wording/verdict-words.ts';

const MEASUREMENTS_SHOWN_MAX = 30;
const LOADS_SHOWN_MAX = 15;

export function measurementsTable(
  measurements: readonly MeasurementView[],
  clock: PlantClock,
  api: Api,
): TemplateResult {
  const newest = [...measurements].sort((a, b) => b.at - a.at);
  return html`<section class="wide" aria-labelledby="measurements">
    <h2 id="measurements">Measurements</h2>
    ${
      newest.length === 0
        ? html`<p class="soft">None yet. A bench publishes each result by itself.</p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Measurements">
            <table>
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">Verdict</th>
                  <th scope="col" class="number">Residual ± error, g·mm</th>
                  <th scope="col" class="number">Permissible, g·mm</th>
                  <th scope="col" class="number">Grade reached</th>
                  <th scope="col" class="number">Meets its grade up to</th>
                  <th scope="col">Stage</th>
                  <th scope="col">Bench</th>
                  <th scope="col">Build</th>
                  <th scope="col">Message</th>
                </tr>
              </thead>
              <tbody>
                ${newest.slice(0, MEASUREMENTS_SHOWN_MAX).map((measurement) => measurementRow(measurement, clock, api))}
              </tbody>
            </table>
          </div>`
    }
  </section>`;
}

function measurementRow(measurement: MeasurementView, clock: PlantClock, api: Api): TemplateResult {
  const { missesByFactor, remarks } = measurement;
  return html`<tr>
    <td class="nowrap">${moment(measurement.at, clock)}</td>
    <td class="verdict">
      ${VERDICT_WORDS[measurement.verdict]}${measurement.verdict === 'exceeds' && missesByFactor !== undefined ? html`: ${times(missesByFactor)} what is permissible` : nothing}
      ${remarks.map((remark) => html`<span class="small soft remark">${remark}</span>`)}
    </td>
    <td class="number">${figure(measurement.residualGmm)} ± ${figure(measurement.errorGmm)}</td>
    <td class="number">${figure(measurement.permissibleGmm)}</td>
    <td class="number">
      ${measurement.gradeReachedMmS === undefined ? MISSING : html`G ${figure(measurement.gradeReachedMmS)}`}
    </td>
    <td class="number">${speed(measurement.highestSpeedRpm)}</td>
    <td>${STAGE_WORDS[measurement.stage] ?? measurement.stage}</td>
    <td class="nowrap">${measurement.bench}</td>
    <td class="nowrap">${measurement.buildId}</td>
    <td><raw-message .api=${api} .position=${measurement.position}></raw-message></td>
  </tr>`;
}

export function partsTable({ parts }: AssemblyView): TemplateResult {
  const marked = parts.flatMap(({ markedMaxSpeedRpm }) => markedMaxSpeedRpm ?? []);
  const lowest = Math.min(...marked);
  return html`<section class="below" aria-labelledby="parts">
    <h2 id="parts">Parts</h2>
    <div class="scrolls" tabindex="0" role="group" aria-label="Parts">
      <table>
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col">Name</th>
            <th scope="col">Serial</th>
            <th scope="col" class="number">Mass</th>
            <th scope="col" class="number">Marked maximum</th>
          </tr>
        </thead>
        <tbody>
          ${parts.map(
            (part) =>
              html`<tr>
                <th scope="row">${part.role}</th>
                <td>${part.name}</td>
                <td class="nowrap">${part.serial ?? MISSING}</td>
                <td class="number">${withUnit(part.massKg, 'kg')}</td>
                <td class="number">
                  ${speed(part.markedMaxSpeedRpm)}${part.markedMaxSpeedRpm === lowest ? html`<span class="small soft remark">the lowest</span>` : nothing}
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>`;
}

export function loadsTable(loads: AssemblyView['loads'], clock: PlantClock): TemplateResult {
  const newest = [...loads].sort((a, b) => b.at - a.at);
  return html`<section class="below" aria-labelledby="loads">
    <h2 id="loads">Where it was loaded</h2>
    ${
      newest.length === 0
        ? html`<p class="soft">In no spindle yet.</p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Loads">
            <table>
              <thead>
                <tr>
                  <th scope="col">Spindle</th>
                  <th scope="col">Build</th>
                  <th scope="col">From</th>
                  <th scope="col">Until</th>
                </tr>
              </thead>
              <tbody>
                ${newest.slice(0, LOADS_SHOWN_MAX).map(
                  (load) =>
                    html`<tr>
                      <td><a href=${spindleAddress(load.spindleId)}>${load.spindleId}</a></td>
                      <td>${load.buildId ?? MISSING}</td>
                      <td class="nowrap">${moment(load.at, clock)}</td>
                      <td class="nowrap">${load.until === undefined ? 'in it now' : moment(load.until, clock)}</td>
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
  </section>`;
}

export const assemblyLook = css`
  .wide {
    grid-column: 1 / -1;
  }
  .verdict {
    min-width: 11rem;
  }
  .remark {
    display: block;
  }
  .cautions {
    margin: 0.75rem 0 0;
    padding: 0.5rem 0 0 1.1rem;
    border-top: 1px solid var(--rule);
    font-size: var(--small);
  }
`;
