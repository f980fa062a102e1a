// How a spindle is now, on paper: severity with whose limits, forecast, response in words and numbers, bearings, the last loads.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { AheadView } from '../../shared/ahead.ts';
import type { ResponseLine, SpindleView } from '../../shared/views.ts';
import type { WaveRow } from '../../shared/wave-views.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { findingWords, WEIGHT_WORDS } from '../vibration/vibration-words.ts';
import { count, figure, MISSING, speed, times, unbalance, velocity } from '../wording/figures.ts';
import { day, type PlantClock } from '../wording/instants.ts';
import { foremost } from './ahead-shape.ts';
import { lineReadings, showsRelation } from './fan-marks.ts';
import { reportLoads, spreadOf, type ReportLoad } from './report-rows.ts';
import { changeOf, sourcesOf, standsWords } from './severity-rows.ts';

const LOADS_PRINTED_MAX = 10;
const LINES_PRINTED_MAX = 4;

export function severityPart({ severity, ahead }: SpindleView, clock: PlantClock): TemplateResult {
  const { bins, zones } = severity;
  return html`<section>
    <h3>How severe, at each speed that it runs</h3>
    ${
      bins.length === 0
        ? html`<p>No steady speed has been seen yet, out of the cut and with a sound sensor.</p>`
        : html`<table>
              <thead>
                <tr>
                  <th scope="col">At about</th>
                  <th scope="col" class="number">Level, mm/s</th>
                  <th scope="col">Stands</th>
                  <th scope="col">Since</th>
                  <th scope="col" class="number">Usual, mm/s</th>
                  <th scope="col" class="number">Change</th>
                </tr>
              </thead>
              <tbody>
                ${bins.map(
                  (bin) =>
                    html`<tr>
                      <th scope="row">${speed(bin.speedRpm)}</th>
                      <td class="number">${figure(bin.levelMmS)}</td>
                      <td>${standsWords(bin, zones)}</td>
                      <td>${bin.rung === undefined ? MISSING : fullMoment(bin.rungSince, clock)}</td>
                      <td class="number">
                        ${bin.usual === undefined ? say`being learned` : figure(bin.usual.usualMmS)}
                      </td>
                      <td class="number">${changeOf(bin)}</td>
                    </tr>`,
                )}
              </tbody>
            </table>
            <p class="small">
              Overall velocity, RMS.
              ${sourcesOf(bins).map(({ source, against }) => html`${against === 'limit' ? say`Limit` : say`Zones`}: ${source}. `)}
            </p>`
    }
    ${forecast(ahead ?? [], clock)}
  </section>`;
}

function forecast(views: readonly AheadView[], { zone }: PlantClock): TemplateResult {
  const view = foremost(views);
  if (view === undefined)
    return html`<p>
      <b>Looking ahead:</b> no whole day at a steady speed has ended yet since its levels began, or began anew after a
      release, work or another sensor.
    </p>`;
  const { p10At, p50At, p90At, limit } = view;
  return html`<p>
    <b>Looking ahead, at about ${speed(view.speedRpm)}:</b> ${retell(view.words)}
    ${limit === undefined ? nothing : html`(limit ${velocity(limit.mmS)}, ${limit.source})`}
    ${
      p50At === undefined
        ? nothing
        : html`<br />10 % by ${p10At === undefined ? MISSING : day(p10At, zone)}, 50 % by ${day(p50At, zone)}, 90 % by
            ${p90At === undefined ? say`no day within a year` : day(p90At, zone)}.`
    }
  </p>`;
}

export function responsePart({ lines, points }: SpindleView): TemplateResult {
  const printed = [...lines].sort((a, b) => b.loads - a.loads).slice(0, LINES_PRINTED_MAX);
  return html`<section>
    <h3>How it answers to unbalance</h3>
    ${
      printed.length === 0
        ? html`<p>Not learned yet: loads of known residual and readings that can be compared are needed.</p>`
        : html`<ul>
            ${printed.map((line) => html`<li>${responseWords(line, spreadOf(line, points))}</li>`)}
          </ul>`
    }
  </section>`;
}

