// The written parts of a hold: the boxes that fill themselves, every step on record, who was told and whether it arrived.
import { nothing, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { retell, say, sayCount } from '../../shared/language/index.ts';
import { FOUND_WORDS } from '../../shared/cause-words.ts';
import type { HoldView, NoticeView } from '../../shared/views.ts';
import type { Api } from '../api.ts';
import { assemblyAddress, holdAddress, spindleAddress } from '../router.ts';
import { speed } from '../wording/figures.ts';
import { HOLD_STATE_WORDS, noteTold } from '../wording/hold-words.ts';
import { duration, moment, type PlantClock } from '../wording/instants.ts';

const POSITIONS_SHOWN_MAX = 12;

const AWAITED_WORDS = {
  'verification-run': say`a run is to verify it`,
  'second-name': say`a second name is asked for`,
} as const;

export function conditionBoxes(hold: HoldView): TemplateResult {
  if (hold.conditions.length === 0)
    return html`<p class="soft">Only a named deviation, or that it was raised in error.</p>`;
  return html`<ul class="boxes">
      ${hold.conditions.map(
        (condition) =>
          html`<li>
            <svg width="28" height="28" viewBox="0 0 28 28" aria-hidden="true">
              <rect x="2" y="2" width="24" height="24" />
              ${condition.met ? svg`<rect class="filled" x="7" y="7" width="14" height="14" />` : ''}
            </svg>
            <span
              >${retell(condition.words)}<span class="soft small told"
                >${condition.met ? say`it has happened` : hold.open ? say`not yet` : say`it did not end by this`}</span
              ></span
            >
            ${condition.parts === undefined ? nothing : partBoxes(condition.parts)}
          </li>`,
      )}
    </ul>
    ${
      hold.open
        ? html`<p class="soft small">
            ${hold.conditions.length > 1 ? say`Any one of them ends it.` : nothing} A box fills by itself when it has
            happened.
          </p>`
        : nothing
    }`;
}

/** What it takes one after the other, each with how far it is. */
function partBoxes(parts: NonNullable<HoldView['conditions'][number]['parts']>): TemplateResult {
  return html`<ol class="parts">
    ${parts.map(
      ({ words, done, told }) =>
        html`<li>
          <b>${done ? say`Done` : say`Open`}:</b> ${retell(words)}<span class="soft small told">${retell(told)}</span>
        </li>`,
    )}
  </ol>`;
}

/** A hold that stands for another is named in the words: one press leads there. */
function withHoldsLinked(words: string): readonly (string | TemplateResult)[] {
  return words
    .split(/\b(H-\d+-\d+)\b/)
    .map((piece, place) => (place % 2 === 0 ? piece : html`<a href=${holdAddress(piece)}>${piece}</a>`));
}

export function stepsTable(hold: HoldView, clock: PlantClock): TemplateResult {
  return html`<section aria-labelledby="steps">
    <h2 id="steps">Every step</h2>
    <div class="scrolls" tabindex="0" role="group" aria-label="Steps">
      <table>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Step</th>
            <th scope="col">Who</th>
            <th scope="col">In words</th>
          </tr>
        </thead>
        <tbody>
          ${hold.steps.map(
            (step) =>
              html`<tr>
                <td class="nowrap">${moment(step.at, clock)}</td>
                <td>
                  ${HOLD_STATE_WORDS[step.state]}${step.deviation === true ? html`, <strong>named deviation</strong>` : nothing}${step.awaits === undefined ? nothing : html`, <strong>${AWAITED_WORDS[step.awaits]}</strong>`}
                </td>
                <td>${step.askedBy === undefined ? nothing : say`${step.askedBy} and `}${step.by}</td>
                <td>
                  ${step.note === undefined ? nothing : withHoldsLinked(noteTold(hold, step) ?? '')}${step.lateMs === undefined ? nothing : html` <span class="soft">late, ${duration(step.lateMs)} after it was measured</span>`}${step.found === undefined ? nothing : html` <span class="soft">it was: ${FOUND_WORDS[step.found]}</span>`}
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>`;
}

const OUTCOME_WORDS: Readonly<Record<NoticeView['outcome'], string>> = {
  sent: say`arrived`,
  failed: say`failed, is tried again`,
  'given-up': say`given up`,
};

export function noticesTable(hold: HoldView, clock: PlantClock): TemplateResult {
  return html`<section aria-labelledby="notices">
    <h2 id="notices">Who was told</h2>
    ${
      hold.notices.length === 0
        ? html`<p>
            Nobody by notice. It is on this screen and on MQTT; no mail or webhook has been set, or it has not been
            tried yet.
          </p>`
        : html`<div class="scrolls" tabindex="0" role="group" aria-label="Notices">
            <table>
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">By</th>
                  <th scope="col">Recipient</th>
                  <th scope="col">Try</th>
                  <th scope="col">Outcome</th>
                </tr>
              </thead>
              <tbody>
                ${hold.notices.map(
                  (notice) =>
                    html`<tr>
                      <td class="nowrap">${moment(notice.at, clock)}</td>
                      <td>${notice.channel}</td>
                      <td>${notice.to}</td>
                      <td>${notice.attempt}</td>
                      <td>
                        ${notice.outcome === 'sent' ? OUTCOME_WORDS.sent : html`<strong>${OUTCOME_WORDS[notice.outcome]}</strong>`}${notice.detail === undefined ? nothing : html` <span class="soft">${retell(notice.detail)}</span>`}
                      </td>
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
  </section>`;
}

/** What hung on a bench when it was put in doubt. */
function touchedLines({ assemblies, spindles }: NonNullable<HoldView['evidence']['touched']>): TemplateResult {
  if (assemblies.length === 0) return html`<p>No assembly stood on its results when it was put in doubt.</p>`;
  return html`<p>
    On its results stood
    ${assemblies.map((id, nth) => html`${nth === 0 ? nothing : ', '}<a href=${assemblyAddress(id)}>${id}</a>`)}${spindles.length === 0 ? nothing : html`, in ${spindles.map((id, nth) => html`${nth === 0 ? nothing : ', '}<a href=${spindleAddress(id)}>${id}</a>`)}`}:
    measure them again, on a bench that is to be believed.
  </p>`;
}

const saidAgain = (times: number): string =>
  sayCount(times, 'the same was said again once, not sent again', 'the same was said again {0} times, not sent again');

/** What it is about, and the messages behind it, each to be opened as it came. */
export function evidenceLine(hold: HoldView, api: Api): TemplateResult {
  const { assemblyId, buildId, spindleId, speedRpm, positions, device, touched } = hold.evidence;
  return html`<p class="evidence">
      ${assemblyId === undefined ? nothing : html`<span>assembly <a href=${assemblyAddress(assemblyId)}>${assemblyId}</a></span>`}
      ${buildId === undefined ? nothing : html`<span>build ${buildId}</span>`}
      ${spindleId === undefined ? nothing : html`<span>spindle <a href=${spindleAddress(spindleId)}>${spindleId}</a></span>`}
      ${speedRpm === undefined ? nothing : html`<span>at ${speed(speedRpm)}</span>`}
      ${device === undefined ? nothing : html`<span>sensor ${device}</span>`}
      ${hold.rules === undefined ? nothing : html`<span class="soft">${hold.rules}</span>`}
    </p>
    ${touched === undefined ? nothing : touchedLines(touched)}
    <div class="evidence">
      <span class="soft">messages behind it, by position in the journal</span>
      ${positions.slice(0, POSITIONS_SHOWN_MAX).map((position) => html`<raw-message .api=${api} .position=${position}></raw-message>`)}
      ${positions.length > POSITIONS_SHOWN_MAX ? html`<span class="soft">and ${positions.length - POSITIONS_SHOWN_MAX} more</span>` : nothing}
      ${hold.dependents.length === 0 ? nothing : html`<span class="soft">${saidAgain(hold.dependents.length)}</span>`}
    </div>`;
}

/** "in place of H-4610-1, which m-roth had, raised 22:47". */
export function inPlaceOf(before: NonNullable<HoldView['inPlaceOf']>[number], clock: PlantClock): TemplateResult {
  const { holdId, raisedAt, takenBy } = before;
  const link = html`<a href=${holdAddress(holdId)}>${holdId}</a>`;
  const since = moment(raisedAt, clock);
  return html`<span class="soft"
    >${takenBy === undefined ? html`in place of ${link}, raised ${since}` : html`in place of ${link}, which ${takenBy} had, raised ${since}`}</span
  >`;
}
