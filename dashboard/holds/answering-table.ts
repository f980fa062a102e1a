// The levels in force as a table that can be read aloud: a row for each, in words, with who declared it and why.
import { css, nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { DeviationNames } from '../../shared/answering-limits.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import { PRIORITIES, PRIORITY_WORDS } from '../../shared/priority-words.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { waitWords } from './answering-draft.ts';

export const NAMES_WORDS: Readonly<Record<DeviationNames, string>> = { 1: say`one name`, 2: say`two names` };

export const levelsLook = css`
  thead th[colspan] {
    border-bottom-color: var(--rule);
    padding-bottom: 0.15rem;
  }
  thead td {
    border-bottom: 1px solid var(--slate);
  }
  tbody th {
    white-space: nowrap;
  }
`;

export function levelsInForce(view: AnsweringView, clock: PlantClock): TemplateResult {
  return html`${view.levels.length === 0 ? html`<p>No level is declared: of a hold that nobody answers nobody else is told.</p>` : levelsTable(view)}
    <p>A deviation needs ${NAMES_WORDS[view.deviationNames]} before a hold goes on with it.</p>
    <p class="soft" role="status">${declaredBy(view, clock)}</p>`;
}

function levelsTable({ levels }: AnsweringView): TemplateResult {
  return html`<div class="scrolls">
    <table>
      ${levelsHead(false)}
      <tbody>
        ${levels.map(
          ({ afterMin, to }, index) =>
            html`<tr>
              <th scope="row">Level ${index + 1}</th>
              ${PRIORITIES.map((priority) => html`<td>${waitWords(afterMin[priority])}</td>`)}
              <td>${to.map((role) => ROLE_WORDS[role]).join(', ')}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** The same columns for what is in force and for what is typed. */
export function levelsHead(typed: boolean): TemplateResult {
  return html`<thead>
    <tr>
      <td rowspan="2"></td>
      <th scope="colgroup" colspan=${PRIORITIES.length}>After so long without an answer that is wanted</th>
      <th scope="col" rowspan="2">Who is told then</th>
      ${typed ? html`<td rowspan="2"></td>` : nothing}
    </tr>
    <tr>
      ${PRIORITIES.map((priority) => html`<th scope="col">${PRIORITY_WORDS[priority]}</th>`)}
    </tr>
  </thead>`;
}

function declaredBy({ declaredBy: by, declaredAt, note }: AnsweringView, clock: PlantClock): TemplateResult {
  if (by === undefined)
    return html`As the program comes: common practice, no source. Nobody here has declared another.`;
  return html`Declared by ${by}, ${moment(declaredAt, clock)}: ${asSentence(note)}`;
}
