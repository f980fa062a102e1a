// A row for each spindle, most hours given away first; and the same by assembly and speed, as figures.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { HeadroomProgram, HeadroomRow, HeadroomView, SpeedBound } from '../../shared/headroom.ts';
import type { MoneyView } from '../../shared/money.ts';
import { hourWords, NOT_DECLARED, overrideKeptWords, type InstantsTold } from '../../shared/headroom-words.ts';
import { retell, say } from '../../shared/language/index.ts';
import { mark } from '../drawing/standing-mark.ts';
import { assemblyAddress, spindleAddress } from '../router.ts';
import { MISSING, speed, whole } from '../wording/figures.ts';
import { day, localDay, localTimeOf } from '../wording/instants.ts';
import { unbroken } from '../wording/unbroken.ts';
import { speedsOf } from './speed-axis.ts';
import { speedPicture } from './speed-picture.ts';

const BOUND_WORDS: Readonly<Record<SpeedBound, string>> = {
  balance: say`balance`,
  'marked-maximum': say`the lowest mark of its parts`,
  'spindle-maximum': say`the spindle's maximum`,
};

/** An amount, and what it was reckoned from. */
export function moneyOpened(money: MoneyView | undefined): TemplateResult | typeof nothing {
  if (money === undefined) return nothing;
  return html`${whole(Math.round(money.amount))} ${money.currency}
    <details class="money">
      <summary>of what</summary>
      <span class="small">${retell(money.words)}</span>
    </details>`;
}

