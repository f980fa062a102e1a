// Date bars: for each course the days between which it reaches its limit, on one calendar for all, and beside it of what.
import { css, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { AheadRow } from '../../shared/ahead-plant.ts';
import { spindleAddress } from '../router.ts';
import { day, type PlantClock } from '../wording/instants.ts';
import { backTestWords, courseWords, limitWords, toldWords } from './ahead-row-words.ts';
import { axisTicks, barPlaces, placeOf, type DateAxis } from './date-axis.ts';

const HIGH = 30;
const MIDDLE = HIGH / 2;

export function dateBars(rows: readonly AheadRow[], axis: DateAxis, clock: PlantClock): TemplateResult {
  return html`<div class="bars">
    <div class="row head">
      <span class="who soft small">10 %, 50 % (ring) and 90 % by that day</span>${axisDrawn(axis, clock)}
    </div>
    <ol>
      ${rows.map((row) => rowDrawn(row, axis, clock))}
    </ol>
  </div>`;
}

/** A word there would have the line of today through it. */
const nearTo = (place: number, today: number): boolean => Math.abs(place - today) < 6;

function axisDrawn(axis: DateAxis, { zone, now }: PlantClock): TemplateResult {
  const today = placeOf(now, axis);
  return html`<svg class="axis" height="40" width="100%" role="img" aria-label="Days, ${zone}">
    <text class="today" x="${today}%" y="12" text-anchor="start">today</text>
    <line class="now" x1="${today}%" x2="${today}%" y1="16" y2="40" />
    ${axisTicks(axis, zone).map(
      ({
        at,
        word,
      }) => svg`${nearTo(placeOf(at, axis), today) ? '' : svg`<text x="${placeOf(at, axis)}%" y="28" text-anchor="middle">${word}</text>`}
        <line class="tick" x1="${placeOf(at, axis)}%" x2="${placeOf(at, axis)}%" y1="33" y2="40" />`,
    )}
  </svg>`;
}

function rowDrawn(row: AheadRow, axis: DateAxis, clock: PlantClock): TemplateResult {
  const { zone, now } = clock;
  return html`<li class="row">
    <span class="who">
      <a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a>
      <span class="small course">${courseWords(row)}</span>
      <span class="small soft">${row.machine}, ${row.cell}</span>
    </span>
    <span class="track">
      <svg height=${HIGH} width="100%" role="img" aria-label=${barWords(row, zone)}>
        <line class="now" x1="${placeOf(now, axis)}%" x2="${placeOf(now, axis)}%" y1="0" y2=${HIGH} />
        ${barDrawn(row, axis)}
      </svg>
      <b class="dates">${barWords(row, zone)}</b>
    </span>
    <span class="told small">
      <span>${limitWords(row)}</span>
      <span>${toldWords(row, zone)}</span>
      <span class="soft">${backTestWords(row, zone)}</span>
    </span>
  </li>`;
}

function barDrawn(row: AheadRow, axis: DateAxis) {
  const { p10, p50, p90, open } = barPlaces(row, axis);
  return svg`<line class="ground" x1="0%" x2="100%" y1=${MIDDLE} y2=${MIDDLE} />
    <line class=${open ? 'bar open' : 'bar'} x1="${p10}%" x2="${p90}%" y1=${MIDDLE} y2=${MIDDLE} />
    <line class="end" x1="${p10}%" x2="${p10}%" y1=${MIDDLE - 8} y2=${MIDDLE + 8} />
    ${open ? '' : svg`<line class="end" x1="${p90}%" x2="${p90}%" y1=${MIDDLE - 8} y2=${MIDDLE + 8} />`}
    <circle class="middle" cx="${p50}%" cy=${MIDDLE} r="6" />`;
}

/** Never one day alone. */
function barWords({ p10At, p50At, p90At }: AheadRow, zone: string): string {
  const [first, middle] = [day(p10At ?? p50At, zone), day(p50At, zone)];
  return p90At === undefined
    ? say`about ${middle}; not before ${first} with 90 %, may take longer than a year`
    : say`about ${middle}; 80 % between ${first} and ${day(p90At, zone)}`;
}

export const barsLook = css`
  .bars ol {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  .row {
    display: grid;
    grid-template-columns: minmax(9rem, 13rem) minmax(12rem, 1fr) minmax(14rem, 24rem);
    column-gap: 1.25rem;
    padding: 0.5rem 0;
    border-bottom: 1px solid var(--rule);
    align-items: start;
  }
  .row.head {
    position: sticky;
    top: 0;
    z-index: 1;
    background: var(--ground);
    align-items: end;
    padding: 0;
    border-bottom-color: var(--slate);
  }
  .who,
  .told,
  .track {
    display: flex;
    flex-direction: column;
    min-width: 0;
  }
  .who a {
    font-weight: 650;
    font-size: 1.0625rem;
  }
  .dates {
    font-size: var(--small);
    font-weight: 600;
  }
  .bars svg {
    display: block;
    overflow: visible;
  }
  .bars text {
    font: 12px var(--font);
    fill: var(--slate);
    font-variant-numeric: tabular-nums;
  }
  .bars text.today {
    fill: var(--ink);
    font-weight: 650;
  }
  .bars .tick {
    stroke: var(--slate);
  }
  .bars .now {
    stroke: var(--ink);
    stroke-width: 1.5;
  }
  .bars .ground {
    stroke: var(--rule);
  }
  .bars .bar {
    stroke: var(--level-2);
    stroke-width: 9;
  }
  .bars .bar.open {
    stroke-dasharray: 7 3;
  }
  .bars .end {
    stroke: var(--ink);
    stroke-width: 1.5;
  }
  .bars .middle {
    fill: var(--ground);
    stroke: var(--ink);
    stroke-width: 2.4;
  }
  @media screen and (pointer: coarse) {
    .who a {
      display: inline-flex;
      align-items: center;
      min-height: var(--target);
      min-width: var(--target);
    }
  }
  @media (max-width: 60rem) {
    .row {
      grid-template-columns: minmax(7rem, 11rem) minmax(0, 1fr);
    }
    .row > .who {
      grid-row: span 2;
    }
    .row.head > .who {
      grid-row: auto;
    }
    .told {
      grid-column: 2;
      padding-top: 0.35rem;
    }
  }
  @media print {
    .row.head {
      position: static;
    }
    .row {
      grid-template-columns: 8rem minmax(0, 1fr) 14rem;
    }
    .row > .who {
      grid-row: auto;
    }
    .told {
      grid-column: auto;
    }
  }
`;
