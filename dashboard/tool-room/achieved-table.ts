// Does a correction do what was predicted of it? A dot with its middle half around 1, drawn in the table that has the numbers.
import { css, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import type { AchievedRow } from '../../shared/tool-room.ts';
import { methodWords } from '../../shared/method-words.ts';
import { figure, whole } from '../wording/figures.ts';
import { achievedMax, spanOf } from './achieved-shape.ts';

const WIDTH = 240;
const HEIGHT = 26;

export function achievedTable(rows: readonly AchievedRow[]): TemplateResult {
  if (rows.length === 0)
    return html`<p class="soft">
      Not known yet: it takes corrections that were recorded, with a measurement before and one after.
    </p>`;
  const max = achievedMax(rows);
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Achieved against predicted">
    <table class="achieved">
      <thead>
        <tr>
          <th scope="col">Bench</th>
          <th scope="col">Method</th>
          <th scope="col" class="number">Corrections</th>
          <th scope="col">Achieved ÷ predicted, 1 marked</th>
          <th scope="col" class="number">Median</th>
          <th scope="col" class="number">Middle half</th>
          <th scope="col" class="number">Angle off by</th>
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html`<tr>
              <td class="nowrap">${row.bench}</td>
              <th scope="row" class="nowrap">${methodWords(row.method)}</th>
              <td class="number">${whole(row.corrections)}</td>
              <td>${picture(row, max)}</td>
              <td class="number">${figure(row.amountRatio)}</td>
              <td class="number">${figure(row.amountRatioLow)} to ${figure(row.amountRatioHigh)}</td>
              <td class="number">${figure(row.angleOffDeg)}°</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function picture(row: AchievedRow, max: number): TemplateResult {
  const { low, dot, high } = spanOf(row, max, WIDTH);
  const one = WIDTH / max;
  const middle = HEIGHT / 2;
  return html`<svg class="span" width=${WIDTH} height=${HEIGHT} viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true">
    ${svg`<line class="zero" x1="0.5" x2="0.5" y1="4" y2=${HEIGHT - 4} />
      <line class="whole" x1="0" x2=${WIDTH} y1=${middle} y2=${middle} />
      <line class="one" x1=${one} x2=${one} y1="0" y2=${HEIGHT} />
      <line class="half" x1=${low} x2=${high} y1=${middle} y2=${middle} />
      <circle class="dot" cx=${dot} cy=${middle} r="5" />`}
  </svg>`;
}

export const achievedLook = css`
  .span {
    display: block;
  }
  .span .zero,
  .span .whole {
    stroke: var(--rule);
  }
  .span .one {
    stroke: var(--ink);
    stroke-width: 1.4;
    stroke-dasharray: 4 3;
  }
  .span .half {
    stroke: var(--slate);
    stroke-width: 5;
  }
  .span .dot {
    fill: var(--ground);
    stroke: var(--ink);
    stroke-width: 2;
  }
`;
