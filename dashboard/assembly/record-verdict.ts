// The verdict at the top of a balance record, and under it whatever takes from it: a hold, a correction since, a doubt.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import type { HoldView } from '../../shared/views.ts';
import { amount, figure, speed, times, unbalance } from '../wording/figures.ts';
import type { PlantClock } from '../wording/instants.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';
import { uncheckedCorrection } from './history-rows.ts';
import { fullMoment } from './record-parts.ts';
import { tellsAnOlder, whyNoneCounts } from './what-counts.ts';
import { retell, say } from '../../shared/language/index.ts';

export function verdictPart(
  assembly: AssemblyView,
  newest: MeasurementView | undefined,
  clock: PlantClock,
): TemplateResult {
  const holds = assembly.holds.filter(({ open }) => open).map((hold) => holdWords(hold, assembly, clock));
  if (newest === undefined)
    return html`<div class="verdict">
      <p><b>Not measured</b> since this build was put together.</p>
      ${holds}
    </div>`;
  return html`<div class="verdict">
    ${verdictLine(assembly, newest)} ${holds}
    <p class="small">
      ${fullMoment(newest.at, clock)}, ${clock.zone}, on ${newest.bench}. Grade reached with the error counted:
      ${newest.gradeReachedMmS === undefined ? say`not known` : say`G ${figure(newest.gradeReachedMmS)}`}; meets its
      grade up to ${speed(newest.highestSpeedRpm)}, which is a bound of balance and no permitted speed.
    </p>
    ${staleWords(assembly, newest, clock)}
  </div>`;
}

function verdictLine(assembly: AssemblyView, newest: MeasurementView): TemplateResult {
  const { verdict, missesByFactor } = newest;
  const misses =
    verdict === 'exceeds' && missesByFactor !== undefined ? say`, ${times(missesByFactor)} what is permissible` : '';
  const words = `${VERDICT_WORDS[verdict]}${misses}`;
  return html`<p>
    ${whyNoneCounts(assembly) === undefined ? html`<b>${words}:</b>` : html`<b>Does not count now:</b> when it was measured ${words},`}
    residual ${amount(newest.residualGmm, 'g.mm')} ± ${unbalance(newest.errorGmm)}, permissible
    <span class="nowrap">${unbalance(newest.permissibleGmm)}</span> at
    <span class="nowrap">${speed(assembly.row.serviceSpeedRpm)}</span>
  </p>`;
}

function holdWords(hold: HoldView, assembly: AssemblyView, clock: PlantClock): TemplateResult {
  return html`<p class="small stale">
    <b>On hold since ${fullMoment(hold.raisedAt, clock)}, ${hold.holdId}:</b> ${retell(hold.sentence)}
    ${tellsAnOlder(hold, assembly) ? say`As measured when it was raised; it has been measured since.` : nothing}
  </p>`;
}

function staleWords(
  { corrections, row }: AssemblyView,
  { inDoubt }: MeasurementView,
  clock: PlantClock,
): TemplateResult {
  const later = uncheckedCorrection(corrections, row.buildId);
  return html`${later === undefined ? nothing : html`<p class="small stale"><b>Corrected ${fullMoment(later.at, clock)} and not measured since:</b> this is not its present state.</p>`}
  ${inDoubt === undefined ? nothing : html`<p class="small stale"><b>In doubt:</b> ${retell(inDoubt)}</p>`}`;
}
