// Looking ahead on a spindle's page: a sentence for each speed, the picture of the one that comes first, and the same as tables.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { AheadView } from '../../shared/ahead.ts';
import type { SpindleView } from '../../shared/views.ts';
import { amount, MISSING, speed, unitOf, velocity } from '../wording/figures.ts';
import { day, localDay, type PlantClock } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import './ahead-picture.ts';
import { foremost } from './ahead-shape.ts';

const QUANTITY_WORDS = { overall: say`overall`, synchronous: '1×' } as const;
const TREND_WORDS: Readonly<Record<AheadView['trend'], string>> = {
  rising: say`rises`,
  falling: say`falls`,
  none: say`no trend`,
  'too-few': say`too few days`,
};
const DAYS_SHOWN_MAX = 120;

/** `chosen`: which of the views is drawn; undefined: the one that comes first. */
export function aheadSection(
  { ahead }: SpindleView,
  clock: PlantClock,
  chosen: string | undefined,
  choose: (key: string) => void,
): TemplateResult {
  const shown = ahead?.find((view) => keyOf(view) === chosen) ?? foremost(ahead ?? []);
  return html`<section class="below" aria-labelledby="ahead">
    <h2 id="ahead">Looking ahead</h2>
    ${
      ahead === undefined || shown === undefined
        ? html`<p class="soft">
            No whole day at a steady speed has ended yet. A release by maintenance, declared work and another sensor
            begin the levels of a spindle anew.
          </p>`
        : html`${chooser(ahead, shown, choose)}
            <p>
              At about ${speed(shown.speedRpm)}: ${retell(shown.words)}
              ${shown.limit === undefined ? nothing : html`<span class="soft">(${shown.limit.source})</span>`}
            </p>
            ${toldLine(shown, clock)}
            <ahead-picture .view=${shown} .clock=${clock}></ahead-picture>
            <save-picture
              .name=${say`Looking ahead at about ${speed(shown.speedRpm)}`}
              table=".ahead-days"
            ></save-picture>
            ${coursesTable(ahead, clock)} ${daysTable(shown, clock)}`
    }
    <p class="soft small">
      Daily levels of the warm spindle, out of the cut, nothing of it on hold. It says how things go on if nothing
      changes; a part may fail long before. The limits of the machine maker govern.
    </p>
  </section>`;
}

/** That it was said, and when: so that nobody has to remember it. */
function toldLine({ told }: AheadView, { zone }: PlantClock) {
  if (told === undefined) return nothing;
  const { at, p10At, p50At, p90At } = told;
  const between =
    p10At === undefined || p90At === undefined
      ? ''
      : say`, with 80 % between ${day(p10At, zone)} and ${day(p90At, zone)}`;
  return html`<p class="soft small">On record since ${day(at, zone)}: about ${day(p50At, zone)}${between}.</p>`;
}

const keyOf = ({ speedBin, quantity }: AheadView): string => `${speedBin} ${quantity}`;

function chooser(views: readonly AheadView[], shown: AheadView, choose: (key: string) => void) {
  if (views.length < 2) return nothing;
  const onChange = (event: Event): void => {
    choose((event.target as HTMLSelectElement).value);
  };
  return html`<div class="at-speed not-printed">
    <label for="ahead-of">of</label>
    <select id="ahead-of" @change=${onChange}>
      ${views.map((view) => html`<option value=${keyOf(view)} ?selected=${view === shown}>${nameOf(view)}</option>`)}
    </select>
  </div>`;
}

const nameOf = ({ speedRpm, quantity }: AheadView): string => `${speed(speedRpm)}, ${QUANTITY_WORDS[quantity]}`;

function coursesTable(views: readonly AheadView[], { zone }: PlantClock): TemplateResult {
  const told = views.filter(({ trend }) => trend !== 'too-few');
  const untold = views.filter(({ trend }) => trend === 'too-few');
  return html`${told.length === 0 ? nothing : toldTable(told, zone)}
  ${
    untold.length === 0
      ? nothing
      : html`<p class="soft small">Too few days yet to tell a trend: at about ${listed(untold.map(nameOf))}.</p>`
  }`;
}

const listed = (names: readonly string[]): string => names.join('; ');

function toldTable(views: readonly AheadView[], zone: string): TemplateResult {
  return html`<div
    class="scrolls"
    tabindex="0"
    role="group"
    aria-label="Trend at each speed, and when the limit is reached"
  >
    <table>
      <thead>
        <tr>
          <th scope="col">At about</th>
          <th scope="col">50 % by; 10 and 90 %</th>
          <th scope="col" class="number">Limit</th>
          <th scope="col">Trend, ${unitOf('mm/s')} a week, 90 %</th>
          <th scope="col">Broke about</th>
        </tr>
      </thead>
      <tbody>
        ${views.map((view) => courseRow(view, zone))}
      </tbody>
    </table>
  </div>`;
}

function courseRow(view: AheadView, zone: string): TemplateResult {
  const broke = view.breaks.at(-1)?.at;
  return html`<tr>
    <th scope="row"><span class="nowrap">${speed(view.speedRpm)}</span>, ${QUANTITY_WORDS[view.quantity]}</th>
    <td class="nowrap">${view.p50At === undefined ? say`no day` : day(view.p50At, zone)}${earlyAndLate(view, zone)}</td>
    <td class="number nowrap">${view.limit === undefined ? say`none ahead` : velocity(view.limit.mmS)}</td>
    <td class="nowrap">${TREND_WORDS[view.trend]}${slopeLine(view)}</td>
    <td class="nowrap">${broke === undefined ? '' : localDay(broke, zone)}</td>
  </tr>`;
}

function earlyAndLate({ p10At, p50At, p90At }: AheadView, zone: string) {
  if (p10At === undefined && (p50At === undefined || p90At === undefined)) return nothing;
  const early = p10At === undefined ? MISSING : localDay(p10At, zone);
  const late = p90At === undefined ? say`not told` : localDay(p90At, zone);
  return html`<br /><span class="small soft">${early}; ${late}</span>`;
}

/** Beneath the word: beside it, the columns after it would lie beyond the edge of a desk's screen. */
function slopeLine({ slope }: AheadView) {
  if (slope === undefined) return nothing;
  const end = (value: number | undefined): string => (value === undefined ? '?' : amount(value, 'mm/s'));
  return html`<br />${amount(slope.perWeekMmS, 'mm/s')} (${end(slope.lowMmS)} to ${end(slope.highMmS)})`;
}

function daysTable({ days, speedRpm, quantity, breaks }: AheadView, { zone }: PlantClock): TemplateResult {
  const newest = days.toReversed().slice(0, DAYS_SHOWN_MAX);
  return html`<details>
    <summary>The days as a table</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label="Levels day by day">
      <table class="ahead-days">
        <caption>
          ${QUANTITY_WORDS[quantity]} velocity, ${unitOf('mm/s')} RMS, at about ${speed(speedRpm)}
        </caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col" class="number">Level</th>
            <th scope="col">Break</th>
          </tr>
        </thead>
        <tbody>
          ${newest.map(
            ({ at, mmS }) =>
              html`<tr>
                <td>${day(at, zone)}</td>
                <td class="number">${amount(mmS, 'mm/s')}</td>
                <td>${breakWords(breaks, at, zone)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}

function breakWords(breaks: AheadView['breaks'], at: number, zone: string): string {
  const broke = breaks.find((one) => one.at === at);
  if (broke === undefined) return '';
  return say`first after it; 90 %: ${day(broke.earliest, zone)} to ${day(broke.latest, zone)}`;
}
