// One message that was kept but not read: why, which field, what was expected and what came, its beginning, and reading it again.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say, textOf } from '../../shared/language/index.ts';
import type { RejectView } from '../../shared/views.ts';
import { count } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

export interface RejectGiven {
  /** What came of the last try to read it again. */
  readonly told: string | undefined;
  /** Absent for whoever may not. */
  readonly retry: (() => void) | undefined;
}

/** What came is shown as it came; only a text of ours that stands for it, such as "nothing", is told. */
export function rejectItem(reject: RejectView, clock: PlantClock, { told, retry }: RejectGiven): TemplateResult {
  const { problem } = reject;
  return html`<li>
    <div class="what">
      <h3>${reject.device}: ${retell(problem.title)}</h3>
      <p class="soft small">
        ${moment(reject.at, clock)}, position ${reject.position}, ${count(reject.bytes, 'byte', 'bytes')} on
        <span class="fixed">${reject.topic}</span>
      </p>
      ${problem.detail === undefined ? nothing : html`<p>${retell(problem.detail)}</p>`}
      ${
        problem.errors === undefined || problem.errors.length === 0
          ? nothing
          : html`<table class="faults">
              <thead>
                <tr>
                  <th scope="col">Field</th>
                  <th scope="col">Expected</th>
                  <th scope="col">Came</th>
                </tr>
              </thead>
              <tbody>
                ${problem.errors.map(
                  (fault) =>
                    html`<tr>
                      <td class="fixed">${fault.pointer === '' ? say`the whole message` : fault.pointer}</td>
                      <td>${retell(fault.want)}</td>
                      <td class="fixed">${textOf(fault.got)}</td>
                    </tr>`,
                )}
              </tbody>
            </table>`
      }
    </div>
    <pre tabindex="0" aria-label="Beginning of the message at position ${reject.position}">${reject.excerpt}</pre>
    <div class="again not-printed">
      ${retry === undefined || reject.state === 'retried' ? nothing : html`<button @click=${retry}>Read again</button>`}
      <span role="status">${told ?? (reject.state === 'retried' ? say`read again since` : nothing)}</span>
    </div>
  </li>`;
}
