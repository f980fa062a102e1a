// The written parts of a balance record: what was measured by what, of what build, what was done, on which grounds.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';
import { MISSING, amount, degrees, figure, speed, unbalance, vector, withUnit } from '../wording/figures.ts';
import { day, moment, type PlantClock } from '../wording/instants.ts';
import { asSentence } from '../wording/standing-words.ts';
import { STAGE_WORDS, VERDICT_WORDS } from '../wording/verdict-words.ts';
import { changeWords } from './history-rows.ts';
import type { RawReading } from './raw-readings.ts';
import { wholeOf } from './rose-shape.ts';
import { stepWords } from './step-words.ts';
import { retell, say, textOf } from '../../shared/language/index.ts';
import { partWords } from './part-words.ts';
import { gradeName } from './plain-number.ts';

const MEASUREMENTS_PRINTED_MAX = 8;
const CORRECTIONS_PRINTED_MAX = 6;
const READINGS_PRINTED_MAX = 8;

/** The date is on every line: paper is read years later. */
export function fullMoment(at: number | undefined, { zone }: PlantClock): string {
  return at === undefined ? MISSING : `${day(at, zone)} ${moment(at, { zone, now: at })}`;
}

export function buildPart(
  { row, interface: fits, builtAt, centreOfMassMm, reclampingUm, remarks }: AssemblyView,
  newest: MeasurementView | undefined,
  clock: PlantClock,
): TemplateResult {
  return html`<section>
    <h3>What was balanced, and what it must meet</h3>
    <p>
      Build
      ${row.buildId ?? say`not declared`}${builtAt === undefined ? nothing : html` of ${fullMoment(builtAt, clock)}`},
      mass of the whole ${withUnit(row.massKg, 'kg')}; balance quality grade
      ${row.gradeMmS === undefined ? say`not declared` : gradeName(row.gradeMmS)} at service speed
      ${speed(row.serviceSpeedRpm)}; interface ${fits ?? say`not declared`}; centre of mass
      ${centreOfMassMm === undefined ? say`not declared` : say`${figure(centreOfMassMm)} mm from the face of the interface`};
      ${reclampingWords(reclampingUm, newest)}.
    </p>
    ${remarks.map((remark) => html`<p><b>Remarked: ${retell(remark)}</b></p>`)}
  </section>`;
}

/** What is counted of clamping anew; of which scatter, and who says so, stands with the measuring error. */
function reclampingWords(reclampingUm: number | undefined, newest: MeasurementView | undefined): string {
  if (reclampingUm !== undefined)
    return say`clamping anew moves it by up to ${withUnit(reclampingUm, 'um')}, as declared`;
  return newest?.errorParts?.some(({ name }) => name.includes('reclamping')) === true
    ? say`clamping anew is counted as its kind of interface scatters`
    : say`how far clamping anew moves it is not counted`;
}

