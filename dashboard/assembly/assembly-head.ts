// The head of the assembly page: what it is, how it stands, what it must meet, and the ways on from here.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import type { SessionView } from '../../shared/session.ts';
import { mark, markWithWord } from '../drawing/standing-mark.ts';
import { mayAskGate } from '../gate/may-ask.ts';
import { addressOf, spindleAddress } from '../router.ts';
import { MISSING, ofWhat, speed, withUnit } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { VERDICT_WORDS } from '../wording/verdict-words.ts';
import { whyNoneCounts } from './what-counts.ts';
import { retell, say } from '../../shared/language/index.ts';
import { gradeName } from './plain-number.ts';

export function assemblyHead(
  assembly: AssemblyView,
  clock: PlantClock,
  person: SessionView | undefined,
): TemplateResult {
  const { row, interface: fits, builtAt } = assembly;
  return html`<div class="head">
      <h1>Assembly ${row.assemblyId}</h1>
      <span class="standing-large">${markWithWord(row.standing)}</span>
      <p class="question">What is its balance, up to what speed, and what would correct it?</p>
      <a class="press record not-printed" href=${addressOf({ page: 'record', assemblyId: row.assemblyId })}
        >Balance record, A4</a
      >
    </div>
    ${row.why === undefined || row.openHoldIds.length > 0 ? nothing : html`<p>${asSentence(retell(row.why))}</p>`}
    <dl class="facts">
      <div>
        <dt>build</dt>
        <dd>${row.buildId ?? MISSING}</dd>
        <dd class="small">
          ${builtAt === undefined ? nothing : html`of ${moment(builtAt, clock)}`}${fits === undefined ? nothing : html`, ${fits}`}
        </dd>
      </div>
      <div>
        <dt>mass, whole</dt>
        <dd>${withUnit(row.massKg, 'kg')}</dd>
      </div>
      <div>
        <dt>must meet</dt>
        <dd>${row.gradeMmS === undefined ? MISSING : gradeName(row.gradeMmS)}</dd>
        <dd class="small">at ${speed(row.serviceSpeedRpm)} service speed</dd>
      </div>
      <div>
        <dt>residual, of permissible</dt>
        <dd>${ofWhat(row.residualGmm, row.permissibleGmm, 'g.mm')}</dd>
        <dd class="small">
          ${row.verdict === undefined ? say`not measured` : VERDICT_WORDS[row.verdict]}${row.measuredAt === undefined ? nothing : html`, ${moment(row.measuredAt, clock)}`}${row.verdict !== undefined && whyNoneCounts(assembly) !== undefined ? html`; <b>does not count now</b>` : nothing}
        </dd>
      </div>
      <div>
        <dt>loaded in</dt>
        <dd>
          ${row.loadedIn === undefined ? say`no spindle` : html`<a href=${spindleAddress(row.loadedIn)}>${row.loadedIn}</a>`}
        </dd>
        ${
          mayAskGate(person)
            ? html`<dd class="small">
                <a href=${addressOf({ page: 'gate', assemblyId: row.assemblyId })}>ask the gate</a>
              </dd>`
            : nothing
        }
      </div>
    </dl>
    ${remarksOf(assembly)}`;
}

/** What its build says that cannot be meant: nothing below is right while that stands. */
function remarksOf({ remarks }: AssemblyView): TemplateResult | typeof nothing {
  if (remarks.length === 0) return nothing;
  return html`<ul class="remarked" aria-label="Remarked of this build">
    ${remarks.map((remark) => html`<li>${mark('watch', { size: 22 })} <b>${asSentence(retell(remark))}</b></li>`)}
  </ul>`;
}
