// How severe it is at each speed that the spindle runs, against what and whose, and every move on record: tables with words.
import { html, nothing, type TemplateResult } from 'lit';
import type { SpindleView } from '../../shared/views.ts';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import type { Api } from '../api.ts';
import { MISSING, speed, velocity } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import type { SeverityBin, SeverityChange } from './spindle-rows.ts';

const RUNG_WORDS = {
  within: 'within the limit',
  over: 'over the limit',
  A: 'zone A',
  B: 'zone B',
  C: 'zone C',
  D: 'zone D',
  usual: 'as usual',
  risen: 'risen',
  fallen: 'fallen',
} as const;

export function severitySection(spindle: SpindleView, clock: PlantClock, api: Api): TemplateResult {
  const { bins, history, nowBin } = spindle.severity;
  return html`<section class="below" aria-labelledby="severity">
    <h2 id="severity">How severe, at each speed that it runs</h2>
    ${
      bins.length === 0
        ? html`<p class="soft">No steady speed has been seen yet, out of the cut and with a sound sensor.</p>`
        : binsTable(bins, nowBin, clock)
    }
    ${historyTable(history, clock, api)}
    <p class="soft small">
      Overall velocity, RMS, smoothed, of the warm spindle out of the cut. The limits of the machine maker govern;
      nothing here says that it can go on.
    </p>
  </section>`;
}

function binsTable(bins: readonly SeverityBin[], nowBin: number | undefined, clock: PlantClock): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Severity at each speed">
    <table>
      <thead>
        <tr>
          <th scope="col">At about</th>
          <th scope="col" class="number">Level</th>
          <th scope="col">Stands</th>
          <th scope="col" class="number">Usual</th>
          <th scope="col" class="number">Readings</th>
          <th scope="col">Last run</th>
        </tr>
      </thead>
      <tbody>
        ${bins.map(
          (bin) =>
            html`<tr>
              <th scope="row" class="nowrap">
                ${speed(bin.speedRpm)}${bin.speedBin === nowBin ? html`<br /><span class="soft">now</span>` : nothing}
              </th>
              <td class="number">${velocity(bin.levelMmS)}</td>
              <td>${bin.words}${sinceWords(bin, clock)}</td>
              <td class="number">${bin.usual === undefined ? learningWords(bin) : velocity(bin.usual.usualMmS)}</td>
              <td class="number">${bin.readings}</td>
              <td class="nowrap">${moment(bin.lastAt, clock)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function sinceWords({ rungSince, rung, usual }: SeverityBin, clock: PlantClock) {
  const parts = [
    rung === undefined || rungSince === undefined ? [] : [`${RUNG_WORDS[rung]} since ${moment(rungSince, clock)}`],
    usual?.rung === undefined || usual.rungSince === undefined || usual.rung === 'usual'
      ? []
      : [`${RUNG_WORDS[usual.rung]} since ${moment(usual.rungSince, clock)}`],
  ].flat();
  return parts.length === 0 ? nothing : html`<br /><span class="soft small">${parts.join(', ')}</span>`;
}

function learningWords({ learning }: SeverityBin): string {
  return learning === undefined ? MISSING : 'being learned';
}

function historyTable(history: readonly SeverityChange[], clock: PlantClock, api: Api) {
  if (history.length === 0) return nothing;
  return html`<details>
    <summary>How it came so: ${history.length} moves on record</summary>
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
                  ${change.from === undefined ? 'first judged' : RUNG_WORDS[change.from]} → ${RUNG_WORDS[change.to]}
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
