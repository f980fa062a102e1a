// What a recording says, in words and tables: its health first, then levels, orders and bearings, and what it cannot tell.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { numberMarks, retell, say } from '../../shared/language/index.ts';
import {
  bearingsWords,
  bearingSentence,
  cannotTell,
  channelSentence,
  healthSentence,
  speedWords,
  type ChannelAnalysis,
  type ChannelQuestion,
  type Level,
} from '../../shared/recorded-file/index.ts';
import { mark } from '../drawing/standing-mark.ts';
import type { RecordingRead } from './recording-reading.ts';
import { count, figure, graduation, MISSING, withUnit } from '../wording/figures.ts';

const FORMAT_WORDS: Readonly<Record<RecordingRead['format'], string>> = {
  table: say`table`,
  'WAV file': say`WAV file`,
};

type Told = NonNullable<ChannelAnalysis['told']>;

export function healthPart(analysis: ChannelAnalysis): TemplateResult {
  const { health } = analysis;
  return html`<p class="said">${channelSentence(analysis)}</p>
    ${
      health.length === 0
        ? nothing
        : html`<ul class="health" aria-label="Health of the signal">
            ${health.map(
              (one) =>
                html`<li>
                  ${mark(one.weight === 'unusable' ? 'no-data' : 'watch')}<span>${healthSentence(one, analysis)}</span>
                </li>`,
            )}
          </ul>`
    }`;
}

export function aboutPart(
  analysis: ChannelAnalysis,
  question: ChannelQuestion,
  format: RecordingRead['format'],
): TemplateResult {
  const { windows, samples, sampleRateHz, unitWords, told } = analysis;
  const envelope = windows[told?.middle ?? 0]?.analysis.envelope;
  const first = windows[0];
  const bearings = bearingsWords(question);
  const windowS = first === undefined ? 0 : first.toS - first.fromS;
  return html`<section>
    <h2>What was analysed</h2>
    <dl>
      <dt>file</dt>
      <dd>
        ${FORMAT_WORDS[format]}, ${figure(samples / sampleRateHz)} s at ${count(Math.round(sampleRateHz), 'Hz', 'Hz')}
      </dd>
      <dt>unit</dt>
      <dd>${retell(unitWords)}</dd>
      <dt>speed</dt>
      <dd>${speedWords(analysis, question)}</dd>
      ${
        bearings === ''
          ? nothing
          : html`<dt>bearings</dt>
              <dd>${bearings}</dd>`
      }
      ${
        windows.length === 1
          ? nothing
          : html`<dt>windows</dt>
              <dd>${windows.length} of ${figure(windowS)} s each: their median and the greatest are shown</dd>`
      }
      ${
        envelope === undefined
          ? nothing
          : html`<dt>envelope</dt>
              <dd>
                from ${graduation(envelope.bandHz[0])} to ${graduation(envelope.bandHz[1])} Hz,
                ${envelope.band === 'given' ? say`as told` : say`found where it is most impulsive`}
              </dd>`
      }
    </dl>
  </section>`;
}

interface LevelRow {
  readonly name: string;
  readonly at?: number;
  readonly level: Level;
  readonly show: (value: number) => string;
}

export function levelsPart(analysis: ChannelAnalysis, told: Told): TemplateResult {
  const { scaled, windows } = analysis;
  const [from, to] = windows[told.middle]?.analysis.bandHz ?? [];
  const acceleration = (value: number): string => (scaled ? withUnit(value, 'm/s2') : say`${bare(value)} (no unit)`);
  const rows: readonly LevelRow[] = [
    ...(scaled
      ? [
          {
            name: say`Overall velocity RMS, ${graduation(from ?? 0)} to ${graduation(to ?? 0)} Hz`,
            level: told.overallMmS,
            show: mmS,
          },
        ]
      : []),
    { name: say`Acceleration RMS`, level: told.accelerationRmsMS2, show: acceleration },
    { name: say`Acceleration peak`, level: told.accelerationPeakMS2, show: acceleration },
    { name: say`Crest factor`, level: told.crestFactor, show: figure },
    { name: say`Kurtosis, 3 for plain noise`, level: told.kurtosis, show: figure },
  ];
  return html`<section>
    <h2>Levels</h2>
    ${levelTable(rows, windows.length, say`Levels`, false)}
  </section>`;
}

const mmS = (value: number): string => withUnit(value, 'mm/s');

export function ordersPart(analysis: ChannelAnalysis, told: Told): TemplateResult | typeof nothing {
  const { orders, toothPassing: teeth, overallMmS } = told;
  if (orders.length === 0) return nothing;
  const show = analysis.scaled
    ? mmS
    : (value: number): string => say`${figure((100 * value) / overallMmS.median)} % of the overall`;
  const rows: readonly LevelRow[] = [
    ...orders.map(({ order, frequencyHz, velocityMmS }) => ({
      name: `${order}×`,
      at: frequencyHz,
      level: velocityMmS,
      show,
    })),
    ...(teeth === undefined
      ? []
      : [{ name: say`Tooth passing, ${teeth.teeth}×`, at: teeth.frequencyHz, level: teeth.velocityMmS, show }]),
  ];
  return html`<section>
    <h2>Orders of the shaft, velocity RMS</h2>
    ${levelTable(rows, analysis.windows.length, say`Orders of the shaft`, true)}
  </section>`;
}

/** Three digits, as the file's own values: they may be very small. */
const bare = (value: number): string => String(Number(value.toPrecision(3))).replace('.', numberMarks().decimal);

function levelTable(rows: readonly LevelRow[], windows: number, name: string, withFrequency: boolean): TemplateResult {
  const one = windows === 1;
  return html`<div class="scrolls" tabindex="0" role="group" aria-label=${name}>
    <table>
      <thead>
        <tr>
          <th scope="col">Quantity</th>
          ${withFrequency ? html`<th scope="col" class="number">At</th>` : nothing}
          <th scope="col" class="number">${one ? say`Value` : say`Median`}</th>
          ${
            one
              ? nothing
              : html`<th scope="col" class="number">Greatest</th>
                  <th scope="col" class="number">From</th>`
          }
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          ({ name: quantity, at, level, show }) =>
            html`<tr>
              <th scope="row">${quantity}</th>
              ${withFrequency ? html`<td class="number">${at === undefined ? MISSING : withUnit(at, 'Hz')}</td>` : nothing}
              <td class="number">${show(level.median)}</td>
              ${
                one
                  ? nothing
                  : html`<td class="number">${show(level.greatest)}</td>
                      <td class="number">${figure(level.greatestAtS)} s</td>`
              }
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

export function bearingsPart({ windows }: ChannelAnalysis, told: Told): TemplateResult | typeof nothing {
  if (told.bearings.length === 0) return nothing;
  const sorted = told.bearings.toSorted((a, b) => b.speaksIn - a.speaksIn || b.indicator - a.indicator);
  return html`<section>
    <h2>Bearings</h2>
    <ul class="health">
      ${sorted.map(
        (finding) =>
          html`<li>
            ${finding.speaksIn > 0 ? mark('watch') : nothing}<span
              >${bearingSentence(finding, windows.length)}${finding.speaksIn > 0 ? say` A reason to look, no proof of damage.` : nothing}</span
            >
          </li>`,
      )}
    </ul>
  </section>`;
}

export function cannotPart(analysis: ChannelAnalysis, question: ChannelQuestion): TemplateResult {
  return html`<section>
    <h2>What it cannot tell</h2>
    <ul>
      ${cannotTell(analysis, question).map((words) => html`<li>${words}</li>`)}
    </ul>
  </section>`;
}