export function spindleTable(
  rows: readonly HeadroomRow[],
  view: HeadroomView,
  { endRpm, zone }: { readonly endRpm: number; readonly zone: string },
): TemplateResult {
  const paid = view.money !== undefined;
  const couldSince = view.spindles.flatMap(({ programsSince }) => programsSince ?? []).toSorted((a, b) => a - b)[0];
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Hours given away by spindle">
    <table>
      <thead>
        <tr>
          <th scope="col">Spindle</th>
          <th scope="col">Speeds of what it cut longest</th>
          <th scope="col" class="number">In the cut</th>
          <th scope="col" class="number">Override down</th>
          <th scope="col" class="number">Given away</th>
          ${paid ? html`<th scope="col">By your rate</th>` : nothing}
          <th scope="col" class="number">
            Could save beyond${couldSince === undefined ? nothing : say`, since ${localDay(couldSince, zone)}`}
          </th>
        </tr>
      </thead>
      <tbody>
        ${rows.map((row) => spindleRow(row, { endRpm, paid, told: instantsIn(zone) }))}
      </tbody>
    </table>
  </div>`;
}

/** "4 Mar 2031 09:10", by the plant's clock: as the rest of the page, which need not say it. */
export function instantsIn(zone: string): InstantsTold {
  const told = (at: number): string => {
    const { hour, minute } = localTimeOf(at, zone);
    return `${day(at, zone)} ${hour}:${minute}`;
  };
  return { first: told, again: told };
}

interface Drawn {
  readonly endRpm: number;
  readonly paid: boolean;
  readonly told: InstantsTold;
}

function spindleRow(row: HeadroomRow, { endRpm, paid, told }: Drawn): TemplateResult {
  const speeds = speedsOf(row);
  const { programmedRpm, actualRpm, assemblyId } = speeds;
  const { kept } = row;
  return html`<tr class=${kept === undefined ? '' : 'with-kept'}>
      <th scope="row">
        <a href=${spindleAddress(row.spindleId)}>${row.spindleId}</a><br /><span class="small soft light"
          >${row.machine === NOT_DECLARED ? say`not declared` : row.machine}</span
        >
      </th>
      <td>
        ${speedPicture(speeds, endRpm)}
        <span class="small"
          >${assemblyId === undefined ? say`nothing cut` : html`${assemblyId}: ${speed(actualRpm === undefined ? undefined : Math.round(actualRpm))} of ${speed(programmedRpm)}`}</span
        >
      </td>
      <td class="number">${hourWords(row.cutHours)}</td>
      <td class="number">${hourWords(row.reducedHours)}</td>
      <td class="number"><b>${hourWords(row.awayHours)}</b></td>
      ${paid ? html`<td>${row.awayHours === 0 ? MISSING : moneyOpened(row.money)}</td>` : nothing}
      <td class="number">${row.couldHours === undefined ? MISSING : hourWords(row.couldHours)}</td>
    </tr>
    ${kept === undefined ? nothing : keptRow(kept, told, paid ? 7 : 6)}`;
}

/** Over the whole width: in a column of its picture the sentence would be a tower on a tablet. */
function keptRow(kept: NonNullable<HeadroomRow['kept']>, told: InstantsTold, columns: number): TemplateResult {
  return html`<tr>
    <td colspan=${columns}>
      <p class="kept small">${mark('watch', { size: 16 })} ${unbroken(overrideKeptWords(kept, told))}</p>
    </td>
  </tr>`;
}

/** Beyond this many rows a browser would lay out a table for seconds; the interface has them all. */
const PROGRAM_ROWS_MAX = 400;

export function programTable(rows: readonly HeadroomRow[]): TemplateResult {
  const programs = rows.flatMap((row) => row.programs.map((program) => [row.spindleId, program] as const));
  return html`<details>
    <summary>The same as figures, by assembly and programmed speed</summary>
    <p class="small soft">
      This week and the four before it, whatever span is chosen above: older ones are not told apart. The limits are as
      they are known today.
    </p>
    <div class="scrolls" tabindex="0" role="group" aria-label="By assembly and programmed speed">
      <table>
        <thead>
          <tr>
            <th scope="col">Spindle</th>
            <th scope="col">Assembly</th>
            <th scope="col" class="number">Programmed, rpm</th>
            <th scope="col" class="number">Actual, mean, rpm</th>
            <th scope="col" class="number">Balance shown up to, rpm</th>
            <th scope="col" class="number">Lowest mark, rpm</th>
            <th scope="col" class="number">Spindle's maximum, rpm</th>
            <th scope="col" class="number">In the cut</th>
            <th scope="col" class="number">Given away</th>
            <th scope="col" class="number">Could save</th>
            <th scope="col">Bounded by</th>
          </tr>
        </thead>
        <tbody>
          ${programs.slice(0, PROGRAM_ROWS_MAX).map(([spindleId, program]) => programRow(spindleId, program))}
        </tbody>
      </table>
    </div>
    ${programs.length > PROGRAM_ROWS_MAX ? html`<p class="soft small">and ${programs.length - PROGRAM_ROWS_MAX} more, at the interface</p>` : nothing}
  </details>`;
}

/** The column says the unit. */
const rpm = (value: number | undefined): string => (value === undefined ? MISSING : whole(Math.round(value)));

function programRow(spindleId: string, program: HeadroomProgram): TemplateResult {
  const { assemblyId, programmedRpm, actualRpm, balanceUpToRpm, markedRpm, maximumRpm, couldHours, allowedBy } =
    program;
  return html`<tr>
    <th scope="row"><a href=${spindleAddress(spindleId)}>${spindleId}</a></th>
    <td><a href=${assemblyAddress(assemblyId)}>${assemblyId}</a></td>
    <td class="number">${rpm(programmedRpm)}</td>
    <td class="number">${rpm(actualRpm)}</td>
    <td class="number">${rpm(balanceUpToRpm)}</td>
    <td class="number">${rpm(markedRpm)}</td>
    <td class="number">${rpm(maximumRpm)}</td>
    <td class="number">${hourWords(program.cutHours)}</td>
    <td class="number">${hourWords(program.awayHours)}</td>
    <td class="number">${couldHours === undefined ? MISSING : hourWords(couldHours)}</td>
    <td>${allowedBy === undefined ? MISSING : BOUND_WORDS[allowedBy]}</td>
  </tr>`;
}
