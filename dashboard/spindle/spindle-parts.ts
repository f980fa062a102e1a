// The written parts of the spindle page: its head with the facts of now, and its open holds.
import { css, nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { HoldView, SpindleRow, SpindleView } from '../../shared/views.ts';
import { mark, markWithWord } from '../drawing/standing-mark.ts';
import { whoHas } from '../floor/needs.ts';
import { addressOf, assemblyAddress, holdAddress } from '../router.ts';
import { figure, MISSING, ofWhat, speed, times, unbalance } from '../wording/figures.ts';
import { GATE_MARKS } from '../wording/gate-words.ts';
import { age, moment, type PlantClock } from '../wording/instants.ts';
import { asSentence, notComparableWords, ratioOf, SUBJECT_STATE_WORDS } from '../wording/standing-words.ts';
import { unbroken } from '../wording/unbroken.ts';

export function spindleHead(row: SpindleRow, spindle: SpindleView | undefined, clock: PlantClock): TemplateResult {
  return html`<div class="head">
      <h1>Spindle ${row.spindleId}</h1>
      <span class="standing-large">${markWithWord(row.standing)}</span>
      <p class="question">How does it answer to unbalance, and has that changed?</p>
      ${reportLink(row)}
    </div>
    <p>
      ${row.machine},
      ${row.cell}${spindle?.interface === undefined ? nothing : html`, ${spindle.interface}`}${
        spindle?.maxSpeedRpm === undefined ? nothing : html`, not above ${speed(spindle.maxSpeedRpm)} by its maker`
      }.
      ${row.openHoldIds.length > 0 || row.why === undefined ? nothing : asSentence(retell(row.why))}
    </p>
    ${row.overrideKept === undefined ? nothing : html`<p>${mark('watch')} ${unbroken(retell(row.overrideKept))} <a href=${addressOf({ page: 'headroom' })}>Headroom</a></p>`}
    ${facts(row, clock)}`;
}

const reportLink = ({ spindleId }: SpindleRow): TemplateResult =>
  html`<a class="press paper not-printed" href=${addressOf({ page: 'report', spindleId })}
    >Report for a repair order, A4</a
  >`;

function facts(row: SpindleRow, clock: PlantClock): TemplateResult {
  const { loaded } = row;
  const unclear = notComparableWords(row);
  return html`<dl class="facts">
    <div>
      <dt>loaded</dt>
      <dd>
        ${loaded === undefined ? say`nothing` : html`<a href=${assemblyAddress(loaded.assemblyId)}>${loaded.assemblyId}</a>`}
      </dd>
      <dd class="small">
        ${loaded === undefined ? nothing : html`load ${loaded.ordinal}, since ${moment(loaded.at, clock)}, ${age(loaded.at, clock)}`}
      </dd>
    </div>
    <div>
      <dt>its residual unbalance</dt>
      <dd>${unbalance(loaded?.residualGmm)}</dd>
      <dd class="small">
        ${loaded?.permissibleGmm === undefined ? say`permissible not known` : html`of ${unbalance(loaded.permissibleGmm)} permissible`}
      </dd>
    </div>
    <div>
      <dt>gate</dt>
      <dd>
        ${row.gateWord === undefined ? MISSING : html`<span class=${GATE_MARKS[row.gateWord]}>${mark(GATE_MARKS[row.gateWord])} ${retell(row.gateWord)}</span>`}
      </dd>
      <dd class="small">advisory</dd>
    </div>
    <div>
      <dt>speed, actual of programmed</dt>
      <dd>${ofWhat(row.actualSpeedRpm ?? row.speedRpm, row.programmedSpeedRpm, '{rev}/min')}</dd>
      <dd class="small">
        ${row.overridePercent === undefined ? nothing : html`override ${figure(row.overridePercent)} %, `}${row.cutting === true ? say`cutting` : say`not cutting`}
      </dd>
    </div>
    <div>
      <dt>1×, observed of expected</dt>
      <dd>${ofWhat(row.synchronousMmS, row.expectedMmS, 'mm/s')}</dd>
      <dd class="small">
        ${unclear === undefined ? html`${times(ratioOf(row))}, comparable` : html`not comparable: ${unclear}`}
      </dd>
    </div>
    <div>
      <dt>overall of its limit</dt>
      <dd>${ofWhat(row.overallMmS, row.overallLimitMmS, 'mm/s')}</dd>
      <dd class="small">${SUBJECT_STATE_WORDS[row.state]}, reading of ${moment(row.lastReadingAt, clock)}</dd>
    </div>
  </dl>`;
}

/** With what has to be said of a hold's sentence where it stands beside newer figures. */
export function holdLines(
  holds: readonly HoldView[],
  clock: PlantClock,
  besides: (hold: HoldView) => string | undefined = () => undefined,
): TemplateResult | typeof nothing {
  const open = holds.filter((hold) => hold.open);
  if (open.length === 0) return nothing;
  return html`<ul class="holds">
    ${open.map(
      (hold) =>
        html`<li>
          <span class="hold">${mark('hold', { size: 22 })}</span>
          <p>
            <a href=${holdAddress(hold.holdId)}>${unbroken(retell(hold.sentence))}</a> ${besides(hold) ?? nothing}
            <span class="soft">${whoHas(hold, clock)}</span>
          </p>
        </li>`,
    )}
  </ul>`;
}

export const spindleLook = css`
  .paper {
    margin-left: auto;
  }
  .choose {
    display: flex;
    flex-wrap: wrap;
    gap: 0 1.5rem;
    font-size: 0.9375rem;
  }
  .at-speed {
    display: flex;
    align-items: center;
    gap: 0.75rem;
    margin-bottom: 0.5rem;
  }
  .at-speed label {
    font-weight: 400;
  }
  .at-speed select {
    width: auto;
  }
`;