export function partsPart({ parts }: AssemblyView): TemplateResult {
  return html`<section>
    <h3>Parts</h3>
    ${
      parts.length === 0
        ? html`<p>No parts are declared.</p>`
        : html`<table>
            <thead>
              <tr>
                <th scope="col">Part</th>
                <th scope="col">Name</th>
                <th scope="col">Serial</th>
                <th scope="col" class="number">Mass</th>
                <th scope="col" class="number">Marked maximum</th>
              </tr>
            </thead>
            <tbody>
              ${parts.map(
                (part) =>
                  html`<tr>
                    <td>${partWords(part.role)}</td>
                    <td>${part.name}</td>
                    <td class="nowrap">${part.serial ?? MISSING}</td>
                    <td class="number">${withUnit(part.massKg, 'kg')}</td>
                    <td class="number">${speed(part.markedMaxSpeedRpm)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
    }
  </section>`;
}

export function measuredPart(
  newest: MeasurementView,
  readings: readonly RawReading[],
  frame: string | undefined,
): TemplateResult {
  const alone = newest.planes.length === 1;
  return html`<section>
    <h3>Measured on ${newest.bench}, message ${newest.position}</h3>
    <table>
      <thead>
        <tr>
          <th scope="col">Plane</th>
          <th scope="col" class="number">At, mm</th>
          <th scope="col" class="number">Residual</th>
          <th scope="col" class="number">Angle</th>
          <th scope="col" class="number">Error ±</th>
          <th scope="col" class="number">Permissible</th>
          <th scope="col" class="number">Bench’s own part</th>
        </tr>
      </thead>
      <tbody>
        ${newest.planes.map(
          (plane) =>
            html`<tr>
              <td>${plane.name}</td>
              <td class="number">${figure(plane.positionMm)}</td>
              <td class="number">${unbalance(plane.residualGmm)}</td>
              <td class="number">${degrees(plane.angleDeg)}</td>
              <td class="number">${unbalance(plane.errorGmm ?? (alone ? newest.errorGmm : undefined))}</td>
              <td class="number">${unbalance(plane.permissibleGmm ?? (alone ? newest.permissibleGmm : undefined))}</td>
              <td class="number">
                ${plane.benchGmm === undefined ? MISSING : vector(plane.benchGmm, plane.benchAngleDeg)}
              </td>
            </tr>`,
        )}
        ${
          alone
            ? nothing
            : html`<tr>
                <td><b>whole</b></td>
                <td></td>
                <td class="number">${unbalance(newest.residualGmm)}</td>
                <td class="number">${degrees(wholeOf(newest.planes)?.angleDeg)}</td>
                <td class="number">${unbalance(newest.errorGmm)}</td>
                <td class="number">${unbalance(newest.permissibleGmm)}</td>
                <td></td>
              </tr>`
        }
      </tbody>
    </table>
    ${errorWords(newest)} ${readingWords(readings, frame)}
    ${newest.remarks.length === 0 ? nothing : html`<p>Remarked: ${newest.remarks.map(retell).join('; ')}.</p>`}
  </section>`;
}

function errorWords({ errorParts, errorGmm }: MeasurementView): TemplateResult {
  if (errorParts === undefined || errorParts.length === 0)
    return html`<p>Measuring error of the whole ± ${unbalance(errorGmm)}; what it is made of was not told.</p>`;
  return html`<p>
    Measuring error of the whole ± ${unbalance(errorGmm)}, root of the sum of squares of
    ${errorParts.map((part, index) => `${retell(part.name)} ${unbalance(part.gmm)}${sourceOnce(errorParts, index)}`).join(', ')}.
  </p>`;
}

/** Told once behind all the parts that follow each other and have it in common. */
function sourceOnce(parts: readonly { readonly source: string }[], index: number): string {
  const source = parts[index]?.source ?? '';
  return source === parts[index + 1]?.source ? '' : ` (${textOf(source)})`;
}

function readingWords(readings: readonly RawReading[], frame: string | undefined): TemplateResult | typeof nothing {
  if (readings.length === 0) return nothing;
  const shown = readings.slice(0, READINGS_PRINTED_MAX);
  return html`<p>
    Readings as they came${frame === undefined ? nothing : frameWords(frame)}:
    ${shown.map((reading) => readingOf(reading)).join('; ')}${readings.length > shown.length ? html`; ${readings.length - shown.length} more in the message` : nothing}.
  </p>`;
}

const frameWords = (frame: string): string =>
  frame === 'rotor'
    ? say`, angles in the frame of the rotor`
    : frame === 'machine'
      ? say`, angles in the frame of the machine`
      : say`, angles in the frame of the ${frame}`;

function readingOf({ indexDeg, planes }: RawReading): string {
  const amounts = planes.map(({ amountGmm, angleDeg }) => vector(amountGmm, angleDeg));
  const all = amounts.length === 0 ? '' : amounts.reduce((before, next) => say`${before} and ${next}`);
  return say`turned ${degrees(indexDeg)}: ${all}`;
}

export function historyPart(
  measurements: readonly MeasurementView[],
  { corrections, features, row }: AssemblyView,
  clock: PlantClock,
): TemplateResult {
  const newest = [...measurements].reverse();
  const done = corrections
    .filter(({ buildId }) => row.buildId === undefined || buildId === row.buildId)
    .toSorted((a, b) => b.at - a.at);
  return html`<section>
      <h3>Corrections of this build, newest first</h3>
      ${done.length === 0 ? html`<p>None is on record.</p>` : nothing}
      ${done.slice(0, CORRECTIONS_PRINTED_MAX).map((correction) => {
        const steps = correction.steps.map((step) =>
          stepWords(
            step,
            features.find(({ featureId }) => featureId === step.featureId),
          ),
        );
        return html`<p>
          <b>${fullMoment(correction.at, clock)}${correction.by === undefined ? nothing : html`, ${correction.by}`}:</b>
          ${steps.join('; ')}. ${asSentence(changeWords(correction).join('; '))}
          ${correction.remarks.map((remark) => html`<b>${retell(remark)}</b> `)}
        </p>`;
      })}
      ${more(done.length - CORRECTIONS_PRINTED_MAX)}
    </section>
    <section>
      <h3>Measurements of this build, newest first</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Stage</th>
            <th scope="col">Bench</th>
            <th scope="col" class="number">Residual ± error</th>
            <th scope="col" class="number">Permissible</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          ${newest.slice(0, MEASUREMENTS_PRINTED_MAX).map(
            (one) =>
              html`<tr>
                <td class="nowrap">${fullMoment(one.at, clock)}</td>
                <td>${STAGE_WORDS[one.stage] ?? one.stage}</td>
                <td class="nowrap">${one.bench}</td>
                <td class="number">${amount(one.residualGmm, 'g.mm')} ± ${unbalance(one.errorGmm)}</td>
                <td class="number">${unbalance(one.permissibleGmm)}</td>
                <td>${VERDICT_WORDS[one.verdict]}${one.inDoubt === undefined ? nothing : html`; in doubt`}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      ${more(newest.length - MEASUREMENTS_PRINTED_MAX)}
    </section>`;
}

function more(left: number): TemplateResult | typeof nothing {
  return left <= 0 ? nothing : html`<p>${left} older ones stand on the assembly’s page.</p>`;
}
