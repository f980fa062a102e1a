// The table of what is declared: a line for each limit, maximum and table of zones, with whose it is and who entered it.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import { spindleAddress } from '../router.ts';
import { figure, MISSING, speed, velocity } from '../wording/figures.ts';
import { day, moment, type PlantClock } from '../wording/instants.ts';
import type { LimitLine } from './limit-lines.ts';

export function linesTable(lines: readonly LimitLine[], clock: PlantClock): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Limits of all spindles">
    <table>
      <thead>
        <tr>
          <th scope="col">Spindle</th>
          <th scope="col">Cell</th>
          <th scope="col">Of</th>
          <th scope="col">At speeds</th>
          <th scope="col" class="number">Value</th>
          <th scope="col">Source</th>
          <th scope="col">Source dated</th>
          <th scope="col">Entered by</th>
          <th scope="col">Declared last</th>
        </tr>
      </thead>
      <tbody>
        ${lines.map((line, place) => rowOf(line, lines[place - 1], clock))}
      </tbody>
    </table>
  </div>`;
}

function rowOf(line: LimitLine, before: LimitLine | undefined, clock: PlantClock): TemplateResult {
  const { row } = line;
  const first = before?.row !== row;
  return html`<tr class=${first ? 'first' : 'more'}>
    <th scope="row"><a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a></th>
    <td class="nowrap">${row.cell ?? MISSING}</td>
    ${saidOf(line, clock)}
    <td class="nowrap">${row.declaredAt === undefined ? say`by nobody` : moment(row.declaredAt, clock)}</td>
  </tr>`;
}

function saidOf(line: LimitLine, clock: PlantClock): TemplateResult {
  switch (line.kind) {
    case 'maximum':
      return html`<td>maximum speed</td>
        <td>${MISSING}</td>
        <td class="number">${speed(line.maxSpeedRpm)}</td>
        <td class="soft">of the machine maker, as declared</td>
        <td>${MISSING}</td>
        <td>${line.row.declaredBy ?? MISSING}</td>`;
    case 'limit':
      return html`<td>${line.limit.quantity === 'overall' ? say`overall velocity` : say`1× velocity`}</td>
        <td class="nowrap">${speed(line.limit.fromSpeedRpm)} to ${speed(line.limit.toSpeedRpm)}</td>
        <td class="number">${velocity(line.limit.limitMmS)}</td>
        ${whose(line.limit, clock)}`;
    case 'zones':
      return html`<td class="zones">overall, zones A/B, B/C, C/D</td>
        <td>where no limit is in force</td>
        <td class="number">${figure(line.zones.abMmS)}, ${figure(line.zones.bcMmS)}, ${velocity(line.zones.cdMmS)}</td>
        ${whose(line.zones, clock)}`;
    case 'none':
      return html`<td><b>no limit</b></td>
        <td>${MISSING}</td>
        <td class="number">${MISSING}</td>
        <td>none</td>
        <td>${MISSING}</td>
        <td>${MISSING}</td>`;
  }
}

interface Whose {
  readonly source: string;
  readonly sourceDate?: string | undefined;
  readonly enteredBy?: string | undefined;
  readonly generic?: boolean | undefined;
}

function whose({ source, sourceDate, enteredBy, generic }: Whose, clock: PlantClock): TemplateResult {
  return html`<td class="source">${source}${generic === true ? html`; <b>${GENERIC_WORDS}</b>` : nothing}</td>
    <td class="nowrap">${sourceDate === undefined ? say`no day named` : day(Date.parse(sourceDate), clock.zone)}</td>
    <td>${enteredBy ?? MISSING}</td>`;
}
