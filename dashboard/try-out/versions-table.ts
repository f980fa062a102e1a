// The rule sets that were in force, newest first, each to be taken as a draft again.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { rowWords } from '../../shared/rule-words.ts';
import type { RuleSet } from '../../shared/rule-settings.ts';
import type { RulesView } from '../../shared/try-out.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

/** What was put in force a moment ago, so that it does not only vanish from the draft. */
export function forcedLines(lines: readonly TemplateResult[]): TemplateResult | typeof nothing {
  if (lines.length === 0) return nothing;
  return html`<div role="status">
    <p><b>Put in force, and counts from now on:</b></p>
    <ul class="changes">
      ${lines}
    </ul>
    <p class="soft">Limits stand on the pages of their spindles, with who entered them and from where.</p>
  </div>`;
}

export function versionsTable(
  sets: RulesView['sets'],
  clock: PlantClock,
  take: ((rules: RuleSet) => void) | undefined,
): TemplateResult {
  if (sets.length === 0)
    return html`<p class="soft">
      No rule set was put in force: the defaults count. Limits are not part of a rule set; they stand on the pages of
      their spindles.
    </p>`;
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Rule sets that were in force">
    <table>
      <caption>
        Newest first; the first is in force. One before is put back by taking it as the draft and putting it in force.
      </caption>
      <thead>
        <tr>
          <th scope="col">Version</th>
          <th scope="col">From</th>
          <th scope="col">By</th>
          <th scope="col">Why</th>
          <th scope="col">Sets</th>
          ${take === undefined ? nothing : html`<th scope="col" class="not-printed"><span class="only-heard">Take</span></th>`}
        </tr>
      </thead>
      <tbody>
        ${sets.toReversed().map(
          ({ rules, why, by, at }, place) =>
            html`<tr>
              <th scope="row">${rules.version}, ${rules.name}${place === 0 ? html` <b>in force</b>` : nothing}</th>
              <td class="nowrap">${moment(at, clock)}</td>
              <td>${by}<br /><span class="soft small">written by ${rules.author}</span></td>
              <td>${why}</td>
              <td>
                ${rules.rows.length === 0 ? say`the defaults` : rules.rows.map((row) => html`${rowWords(row)}<br />`)}
              </td>
              ${
                take === undefined
                  ? nothing
                  : html`<td class="not-printed">
                      <button aria-label="Take as the draft, version ${rules.version}" @click=${() => take(rules)}>
                        Take as the draft
                      </button>
                    </td>`
              }
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
