// The history of an assembly as a table: each measurement with its verdict and its message, each correction with what came of it.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { AssemblyView, CorrectionView, MeasurementView } from '../../shared/assembly-views.ts';
import type { Api } from '../api.ts';
import { mark } from '../drawing/standing-mark.ts';
import '../raw-message.ts';
import { MISSING, amount, figure, speed, times, unitOf } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { STAGE_WORDS, VERDICT_WORDS } from '../wording/verdict-words.ts';
import { buildWords, byBuild, changeWords, historyRows } from './history-rows.ts';
import { stepWords } from './step-words.ts';
import { retell, say } from '../../shared/language/index.ts';

export interface HistoryAsked {
  readonly clock: PlantClock;
  readonly api: Api;
  readonly rowsMax: number;
  readonly onMore: () => void;
}

export function historyTable(assembly: AssemblyView, { clock, api, rowsMax, onMore }: HistoryAsked): TemplateResult {
  const rows = historyRows(assembly.measurements, assembly.corrections);
  const builds = byBuild(rows);
  return html`<section class="wide" aria-labelledby="measurements">
    <h2 id="measurements">Measurements and corrections</h2>
    ${
      rows.length === 0
        ? html`<p class="soft">None yet. A bench publishes each result by itself.</p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Measurements and corrections">
            <table class="measurements">
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">Verdict, or what was done</th>
                  <th scope="col" class="number">Residual ± error, ${unitOf('g.mm')}</th>
                  <th scope="col" class="number">Permissible, ${unitOf('g.mm')}</th>
                  <th scope="col" class="number">Grade reached</th>
                  <th scope="col" class="number">Meets its grade up to</th>
                  <th scope="col">Stage</th>
                  <th scope="col">Bench</th>
                  <th scope="col">Message</th>
                </tr>
              </thead>
              ${byBuild(rows.slice(0, rowsMax)).map(
                (build) =>
                  html`<tbody>
                    <tr>
                      <th scope="rowgroup" colspan="9">Build ${build.buildId}${buildWords(build, assembly, builds)}</th>
                    </tr>
                    ${build.rows.map((row) =>
                      row.kind === 'measurement'
                        ? measurementRow(row.measurement, clock, api)
                        : correctionRow(row.correction, assembly, clock, api),
                    )}
                  </tbody>`,
              )}
            </table>
          </div>`
    }
    ${rows.length > rowsMax ? html`<p class="not-printed"><button @click=${onMore}>Show all ${rows.length}</button></p>` : nothing}
  </section>`;
}

function measurementRow(measurement: MeasurementView, clock: PlantClock, api: Api): TemplateResult {
  const { missesByFactor, remarks, inDoubt, worse } = measurement;
  return html`<tr>
    <td class="nowrap">${moment(measurement.at, clock)}</td>
    <td class="verdict">
      ${VERDICT_WORDS[measurement.verdict]}${measurement.verdict === 'exceeds' && missesByFactor !== undefined ? html`: ${times(missesByFactor)} what is permissible` : nothing}
      ${inDoubt === undefined ? nothing : html`<span class="small remark no-data">${mark('no-data', { size: 16 })} in doubt: ${retell(inDoubt)}</span>`}
      ${worse === undefined ? nothing : html`<span class="small remark"><b>${asSentence(retell(worse))}</b></span>`}
      ${remarks.map((remark) => html`<span class="small soft remark">${retell(remark)}</span>`)}
    </td>
    <td class="number">${amount(measurement.residualGmm, 'g.mm')} ± ${amount(measurement.errorGmm, 'g.mm')}</td>
    <td class="number">${amount(measurement.permissibleGmm, 'g.mm')}</td>
    <td class="number">
      ${measurement.gradeReachedMmS === undefined ? MISSING : html`G ${figure(measurement.gradeReachedMmS)}`}
    </td>
    <td class="number">${speed(measurement.highestSpeedRpm)}</td>
    <td>${STAGE_WORDS[measurement.stage] ?? measurement.stage}</td>
    <td class="nowrap">${measurement.bench}</td>
    <td><raw-message .api=${api} .position=${measurement.position}></raw-message></td>
  </tr>`;
}

function correctionRow(
  correction: CorrectionView,
  { features }: Pick<AssemblyView, 'features'>,
  clock: PlantClock,
  api: Api,
): TemplateResult {
  const done = correction.steps.map((step) =>
    stepWords(
      step,
      features.find(({ featureId }) => featureId === step.featureId),
    ),
  );
  return html`<tr class="correction">
    <td class="nowrap">${moment(correction.at, clock)}</td>
    <td colspan="6">
      <b>${correction.replacedBy === undefined ? say`Corrected` : say`Recorded by mistake`}:</b> ${done.join('; ')}
      ${correction.note === undefined ? nothing : html`<span class="small soft remark">“${correction.note}”</span>`}
      ${changeWords(correction).map((words) => html`<span class="small remark">${words}</span>`)}
      ${correction.remarks.map((remark) => html`<span class="small remark"><b>${retell(remark)}</b></span>`)}
    </td>
    <td>${correction.by ?? correction.bench ?? MISSING}</td>
    <td><raw-message .api=${api} .position=${correction.position}></raw-message></td>
  </tr>`;
}
