// What cutters lasted against residual unbalance: the effect with its interval, or what is missing, in words.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { numberLocale, retell, say } from '../../shared/language/index.ts';
import type { CutterLifeView } from '../../shared/tool-life.ts';
import { MISSING, whole } from '../wording/figures.ts';
import { moneyOpened } from './headroom-table.ts';

const ROWS_MAX = 100;

export function cutterTable(cutters: readonly CutterLifeView[]): TemplateResult {
  if (cutters.length === 0)
    return html`<p class="soft">
      No tool life has been told. A machine control reports it with the message <i>life</i>.
    </p>`;
  const paid = cutters.some(({ changeCost }) => changeCost !== undefined);
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Tool life against residual unbalance">
      <table>
        <thead>
          <tr>
            <th scope="col">Cutter</th>
            <th scope="col" class="number">Lives</th>
            <th scope="col" class="number">Worn or broken</th>
            <th scope="col" class="number">Not measured</th>
            <th scope="col" class="number">Mean, min</th>
            <th scope="col" class="number">Life per tenth more, × (95 %)</th>
            ${paid ? html`<th scope="col">A change costs</th>` : ''}
            <th scope="col">What that says</th>
          </tr>
        </thead>
        <tbody>
          ${cutters.slice(0, ROWS_MAX).map(
            (row) =>
              html`<tr>
                <th scope="row">${row.cutter}</th>
                <td class="number">${whole(row.lives)}</td>
                <td class="number">${whole(row.ended)}</td>
                <td class="number">${whole(row.withoutResidual)}</td>
                <td class="number">${whole(Math.round(row.meanMinutes))}</td>
                <td class="number">${effectWords(row.effect)}</td>
                ${paid ? html`<td>${row.changeCost === undefined ? MISSING : moneyOpened(row.changeCost)}</td>` : ''}
                <td>${retell(row.words)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
    ${cutters.length > ROWS_MAX ? html`<p class="soft small">and ${cutters.length - ROWS_MAX} more, at the interface</p>` : ''}`;
}

const hundredths = (times: number): string =>
  times.toLocaleString(numberLocale(), {
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
    useGrouping: false,
  });

function effectWords(effect: CutterLifeView['effect']): string {
  if (effect === undefined) return MISSING;
  const { timesPerTenth, low, high } = effect;
  const end = (times: number | undefined): string => (times === undefined ? '?' : hundredths(times));
  return say`${hundredths(timesPerTenth)} (${end(low)} to ${end(high)})`;
}
