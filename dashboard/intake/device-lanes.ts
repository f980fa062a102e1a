// The lanes: per device what came, what is missing, how far off its clock is, and in words what is the matter.
import { nothing, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { DeviceLane } from '../../shared/views.ts';
import { mark } from '../drawing/standing-mark.ts';
import { MISSING, whole } from '../wording/figures.ts';
import { age, type PlantClock } from '../wording/instants.ts';
import { clockWords, inLaneOrder, KIND_WORDS, matterOf, offsetShare } from './lane-order.ts';

const STRIP_WIDTH = 120;
const STRIP_HEIGHT = 22;

export interface LaneChoice {
  readonly onlyMatter: boolean;
  readonly choose: (onlyMatter: boolean) => void;
}

export function deviceLanes(
  devices: readonly DeviceLane[],
  clock: PlantClock,
  { onlyMatter, choose }: LaneChoice,
): TemplateResult {
  const ordered = inLaneOrder(devices);
  const matter = ordered.filter((lane) => matterOf(lane).standing !== 'in-family');
  const shown = onlyMatter ? matter : ordered;
  return html`<section aria-labelledby="lanes">
    <h2 id="lanes">Devices</h2>
    ${
      devices.length === 0
        ? html`<p>No device has been enrolled. The administrator enrols one; its secret is shown once.</p>`
        : html`<div class="choices not-printed" role="group" aria-label="Which devices">
              <button aria-pressed=${onlyMatter ? 'false' : 'true'} @click=${() => choose(false)}>
                all ${devices.length}
              </button>
              <button aria-pressed=${onlyMatter ? 'true' : 'false'} @click=${() => choose(true)}>
                something the matter ${matter.length}
              </button>
            </div>
            ${shown.length === 0 ? html`<p class="soft">Nothing is the matter with any device.</p>` : laneTable(shown, clock)}`
    }
  </section>`;
}

function laneTable(lanes: readonly DeviceLane[], clock: PlantClock): TemplateResult {
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Devices">
    <table class="lanes">
      <thead>
        <tr>
          <th scope="col">Device</th>
          <th scope="col">Last message</th>
          <th scope="col" class="number">Messages</th>
          <th scope="col" class="number">Gaps</th>
          <th scope="col" class="number">Late</th>
          <th scope="col" class="number">Doubled</th>
          <th scope="col" class="number">Not read</th>
          <th scope="col">Clock<span class="scale">, an hour slow to an hour fast</span></th>
          <th scope="col" class="matter">The matter</th>
        </tr>
      </thead>
      <tbody>
        ${lanes.map((lane) => laneRow(lane, clock))}
      </tbody>
    </table>
  </div>`;
}

function laneRow(lane: DeviceLane, clock: PlantClock): TemplateResult {
  const { standing, words } = matterOf(lane);
  return html`<tr>
    <th scope="row">
      <span class="device"
        ><span class=${standing}>${mark(standing)}</span> ${lane.device}
        <span class="soft">${lane.kind === undefined ? nothing : KIND_WORDS[lane.kind]}</span></span
      >
    </th>
    <td class="nowrap">${lane.lastAt === undefined ? say`never` : html`${age(lane.lastAt, clock)} ago`}</td>
    <td class="number">${whole(lane.messages)}</td>
    <td class="number">${counted(lane.sequenceGaps)}</td>
    <td class="number">${counted(lane.late)}</td>
    <td class="number">${counted(lane.duplicates)}</td>
    <td class="number">${counted(lane.rejected)}</td>
    <td class="nowrap">${clockCell(lane)}</td>
    <td>${words.length === 0 ? MISSING : html`<span class=${standing}>${words.join(', ')}</span>`}</td>
  </tr>`;
}

function clockCell({ clockOffsetMs, clockNotBelieved }: DeviceLane): TemplateResult {
  // What was measured before says nothing of a clock that has left it by years.
  if (clockNotBelieved === true) return html`<strong>time not believed</strong>`;
  return clockOffsetMs === undefined ? html`<span class="soft">sends no time</span>` : offsetStrip(clockOffsetMs);
}

function counted(value: number): TemplateResult | string {
  return value === 0 ? MISSING : html`<strong>${whole(value)}</strong>`;
}

function offsetStrip(offsetMs: number): TemplateResult {
  const x = 4 + offsetShare(offsetMs) * (STRIP_WIDTH - 8);
  return html`<svg
      class="strip"
      width=${STRIP_WIDTH}
      height=${STRIP_HEIGHT}
      viewBox="0 0 ${STRIP_WIDTH} ${STRIP_HEIGHT}"
      aria-hidden="true"
    >
      <path class="ground" d=${`M4 11H${STRIP_WIDTH - 4}`} />
      <path class="zero" d=${`M${STRIP_WIDTH / 2} 4V18`} />
      ${svg`<circle class="here" cx=${x} cy="11" r="4" />`}
    </svg>
    <span class="small">${clockWords(offsetMs)}</span>`;
}
