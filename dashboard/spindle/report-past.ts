// Before and after a repair, on paper: works, releases with their names, and the lines that the one who repairs fills in.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { ADVISORY, LOCKOUT, VIBRATION_IS_NO_VERDICT } from '../../shared/cautions.ts';
import { FOUND_WORDS } from '../../shared/cause-words.ts';
import type { PlannedWorkView } from '../../shared/planned-work.ts';
import type { SpindleView } from '../../shared/views.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { holdSentence, noteTold } from '../wording/hold-words.ts';
import type { PlantClock } from '../wording/instants.ts';

const WORKS_PRINTED_MAX = 5;
const RELEASES_PRINTED_MAX = 5;
const BLANK_LINES = 8;

export function pastPart(spindle: SpindleView, clock: PlantClock): TemplateResult {
  const works = [...(spindle.work ?? []), ...(spindle.workBefore ?? [])].slice(0, WORKS_PRINTED_MAX);
  const ended = spindle.holds.filter((hold) => !hold.open).slice(0, RELEASES_PRINTED_MAX);
  return html`<section>
    <h3>Works and releases</h3>
    <ul>
      ${
        works.length === 0
          ? html`<li>Work: none is planned, and none is remembered.</li>`
          : works.map((work) => html`<li>${workWords(work, clock)}</li>`)
      }
      ${
        ended.length === 0
          ? html`<li>Holds that ended: none is remembered.</li>`
          : ended.map((hold) => html`<li>${holdSentence(hold)} ${endWords(hold, clock)}</li>`)
      }
    </ul>
  </section>`;
}

function workWords({ from, until, by, note, now }: PlannedWorkView, clock: PlantClock): TemplateResult {
  const [begin, end] = [fullMoment(from, clock), fullMoment(until, clock)];
  if (now || from > clock.now) return html`Work planned ${begin} until ${end}, by ${by}: “${note}”.`;
  return html`Work was planned ${begin} until ${end}, by ${by}: “${note}”. Whether it was done nobody told.`;
}

function endWords(hold: SpindleView['holds'][number], clock: PlantClock): TemplateResult | typeof nothing {
  const last = hold.steps.at(-1);
  if (last === undefined) return nothing;
  const found = hold.steps.flatMap((step) => step.found ?? []).at(-1);
  const note = noteTold(hold, last);
  return html`Ended ${fullMoment(last.at, clock)} by
  ${last.askedBy === undefined ? nothing : say`${last.askedBy} and `}${last.by}${last.deviation === true ? say`, as a named deviation` : nothing}${note === undefined ? nothing : html`: <q>${note}</q>`}.
  ${found === undefined ? nothing : html`It was: ${FOUND_WORDS[found]}.`}`;
}

/** Filled in by hand, at the machine. */
export function toFillIn(): TemplateResult {
  const lines = Array.from({ length: BLANK_LINES }, () => html`<div class="line"></div>`);
  return html`<section class="fill-in">
    <h3>What was found and done</h3>
    ${lines}
    <div class="signed">
      <div><span class="line"></span>Name</div>
      <div><span class="line"></span>Date</div>
      <div><span class="line"></span>Signature</div>
    </div>
  </section>`;
}

export function cautionsPart(): TemplateResult {
  return html`<section>
    <h3>Cautions</h3>
    <ul>
      ${[LOCKOUT, ADVISORY, VIBRATION_IS_NO_VERDICT].map((caution) => html`<li>${retell(caution)}</li>`)}
    </ul>
  </section>`;
}
