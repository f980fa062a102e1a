// The list of a spindle's raw windows: when, from where, what came of each, and whether its samples are still there.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { WaveRow } from '../../shared/wave-views.ts';
import type { Api } from '../api.ts';
import '../raw-message.ts';
import { holdAddress } from '../router.ts';
import { amount, speed, unitOf } from '../wording/figures.ts';
import { duration, moment, type PlantClock } from '../wording/instants.ts';

const ROWS_SHOWN = 8;

export interface WindowsTable {
  readonly waves: readonly WaveRow[];
  /** More are on record than were fetched. */
  readonly more: boolean;
  readonly shownId: number | undefined;
  readonly clock: PlantClock;
  readonly api: Api;
  readonly onShow: (waveId: number) => void;
}

/** Why no reading was made of them, where that is the same for each that was analysed: then it is said once. */
export function commonWhy(waves: readonly Pick<WaveRow, 'state' | 'why'>[]): string | undefined {
  const analysed = waves.filter(({ state }) => state === 'analysed');
  const why = analysed[0]?.why;
  return analysed.length > 1 && analysed.every((wave) => wave.why === why) ? why : undefined;
}

/** What came of it; `said`: what stands above the list already. */
export function stateWords(
  wave: Pick<WaveRow, 'state' | 'why' | 'kept' | 'asked' | 'clockAheadMs'>,
  said?: string,
): string {
  const words = outcomeWords({ ...wave, why: wave.state === 'analysed' && wave.why === said ? undefined : wave.why });
  const ahead =
    wave.clockAheadMs === undefined
      ? ''
      : say`; the device’s clock is ahead by ${duration(wave.clockAheadMs)}: filed by its arrival`;
  return `${wave.asked === undefined ? '' : say`asked for; `}${words}${ahead}`;
}

function outcomeWords({
  state,
  why,
  kept,
}: Pick<WaveRow, 'state' | 'kept'> & { readonly why: string | undefined }): string {
  const because = why === undefined ? '' : `: ${retell(why)}`;
  const dropped = kept ? '' : say`; samples dropped, what was made of them stays`;
  switch (state) {
    case 'analysed':
      return why === undefined
        ? say`analysed` + dropped
        : say`analysed; no reading made of it: ${retell(why)}` + dropped;
    case 'waiting':
      return say`waits to be analysed` + dropped;
    case 'skipped':
      return (
        say`not analysed when it came` + because + (kept ? say`; the page can still do it` : say`; samples dropped`)
      );
    case 'failed':
      return say`could not be analysed` + because + dropped;
  }
}

export function windowsTable(table: WindowsTable): TemplateResult {
  const { waves, more } = table;
  const first = waves.slice(0, ROWS_SHOWN);
  const rest = waves.slice(ROWS_SHOWN);
  const said = commonWhy(waves);
  return html`${said === undefined ? nothing : html`<p class="soft small">No reading is made of them: ${retell(said)}.</p>`}
  ${rowsOf(table, first, say`The newest windows`, said)}
  ${
    rest.length === 0
      ? nothing
      : html`<details>
          <summary>
            ${more ? say`The ${rest.length} before; still earlier ones are in the pictures over time` : rest.length === 1 ? say`The one before` : say`The ${rest.length} before`}
          </summary>
          ${rowsOf(table, rest, say`Earlier windows`, said)}
        </details>`
  }`;
}

function rowsOf(
  { shownId, clock, api, onShow }: WindowsTable,
  waves: readonly WaveRow[],
  name: string,
  said: string | undefined,
): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label=${name}>
    <table>
      <thead>
        <tr>
          <th scope="col">Measured</th>
          <th scope="col">Sensor, channel</th>
          <th scope="col" class="number">Speed</th>
          <th scope="col" class="number">Overall, ${unitOf('mm/s')}</th>
          <th scope="col" class="number">1×, ${unitOf('mm/s')}</th>
          <th scope="col">What came of it</th>
          <th scope="col">Message</th>
        </tr>
      </thead>
      <tbody>
        ${waves.map(
          (wave) =>
            html`<tr>
              <td class="nowrap">
                <button aria-pressed=${wave.waveId === shownId ? 'true' : 'false'} @click=${() => onShow(wave.waveId)}>
                  <span class="only-heard">Show the window of </span>${moment(wave.at, clock)}
                </button>
              </td>
              <td>${wave.device}, ${wave.channel}</td>
              <td class="number">
                ${speed(wave.analysis?.speedRpm === undefined ? undefined : Math.round(wave.analysis.speedRpm))}${wave.analysis?.cutting === true ? html`<br /><span class="soft small">cutting</span>` : nothing}
              </td>
              <td class="number">${amount(wave.analysis?.overallMmS, 'mm/s')}</td>
              <td class="number">
                ${amount(wave.analysis?.orders.find(({ order }) => order === 1)?.velocityMmS, 'mm/s')}
              </td>
              <td>${stateWords(wave, said)}${keptFor(wave)}</td>
              <td><raw-message .api=${api} .position=${wave.waveId}></raw-message></td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function keptFor({ pinnedBy }: WaveRow): TemplateResult | typeof nothing {
  if (pinnedBy.length === 0) return nothing;
  return html`; kept for
  ${pinnedBy.map((holdId, index) => html`${index === 0 ? nothing : ', '}<a href=${holdAddress(holdId)}>${holdId}</a>`)}`;
}
