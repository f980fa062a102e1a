// The tests of a bench step by step: what was measured, between which bounds it had to lie, whether it did.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell } from '../../shared/language/index.ts';
import type { BenchTestView } from '../../shared/tool-room.ts';
import type { Api } from '../api.ts';
import '../raw-message.ts';
import { MISSING, amount, unitOf } from '../wording/figures.ts';
import { day, type PlantClock } from '../wording/instants.ts';
import { metWords, TEST_WORDS } from '../wording/tool-room-words.ts';

export function testsOf(tests: readonly BenchTestView[], clock: PlantClock, api: Api): TemplateResult | typeof nothing {
  if (tests.length === 0) return nothing;
  return html`<h3>Tests</h3>
    <div class="tests">${tests.map((test) => oneTest(test, clock, api))}</div>`;
}

function oneTest(test: BenchTestView, clock: PlantClock, api: Api): TemplateResult {
  return html`<div>
    <p>
      <b>${TEST_WORDS[test.test]}, ${day(test.at, clock.zone)}.</b>
      ${retell(test.sentence)}
      <span class="soft small"
        >Rotor ${test.rotorSerial}${test.plane === undefined ? nothing : html`, plane ${test.plane}`};
        ${retell(test.source)}.</span
      >
      <raw-message .api=${api} .position=${test.position}></raw-message>
    </p>
    <details>
      <summary>Step by step</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Steps of the test">
        <table>
          <thead>
            <tr>
              <th scope="col">Step</th>
              <th scope="col" class="number">Measured</th>
              <th scope="col" class="number">From</th>
              <th scope="col" class="number">To</th>
              <th scope="col">Unit</th>
              <th scope="col">In words</th>
            </tr>
          </thead>
          <tbody>
            ${test.steps.map(
              (step) =>
                html`<tr>
                  <td>${retell(step.words)}</td>
                  <td class="number">${amount(step.measured, step.unit)}</td>
                  <td class="number">${amount(step.low, step.unit)}</td>
                  <td class="number">${amount(step.high, step.unit)}</td>
                  <td>${unitOf(step.unit) === '' ? MISSING : unitOf(step.unit)}</td>
                  <td>${step.met === false ? html`<b>${metWords(step.met)}</b>` : metWords(step.met)}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>
  </div>`;
}
