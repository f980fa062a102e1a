// The lists of the assembly page: its parts with their marked maxima, its loads, where it can be corrected.
import { css, nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import { spindleAddress } from '../router.ts';
import { METHOD_WORDS } from '../../shared/method-words.ts';
import { MISSING, speed, withUnit } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { featureWords, sectorWords } from './feature-words.ts';
import { say } from '../../shared/language/index.ts';
import { partWords } from './part-words.ts';

const LOADS_SHOWN_MAX = 15;

export function partsTable({ parts }: AssemblyView): TemplateResult {
  const marked = parts.flatMap(({ markedMaxSpeedRpm }) => markedMaxSpeedRpm ?? []);
  const lowest = Math.min(...marked);
  if (parts.length === 0)
    return html`<section class="below" aria-labelledby="parts">
      <h2 id="parts">Parts</h2>
      <p class="soft">None is declared: no build of it has been sent.</p>
    </section>`;
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
                <th scope="row">${partWords(part.role)}</th>
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
                      <td class="nowrap">${load.until === undefined ? say`in it now` : moment(load.until, clock)}</td>
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
  </section>`;
}

/** Where it can be corrected, within whose limits: said even when nothing is to be corrected now. */
export function featuresTable(features: AssemblyView['features']): TemplateResult {
  return html`<section aria-labelledby="features">
    <h2 id="features">Where it can be corrected</h2>
    ${
      features.length === 0
        ? html`<p class="soft">No place is declared. The build names them, within its holder maker’s limits.</p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Where it can be corrected">
            <table>
              <thead>
                <tr>
                  <th scope="col">Place</th>
                  <th scope="col">Method</th>
                  <th scope="col">Plane</th>
                  <th scope="col">Limits</th>
                  <th scope="col">Keep clear</th>
                  <th scope="col">Who says so</th>
                </tr>
              </thead>
              <tbody>
                ${features.map(
                  (feature) =>
                    html`<tr>
                      <th scope="row">${feature.featureId}</th>
                      <td>${METHOD_WORDS[feature.kind]}</td>
                      <td>${feature.plane ?? MISSING}</td>
                      <td>${featureWords(feature)}</td>
                      <td>
                        ${feature.keepClear.length === 0 ? MISSING : feature.keepClear.map(sectorWords).join('; ')}
                      </td>
                      <td>${feature.source ?? say`nobody is named`}</td>
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
  </section>`;
}

export const assemblyLook = css`
  .record {
    margin-left: auto;
  }
  .again {
    display: flex;
    gap: 0.75rem;
    align-items: center;
    border: 2px solid var(--ochre);
    padding: 0.5rem 0.9rem;
    max-width: none;
  }
  .again .mark {
    color: var(--ochre);
  }
  .remarked {
    list-style: none;
    margin: 0 0 0.75rem;
    padding: 0;
  }
  .remarked li {
    display: flex;
    gap: 0.5rem;
    align-items: center;
  }
  .remarked .mark {
    color: var(--ochre);
    flex: none;
  }
  .correction td {
    border-top: 1px dashed var(--slate);
  }
  .wide {
    grid-column: 1 / -1;
    margin-bottom: 1.5rem;
  }
  /* Sentences stand in it: where there is no room for them the table scrolls rather than that they are stacked. */
  .verdict {
    min-width: 20rem;
  }
  @media print {
    .verdict {
      min-width: 0;
    }
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
