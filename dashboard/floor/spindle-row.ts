// One line of the floor: mark, word and id, the ribbon, and what there is to say about now.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { RibbonView } from '../../shared/ribbons.ts';
import type { HoldView, SpindleRow } from '../../shared/views.ts';
import { mark } from '../drawing/standing-mark.ts';
import { spindleAddress } from '../router.ts';
import { times } from '../wording/figures.ts';
import { age, type PlantClock } from '../wording/instants.ts';
import { notComparableWords, ratioOf, STANDING_WORDS } from '../wording/standing-words.ts';
import { lastOfLoad, type Strip } from './ribbon-shape.ts';
import './spindle-ribbon.ts';

export interface RowGiven {
  readonly ribbon: RibbonView | undefined;
  readonly strip: Strip;
  readonly holds: readonly HoldView[];
  readonly clock: PlantClock;
  /** Whether this ribbon carries the words of the scale. */
  readonly scale: boolean;
  readonly fresh: boolean;
}

export function spindleRow(row: SpindleRow, given: RowGiven): TemplateResult {
  const { strip, clock, holds } = given;
  const unclear = notComparableWords(row);
  // A hold keeps a reading from teaching, not from being compared.
  const ratio = unclear === undefined || row.notComparable === 'on-hold' ? ratioOf(row) : undefined;
  const held = holds.map((hold) => ({ from: hold.raisedAt, to: hold.open ? strip.to : hold.changedAt }));
  return html`<li>
    <a class="row" href=${spindleAddress(row.spindleId)}>
      <span class="who">
        <span class=${row.standing}
          >${mark(row.standing, { size: 20, fresh: given.fresh && row.standing === 'hold' })}</span
        >
        <span class="words">
          <span class="id">${row.spindleId}</span>
          <span class="in-word ${row.standing}">${STANDING_WORDS[row.standing]}</span>
          <span class="small machine">${row.machine}</span>
        </span>
      </span>
      <spindle-ribbon
        .ribbon=${withPresentLoad(given.ribbon, row)}
        .strip=${strip}
        .held=${held}
        .ratioNow=${ratio}
        .scale=${given.scale}
      ></spindle-ribbon>
      <span class="told">
        ${ratioWords(ratio, unclear, lastOfLoad(given.ribbon, row.loaded?.at))}
        <span class="small"
          >${row.loaded === undefined ? say`nothing loaded` : html`${row.loaded.assemblyId}<span class="machine">, ${age(row.loaded.at, clock)}</span>`}</span
        >
        ${row.why === undefined ? nothing : html`<span class="only-heard">${retell(row.why)}</span>`}
      </span>
    </a>
  </li>`;
}

/** The ratio now; while it cannot be told, the last one of this load that could, and why. */
function ratioWords(ratio: number | undefined, unclear: string | undefined, last: number | undefined): TemplateResult {
  if (ratio !== undefined) {
    return html`<span class="ratio">${times(ratio)}</span><span class="only-heard"> of what is expected</span>`;
  }
  if (last === undefined) return html`<span>${unclear}</span>`;
  return html`<span class="ratio before">${times(last)}</span
    ><span class="only-heard"> of what was expected, when it could last be told</span>
    <span class="reason">${unclear}</span>`;
}

const joined = new WeakMap<RibbonView, { readonly loadedAt: number; readonly ribbon: RibbonView }>();

/** History may be a little old: the load that the row knows of is drawn too. */
function withPresentLoad(ribbon: RibbonView | undefined, row: SpindleRow): RibbonView | undefined {
  const { loaded } = row;
  if (ribbon === undefined || loaded === undefined) return ribbon;
  const known = joined.get(ribbon);
  if (known?.loadedAt === loaded.at) return known.ribbon;
  const loads = ribbon.loads ?? [];
  const whole = loads.some(({ ordinal }) => ordinal === loaded.ordinal)
    ? ribbon
    : { ...ribbon, loads: [...loads, loaded] };
  joined.set(ribbon, { loadedAt: loaded.at, ribbon: whole });
  return whole;
}
