// What is on hold of a spindle, for the one who repairs it: clauses, cause, what was ruled out, what to check first.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { CAUSE_WORDS } from '../../shared/cause-words.ts';
import type { CauseFinding } from '../../shared/causes.ts';
import { experimentSentence } from '../../shared/experiment-words.ts';
import type { HoldView } from '../../shared/views.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { whoHas } from '../floor/needs.ts';
import { causeHeadline, percent } from '../holds/cause-parts.ts';
import { count, withUnit } from '../wording/figures.ts';
import type { PlantClock } from '../wording/instants.ts';

/** More stand on the spindle's page; a sheet that nobody reads to its end helps nobody. */
const HOLDS_PRINTED_MAX = 3;
/** Less likely causes stand on the hold's page. */
const SHARE_PRINTED_MIN = 0.05;
const CHECKS_PRINTED_MAX = 5;

export function openHolds(holds: readonly HoldView[], clock: PlantClock): TemplateResult {
  const open = holds.filter((hold) => hold.open);
  const printed = open.slice(0, HOLDS_PRINTED_MAX);
  return html`<section class="long">
    <h3>On hold: ${open.length === 0 ? say`nothing now` : count(open.length, 'hold', 'holds')}</h3>
    ${printed.map((hold) => oneHold(hold, clock))}
    ${
      open.length > printed.length
        ? html`<p>And ${count(open.length - printed.length, 'more hold', 'more holds')}, on the spindle’s page.</p>`
        : nothing
    }
  </section>`;
}

function oneHold(hold: HoldView, clock: PlantClock): TemplateResult {
  const finding = hold.findings?.at(-1);
  return html`<div class="hold-on-paper">
    <p class="named">
      <b>${hold.holdId}, since ${fullMoment(hold.raisedAt, clock)}:</b> ${retell(hold.sentence)}
      (${whoHas(hold, clock)})
    </p>
    ${clauses(hold)} ${finding === undefined ? nothing : cause(finding)} ${checks(hold)}
  </div>`;
}

function clauses({ reason, evidence }: HoldView): TemplateResult | typeof nothing {
  if (evidence.clauses.length === 0) return nothing;
  const isExpected = reason === 'vibration-unexplained';
  return html`<table>
    <thead>
      <tr>
        <th scope="col">Clause</th>
        <th scope="col" class="number">Measured</th>
        <th scope="col" class="number">${isExpected ? say`Expected at most` : say`Limit`}</th>
        <th scope="col">${isExpected ? say`Where that comes from` : say`Where the limit comes from`}</th>
      </tr>
    </thead>
    <tbody>
      ${evidence.clauses.map(
        ({ what, measured, limit, unit, source }) =>
          html`<tr>
            <th scope="row">${retell(what)}</th>
            <td class="number nowrap">${withUnit(measured, unit)}</td>
            <td class="number nowrap">${withUnit(limit, unit)}</td>
            <td>${retell(source)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
}

function cause(finding: CauseFinding): TemplateResult {
  const { shares, unknown, named, ruledOut, experiments } = finding;
  const others = shares
    .filter(({ cause: one, probability }) => one !== named && probability >= SHARE_PRINTED_MIN)
    .map(
      ({ cause: one, of, probability }) => `${CAUSE_WORDS[one]}${of === '' ? '' : ` ${of}`}, ${percent(probability)}`,
    );
  const none = say`none of these, or nothing has changed, ${percent(unknown)}`;
  return html`<p><b>Probable cause: ${causeHeadline(finding)};</b> ${[...others, none].join('; ')}.</p>
    ${
      ruledOut.length === 0
        ? nothing
        : html`<p>
            <b>Ruled out:</b>
            ${ruledOut.map(({ cause: one, why }) => say`${CAUSE_WORDS[one]}, because ${retell(why)}`).join('; ')}.
          </p>`
    }
    ${
      experiments.length === 0
        ? nothing
        : html`<p><b>What would decide:</b> ${experiments.map((one) => experimentSentence(one)).join(' ')}</p>`
    }`;
}

function checks({ checkFirst }: HoldView): TemplateResult | typeof nothing {
  if (checkFirst.length === 0) return nothing;
  return html`<p><b>Check first</b></p>
    <ol class="checks">
      ${checkFirst
        .slice(0, CHECKS_PRINTED_MAX)
        .map((check) => html`<li><span class="box" aria-hidden="true"></span>${retell(check)}</li>`)}
    </ol>`;
}
