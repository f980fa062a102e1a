// What the cause of a hold was weighed to be: words first, then bars with their numbers, what was ruled out, what would decide.
import { css, nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say, sayCount } from '../../shared/language/index.ts';
import { CAUSE_WORDS, NAMED_FROM, type Cause } from '../../shared/cause-words.ts';
import type { CauseFinding } from '../../shared/causes.ts';
import { experimentSentence, experimentsLeft } from '../../shared/experiment-words.ts';
import type { HoldView } from '../../shared/views.ts';
import { speed, velocity } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { unbroken } from '../wording/unbroken.ts';

/** Less likely than this a cause stands in the sentence of all others only. */
const SHOWN_FROM = 0.01;

export function causeSection(hold: HoldView, clock: PlantClock): TemplateResult | typeof nothing {
  const findings = hold.findings ?? [];
  const last = findings.at(-1);
  if (last === undefined) return nothing;
  return html`<section aria-labelledby="cause">
    <h2 id="cause">Cause: ${causeHeadline(last)}</h2>
    <div class="halves">
      <div>
        <p>${observedWords(last, clock)} ${sinceWords(last, clock)}</p>
        ${shareBars(last)}
      </div>
      <div>${ruledOut(last)} ${experiments(last, hold.open)}</div>
    </div>
    <p class="soft small weighed">
      Weighed over ${sayCount(last.loads, 'one load', '{0} loads')},
      ${moment(last.at, clock)}${findings.length > 1 ? sinceFirst(findings.length, causeHeadline(findings[0] ?? last)) : nothing}.
      A cause is named from ${percent(NAMED_FROM)} on. ${namedBefore(findings, clock)}
    </p>
  </section>`;
}

export function causeHeadline(finding: CauseFinding): string {
  if (finding.named === undefined) return say`cannot be told yet`;
  const { words, share } = namedOf(finding, finding.named);
  return `${words}, ${share}`;
}

function namedOf({ shares }: CauseFinding, named: Cause): { readonly words: string; readonly share: string } {
  const first = shares.find(({ cause }) => cause === named);
  const of = first?.of === undefined || first.of === '' ? '' : ` ${first.of}`;
  return { words: `${CAUSE_WORDS[named]}${of}`, share: percent(first?.probability ?? 0) };
}

/** Somebody may have acted on what was named: it stays to be read when it no longer is. */
function namedBefore(findings: readonly CauseFinding[], clock: PlantClock): string {
  const last = findings.at(-1);
  const latest = new Map<Cause, string>();
  for (const finding of findings) {
    const { named, at } = finding;
    if (named === undefined || named === last?.named) continue;
    const { words, share } = namedOf(finding, named);
    latest.set(named, say`${words}, ${share} at ${moment(at, clock)}`);
  }
  return latest.size === 0 ? '' : say`Named meanwhile, and no longer: ${[...latest.values()].join('; ')}.`;
}

/** What was weighed is never certain, however it rounds. */
export const percent = (share: number): string =>
  share >= 0.995 ? say`more than 99 %` : `${Math.round(share * 100)} %`;

function observedWords(
  { at, observedMmS, expectedMmS, expectedLowMmS, expectedHighMmS, speedRpm, spindleId }: CauseFinding,
  clock: PlantClock,
) {
  const expected =
    expectedMmS === undefined
      ? say`nothing is known yet of what to expect`
      : say`expected were ${velocity(expectedMmS)}${expectedLowMmS === undefined || expectedHighMmS === undefined ? '' : say` (in 95 of 100 loads ${velocity(expectedLowMmS)} to ${velocity(expectedHighMmS)})`}`;
  return say`The newest load weighed in ${spindleId}, at ${speed(speedRpm)}, showed a 1× of ${velocity(observedMmS)} by ${moment(at, clock)}; ${expected}.`;
}

const sinceWords = ({ since }: CauseFinding, clock: PlantClock) =>
  since === undefined ? nothing : say`Changed since ${moment(since, clock)}, as far as it can be dated.`;

function shareBars({ shares, unknown }: CauseFinding): TemplateResult {
  const rows = [
    ...shares.map(({ cause, of, probability }) => ({
      words: `${CAUSE_WORDS[cause]}${of === '' ? '' : ` ${of}`}`,
      probability,
    })),
    { words: say`none of these, or nothing has changed`, probability: unknown },
  ].filter(({ probability }) => probability >= SHOWN_FROM);
  return html`<table class="shares">
    <caption>
      How likely each is
    </caption>
    <tbody>
      ${rows.map(
        ({ words, probability }) =>
          html`<tr>
            <th scope="row">${unbroken(words)}</th>
            <td class="bar-cell">
              <svg viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                <rect class="bar-ground" x="0" y="1" width="100" height="10" />
                <rect class="bar" x="0" y="1" width=${Math.round(probability * 1000) / 10} height="10" />
                <path class="named" d="M${NAMED_FROM * 100} 0V12" />
              </svg>
            </td>
            <td class="number">${percent(probability)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
}

function ruledOut({ ruledOut: causes }: CauseFinding): TemplateResult | typeof nothing {
  if (causes.length === 0) return nothing;
  return html`<h3>Ruled out</h3>
    <ul>
      ${causes.map(({ cause, why }) => html`<li><b>${CAUSE_WORDS[cause]}</b>, because ${retell(why)}</li>`)}
    </ul>`;
}

function experiments(finding: CauseFinding, open: boolean): TemplateResult | typeof nothing {
  const all = experimentsLeft(finding);
  if (!open || all.length === 0) return nothing;
  return html`<h3>What would decide</h3>
    ${all.length < 2 ? nothing : html`<p class="soft small">${tellAlike(all) ? say`Each tells as much as the others.` : say`What tells most stands first.`}</p>`}
    <ol>
      ${all.map((one) => html`<li>${experimentSentence(one)}</li>`)}
    </ol>`;
}

/** Less than this between the most and the least telling, in bit, is no order. */
const ALIKE_WITHIN_BITS = 0.05;

function tellAlike(experiments: CauseFinding['experiments']): boolean {
  const bits = experiments.map((one) => one.bits ?? 0);
  return Math.max(...bits) - Math.min(...bits) < ALIKE_WITHIN_BITS;
}

/** How often it was weighed, and what was thought the first time. */
function sinceFirst(times: number, first: string): string {
  if (times === 2) return say`; for the second time. At first: ${first}`;
  if (times === 3) return say`; for the third time. At first: ${first}`;
  return say`; for the ${times}th time. At first: ${first}`;
}

export const causeLook = css`
  .shares {
    max-width: 44rem;
  }
  .shares .bar-cell {
    width: 45%;
    vertical-align: middle;
  }
  .shares svg {
    display: block;
    width: 100%;
    height: 14px;
  }
  .halves {
    display: grid;
    gap: 0 2rem;
  }
  .weighed {
    margin-top: 0.5rem;
    max-width: 110ch;
  }
  /* Where it has the page's whole width. */
  @media (min-width: 62rem) and (max-width: 105rem) {
    .halves {
      grid-template-columns: repeat(2, minmax(0, 1fr));
    }
    .halves > :last-child > h3:first-of-type {
      margin-top: 0;
    }
  }
  .bar-ground {
    fill: var(--band);
  }
  .bar {
    fill: var(--ink);
  }
  .named {
    stroke: var(--plum);
    stroke-width: 2;
    vector-effect: non-scaling-stroke;
  }
  section h3 {
    margin-top: 0.75rem;
  }
  section ul,
  section ol {
    margin: 0.25rem 0 0.5rem;
    padding-left: 1.5rem;
    max-width: 75ch;
  }
`;
