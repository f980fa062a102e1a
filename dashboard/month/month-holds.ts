// The part of a month that is about holds: how many, by reason and cause, how long they took, who let what go on, how right they were.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { CAUSE_WORDS } from '../../shared/cause-words.ts';
import type { MonthHappened, MonthNamed, MonthTimes } from '../../shared/month.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { addressOf, holdAddress, spindleAddress } from '../router.ts';
import { whole } from '../wording/figures.ts';
import { REASON_WORDS_THEN } from '../wording/hold-words.ts';
import type { PlantClock } from '../wording/instants.ts';
import { hoursOf, ofAll, orMissing, orNone } from './month-words.ts';

const MOST_HELD_SHOWN = 8;
const ended = addressOf({ page: 'holds', list: 'ended' });

export function holdsPart({ holds }: MonthHappened): TemplateResult {
  const { openBefore, raised, ended: over, open, byReason, byCause } = holds;
  return html`<section class="long">
    <h3>Holds</h3>
    <p>
      <b>${orNone(raised)} raised</b>, <a href=${ended}>${orNone(over)} ended</a>,
      <a href=${addressOf({ page: 'holds', list: 'open' })}>${orNone(open)} open</a> at the end; ${orNone(openBefore)}
      open when it began. A hold that went on as another is counted once, with the other.
    </p>
    <div class="pair">
      <div>
        ${countsTable(
          say`By reason`,
          byReason.map(({ reason, ...counts }) => [REASON_WORDS_THEN[reason], counts]),
        )}
      </div>
      <div>
        ${countsTable(
          say`By the cause that the rules named last`,
          byCause.map(({ cause, ...counts }) => [cause === 'none' ? say`none named` : CAUSE_WORDS[cause], counts]),
        )}
      </div>
    </div>
    <table>
      <thead>
        <tr>
          <th scope="col">How long it took</th>
          <th scope="col" class="number">Of holds</th>
          <th scope="col" class="number">Median</th>
          <th scope="col" class="number">Longest</th>
          <th scope="col">Which</th>
        </tr>
      </thead>
      <tbody>
        ${timesRow(say`from raised until somebody took or checked it`, holds.toTake)}
        ${timesRow(say`from raised until it ended`, holds.toEnd)}
      </tbody>
    </table>
  </section>`;
}

type Counts = Pick<MonthHappened['holds'], 'raised' | 'ended' | 'open'>;

function countsTable(head: string, rows: readonly (readonly [words: string, counts: Counts])[]): TemplateResult {
  if (rows.length === 0) return html`<p>${head}: none.</p>`;
  return html`<table>
    <thead>
      <tr>
        <th scope="col">${head}</th>
        <th scope="col" class="number">Raised</th>
        <th scope="col" class="number">Ended</th>
        <th scope="col" class="number">Open</th>
      </tr>
    </thead>
    <tbody>
      ${rows.map(
        ([words, counts]) =>
          html`<tr>
            <th scope="row">${words}</th>
            <td class="number">${whole(counts.raised)}</td>
            <td class="number">${whole(counts.ended)}</td>
            <td class="number">${whole(counts.open)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
}

function timesRow(words: string, { of, medianMs, longestMs, longestHoldId }: MonthTimes): TemplateResult {
  return html`<tr>
    <th scope="row">${words}</th>
    <td class="number">${orNone(of)}</td>
    <td class="number">${orMissing(medianMs)}</td>
    <td class="number">${orMissing(longestMs)}</td>
    <td>${longestHoldId === undefined ? nothing : html`<a href=${holdAddress(longestHoldId)}>${longestHoldId}</a>`}</td>
  </tr>`;
}

export function namedPart({ deviations, voids, holds }: MonthHappened, clock: PlantClock): TemplateResult {
  return html`<section class="long">
    <h3>Let go on by deviation: ${ofEnded(deviations.of, holds.ended)}</h3>
    ${namedList(deviations, clock)}
    <h3 class="next">Raised in error: ${ofEnded(voids.of, holds.ended)}</h3>
    ${namedList(voids, clock)}
  </section>`;
}

const ofEnded = (value: number, all: number): string =>
  value === 0 ? say`none` : say`${ofAll(value, all)} that ended`;

function namedList(
  { of, rows }: { readonly of: number; readonly rows: readonly MonthNamed[] },
  clock: PlantClock,
): TemplateResult | typeof nothing {
  if (of === 0) return nothing;
  return html`<ul>
    ${rows.map(
      ({ holdId, subject, reason, at, by, askedBy, note }) =>
        html`<li>
          <a href=${holdAddress(holdId)}>${holdId}</a>, ${subject.id}, ${REASON_WORDS_THEN[reason]}:
          ${fullMoment(at, clock)} by ${names(by, askedBy)}${note === undefined ? nothing : html`, <q>${note}</q>`}
        </li>`,
    )}
    ${moreLine(of, rows.length)}
  </ul>`;
}

const names = (by: string, askedBy: string | undefined): TemplateResult =>
  html`<b>${askedBy === undefined ? by : say`${askedBy} and ${by}`}</b>`;

export const moreLine = (of: number, shown: number): TemplateResult | typeof nothing =>
  of > shown ? html`<li>and ${whole(of - shown)} more, on record</li>` : nothing;

export function truthPart({ truth }: MonthHappened): TemplateResult {
  const { of, confirmed, nothingFound, inError, unsaid, named } = truth;
  return html`<section>
    <h3>How right the rules were, by what people put on record</h3>
    ${
      of === 0
        ? html`<p>No hold ended: none.</p>`
        : html`<p>
            Of <a href=${ended}>${whole(of)} that ended</a>: ${orNone(confirmed)} confirmed, ${orNone(nothingFound)}
            where nothing was found, ${orNone(inError)} raised in error; of ${orNone(unsaid)} nobody said what it was.
            Cause named as it was found: ${ofAll(named.right, named.of)} where both are known.
          </p>`
    }
  </section>`;
}

export function mostHeldPart({ mostHeld: { of, rows } }: MonthHappened, spindles: number): TemplateResult {
  return html`<section>
    <h3>Spindles on hold at any time: ${ofAll(of, spindles)}</h3>
    ${
      of === 0
        ? nothing
        : html`<table>
            <thead>
              <tr>
                <th scope="col">Held longest</th>
                <th scope="col" class="number">Holds</th>
                <th scope="col" class="number">On hold for</th>
              </tr>
            </thead>
            <tbody>
              ${rows.slice(0, MOST_HELD_SHOWN).map(
                ({ spindleId, holds, heldMs }) =>
                  html`<tr>
                    <th scope="row"><a href=${spindleAddress(spindleId)}>${spindleId}</a></th>
                    <td class="number">${whole(holds)}</td>
                    <td class="number">${hoursOf(heldMs)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
    }
  </section>`;
}
