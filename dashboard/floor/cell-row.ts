// One line of a floor of many spindles: a cell, how its spindles stand in numbers, its band, and who leaves it.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import type { RibbonView } from '../../shared/ribbons.ts';
import type { SpindleRow, Standing } from '../../shared/views.ts';
import { mark } from '../drawing/standing-mark.ts';
import { addressOf } from '../router.ts';
import type { Span } from '../time-spans.ts';
import { whole } from '../wording/figures.ts';
import { STANDING_WORDS } from '../wording/standing-words.ts';
import { cellBand, type CellBand } from './cell-band.ts';
import type { Cell } from './floor-order.ts';
import type { Strip } from './ribbon-shape.ts';
import './spindle-ribbon.ts';

const WORST_FIRST: readonly Standing[] = ['hold', 'watch', 'no-data', 'in-family'];

export function bandRow(
  { cell, rows }: Cell,
  ribbons: ReadonlyMap<string, RibbonView>,
  strip: Strip,
  span: Span,
): TemplateResult {
  const counts = standingCounts(rows);
  const worst = WORST_FIRST.find((standing) => (counts.get(standing) ?? 0) > 0) ?? 'in-family';
  const { band, outliers } = bandOf(cell, rows, ribbons, strip);
  return html`<li>
    <a class="row" href=${addressOf({ page: 'floor', span, cell })}>
      <span class="who">
        <span class=${worst}>${mark(worst, { size: 20 })}</span>
        <span class="words"
          ><span class="id">${cell}</span><span class="small machine">${whole(rows.length)} spindles</span></span
        >
      </span>
      <spindle-ribbon .ribbon=${band} .outliers=${outliers} .strip=${strip}></spindle-ribbon>
      <span class="told small counts">${standingWords(counts)}</span>
    </a>
  </li>`;
}

function standingWords(counts: ReadonlyMap<Standing, number>): readonly unknown[] {
  return WORST_FIRST.filter((standing) => (counts.get(standing) ?? 0) > 0).map(
    (standing, index) =>
      html`${index === 0 ? '' : ', '}<span class="in-word ${standing}"
          >${whole(counts.get(standing) ?? 0)} ${STANDING_WORDS[standing]}</span
        >`,
  );
}

function standingCounts(rows: readonly SpindleRow[]): Map<Standing, number> {
  const counts = new Map<Standing, number>();
  for (const row of rows) counts.set(row.standing, (counts.get(row.standing) ?? 0) + 1);
  return counts;
}

interface Kept {
  readonly ribbons: ReadonlyMap<string, RibbonView>;
  readonly outs: string;
  readonly band: CellBand;
}

/** The last band of each cell: rows change each second, history and who stands out do not. */
const kept = new Map<string, Kept>();

function bandOf(
  cell: string,
  rows: readonly SpindleRow[],
  ribbons: ReadonlyMap<string, RibbonView>,
  strip: Strip,
): CellBand {
  const out = rows.filter((row) => row.standing === 'hold' || row.standing === 'watch').map((row) => row.spindleId);
  const outs = out.join(' ');
  const known = kept.get(cell);
  if (known?.ribbons === ribbons && known.outs === outs) return known.band;
  const members = rows.flatMap((row) => ribbons.get(row.spindleId) ?? []);
  const band = cellBand(cell, members, strip, (spindleId) => out.includes(spindleId));
  kept.set(cell, { ribbons, outs, band });
  return band;
}