function responseWords(line: ResponseLine, spread: ReturnType<typeof spreadOf>): TemplateResult {
  const at = speed(line.speedRpm);
  const over = count(line.loads, 'load', 'loads');
  if (!showsRelation(line))
    return html`At ${at}, over ${over}: it does not follow the residual; ${velocity(lineReadings(line).ownMmS)} is
    usual.`;
  const { perGmm, ownMmS } = lineReadings(line);
  return html`At ${at}, over ${over}: 1× velocity of ${velocity(perGmm)} per g·mm; by itself, with no unbalance clamped,
  ${velocity(ownMmS)}.
  ${spread === undefined ? nothing : html`Its loads lay between ${times(spread.least)} and ${times(spread.most)} of that line.`}`;
}

export function windowPart(wave: WaveRow | undefined, clock: PlantClock): TemplateResult | typeof nothing {
  if (wave === undefined) return nothing;
  const { analysis } = wave;
  return html`<section>
    <h3>The last raw window, ${fullMoment(wave.at, clock)}, ${wave.channel}</h3>
    ${
      analysis === undefined
        ? html`<p>Nothing was made of it${wave.why === undefined ? nothing : html`: ${retell(wave.why)}`}.</p>`
        : html`<p>
              At ${speed(analysis.speedRpm === undefined ? undefined : Math.round(analysis.speedRpm))}: overall
              ${velocity(analysis.overallMmS)}, kurtosis ${figure(analysis.kurtosis)}.
              ${analysis.health.map(({ weight, words }) => html`<b>${WEIGHT_WORDS[weight]}:</b> ${retell(words)} `)}
            </p>
            ${
              analysis.bearings.length === 0
                ? html`<p>No bearing is declared, or none could be looked for.</p>`
                : html`<ul>
                      ${analysis.bearings
                        .toSorted((a, b) => Number(b.speaks) - Number(a.speaks) || b.indicator - a.indicator)
                        .slice(0, LINES_PRINTED_MAX)
                        .map((finding) => html`<li>${findingWords(finding)}</li>`)}
                    </ul>
                    <p class="small">A line is a reason to look, no proof of damage.</p>`
            }`
    }
  </section>`;
}

export function loadsPart({ loads, points, lines }: SpindleView, clock: PlantClock): TemplateResult {
  const rows = reportLoads(loads, points, lines, LOADS_PRINTED_MAX);
  return html`<section>
    <h3>The last loads: ${rows.length} of ${loads.length} that are remembered</h3>
    ${
      rows.length === 0
        ? html`<p>No load known yet.</p>`
        : html`<table>
            <thead>
              <tr>
                <th scope="col">${say`No.`}</th>
                <th scope="col">Assembly</th>
                <th scope="col">From</th>
                <th scope="col" class="number">At about</th>
                <th scope="col" class="number">Residual</th>
                <th scope="col" class="number">1× observed</th>
                <th scope="col" class="number">1× expected</th>
              </tr>
            </thead>
            <tbody>
              ${rows.map((row) => loadRow(row, clock))}
            </tbody>
          </table>`
    }
  </section>`;
}

function loadRow({ load, point, expectedMmS }: ReportLoad, clock: PlantClock): TemplateResult {
  return html`<tr>
    <td>${load.ordinal}</td>
    <td>${load.assemblyId}</td>
    <td class="nowrap">${fullMoment(load.at, clock)}</td>
    ${
      point === undefined
        ? html`<td colspan="4" class="number">none of its readings could be compared</td>`
        : html`<td class="number nowrap">${speed(point.speedRpm)}</td>
            <td class="number nowrap">${unbalance(point.residualGmm)}</td>
            <td class="number nowrap">${velocity(point.synchronousMmS)}</td>
            <td class="number nowrap">${expectedMmS === undefined ? say`not learned` : velocity(expectedMmS)}</td>`
    }
  </tr>`;
}
