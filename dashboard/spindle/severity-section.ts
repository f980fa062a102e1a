// How severe it is at each speed that the spindle runs, one line each; whose the boundaries are, the words, every move on record.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import type { Api } from '../api.ts';
import { amount, count, speed, unitOf, velocity } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { changeOf, RUNG_WORDS, sourcesOf, standsWords } from './severity-rows.ts';
import type { SeverityBin, SeverityChange } from './spindle-rows.ts';

export function severitySection(spindle: SpindleView, clock: PlantClock, api: Api): TemplateResult {
  const { bins, history } = spindle.severity;
  return html`<section class="below" aria-labelledby="severity">
    <h2 id="severity">How severe, at each speed that it runs</h2>
    ${
      bins.length === 0
        ? html`<p class="soft">No steady speed has been seen yet, out of the cut and with a sound sensor.</p>`
        : html`${binsTable(spindle.severity, clock)} ${sources(spindle.severity)}`
    }
    <p class="soft small">
      Overall velocity, RMS, smoothed, of the warm spindle out of the cut. The limits of the machine maker govern;
      nothing here says that it can go on.
    </p>
    ${bins.length === 0 ? nothing : wordsTable(bins, clock)} ${historyTable(history, clock, api)}
  </section>`;
}

function binsTable({ bins, nowBin, zones }: SpindleView['severity'], clock: PlantClock): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Severity at each speed">
    <table>
      <thead>
        <tr>
          <th scope="col">At about</th>
          <th scope="col" class="number">Level, ${unitOf('mm/s')}</th>
          <th scope="col">Stands</th>
          <th scope="col">Since</th>
          <th scope="col" class="number">Usual, ${unitOf('mm/s')}</th>
          <th scope="col" class="number">Change</th>
        </tr>
      </thead>
      <tbody>
        ${bins.map(
          (bin) =>
            html`<tr>
              <th scope="row" class="nowrap">
                ${speed(bin.speedRpm)}${bin.speedBin === nowBin ? html`<span class="soft">, now</span>` : nothing}
              </th>
              <td class="number">${amount(bin.levelMmS, 'mm/s')}</td>
              <td>${standsWords(bin, zones)}</td>
              <td class="nowrap">${bin.rung === undefined ? nothing : moment(bin.rungSince, clock)}</td>
              <td class="number">
                ${bin.usual === undefined ? say`being learned` : amount(bin.usual.usualMmS, 'mm/s')}
              </td>
              <td class="number">${changeCell(bin, clock)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function changeCell(bin: SeverityBin, clock: PlantClock): TemplateResult | string {
  const { rung, rungSince } = bin.usual ?? {};
  if (rung === undefined || rung === 'usual') return changeOf(bin);
  return html`<b>${RUNG_WORDS[rung]}, ${changeOf(bin)}</b><br /><span class="soft small"
      >since ${moment(rungSince, clock)}</span
    >`;
}

/** Told once for all speeds that share one. */
function sources({ bins, zones }: SpindleView['severity']): TemplateResult | typeof nothing {
  const found = sourcesOf(bins);
  if (found.length === 0) return nothing;
  return html`<p class="soft small">
    ${found.map(
      ({ source, against, speedsRpm }) =>
        html`${against === 'limit' ? say`Limit` : say`Zones`}${
          found.length === 1 ? nothing : html` at ${speedsRpm.map((rpm) => speed(rpm)).join(', ')}`
        }:
        ${source}${against === 'zones' && zones?.generic === true ? html`; <b>${GENERIC_WORDS}</b>` : nothing}. `,
    )}
  </p>`;
}

function wordsTable(bins: readonly SeverityBin[], clock: PlantClock): TemplateResult {
  return html`<details>
    <summary>In words, with what each speed was judged from</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Severity in words">
      <table>
        <thead>
          <tr>
            <th scope="col">At about</th>
            <th scope="col">It says</th>
            <th scope="col" class="number">Readings</th>
            <th scope="col">Last run</th>
          </tr>
        </thead>
        <tbody>
          ${bins.map(
            (bin) =>
              html`<tr>
                <th scope="row" class="nowrap">${speed(bin.speedRpm)}</th>
                <td>${retell(bin.words)}</td>
                <td class="number">${bin.readings}</td>
                <td class="nowrap">${moment(bin.lastAt, clock)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}

function historyTable(history: readonly SeverityChange[], clock: PlantClock, api: Api) {
  if (history.length === 0) return nothing;
  return html`<details>
    <summary>How it came so: ${count(history.length, 'move', 'moves')} on record</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Moves of its severity">
      <table>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">At about</th>
            <th scope="col">Moved</th>
            <th scope="col" class="number">Level</th>
            <th scope="col" class="number">Boundary</th>
            <th scope="col">Whose</th>
            <th scope="col">Message</th>
          </tr>
        </thead>
        <tbody>
          ${history.map(
            (change) =>
              html`<tr>
                <td class="nowrap">${moment(change.at, clock)}</td>
                <td class="nowrap">${speed(change.speedRpm)}</td>
                <td>
                  ${change.from === undefined ? say`first judged` : RUNG_WORDS[change.from]} → ${RUNG_WORDS[change.to]}
                </td>
                <td class="number">${velocity(change.levelMmS)}</td>
                <td class="number">${velocity(change.boundaryMmS)}</td>
                <td>${change.source}${change.generic === true ? html`; ${GENERIC_WORDS}` : nothing}</td>
                <td><raw-message .api=${api} .position=${change.position}></raw-message></td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}
