// The clause ledger: each clause of the rule as a row, measured against limit, the margin to scale, and where the limit comes from.
import { css, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { retell, say, sayCount } from '../../shared/language/index.ts';
import type { HoldView } from '../../shared/views.ts';
import { COUNTED, MISSING, times, withUnit } from '../wording/figures.ts';
import { ledgerScale } from './ledger-shape.ts';

type ClauseView = HoldView['evidence']['clauses'][number];

const WIDTH = 260;
const HEIGHT = 26;

/** What a clause is held against: a limit that somebody declared, or what a load was to be expected to show at most. */
interface Bound {
  readonly head: string;
  readonly from: string;
  readonly that: string;
}

const LIMIT: Bound = { head: say`Limit`, from: say`Where the limit comes from`, that: say`the limit` };
const EXPECTED: Bound = { head: say`Expected at most`, from: say`Where that comes from`, that: say`that` };

export function clauseLedger({ reason, evidence }: Pick<HoldView, 'reason' | 'evidence'>): TemplateResult {
  const { clauses } = evidence;
  const bound = reason === 'vibration-unexplained' ? EXPECTED : LIMIT;
  if (clauses.length === 0)
    return html`<p class="soft">No number decides this hold; its reason and its messages stand below.</p>`;
  return html`<div class="scrolls" tabindex="0" role="group" aria-label="Clauses of this hold">
    <table class="ledger">
      <thead>
        <tr>
          <th scope="col">Clause</th>
          <th scope="col" class="number">Measured</th>
          <th scope="col" class="number">${bound.head}</th>
          <th scope="col">Margin, to scale</th>
          <th scope="col">${bound.from}</th>
        </tr>
      </thead>
      <tbody>
        ${clauses.map((clause) => ledgerRow(clause, bound))}
      </tbody>
    </table>
  </div>`;
}

function ledgerRow(clause: ClauseView, bound: Bound): TemplateResult {
  return html`<tr>
    <th scope="row">
      ${retell(clause.what)}${clause.times === undefined ? '' : html`<span class="small soft times">${readingsInARow(clause.times)}</span>`}
    </th>
    <td class="number">${withUnit(clause.measured, clause.unit)}</td>
    <td class="number">${withUnit(clause.limit, clause.unit)}</td>
    <td>${clause.unit === COUNTED ? MISSING : margin(clause, bound)}</td>
    <td>${retell(clause.source)}</td>
  </tr>`;
}

const readingsInARow = (times: number): string => sayCount(times, 'one reading', '{0} readings in a row');

/** What is counted, such as measurements since a build, has no margin that a length could show. */
function margin(clause: ClauseView, { that }: Bound): TemplateResult {
  const { ratio } = ledgerScale(clause.measured, clause.limit);
  const words = ratio === undefined ? '' : html`${times(ratio)} <span class="of-limit">${that}</span>`;
  return html`<span class="margin">${bar(clause)}<strong>${words}</strong></span>`;
}

function bar(clause: ClauseView): TemplateResult {
  const { limitShare, measuredShare, over, beyond } = ledgerScale(clause.measured, clause.limit);
  const limitX = Math.round(limitShare * (WIDTH - 2)) + 1;
  const measuredX = Math.round(measuredShare * (WIDTH - 2)) + 1;
  const inside = Math.min(limitX, measuredX);
  return html`<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" preserveAspectRatio="none" aria-hidden="true">
    <path class="ground" d=${`M1 13H${WIDTH - 1}`} />
    <rect class="inside" x="1" y="8" width=${Math.max(0, inside - 1)} height="10" />
    ${over ? svg`<rect class="outside" x=${limitX} y="5" width=${Math.max(2, measuredX - limitX)} height="16" />` : ''}
    ${beyond ? svg`<path class="broken" d=${`M${WIDTH - 26} 24l8 -22m4 22l8 -22`} />` : ''}
    <path class="limit" d=${`M${limitX} 0V${HEIGHT}`} />
  </svg>`;
}

export const ledgerLook = css`
  .ledger td,
  .ledger th {
    padding-top: 0.5rem;
    padding-bottom: 0.5rem;
  }
  .ledger tbody th {
    min-width: 11rem;
  }
  .times {
    display: block;
    font-weight: 400;
  }
  .margin {
    display: inline-flex;
    align-items: center;
    gap: 0.75rem;
    white-space: nowrap;
  }
  .margin svg {
    flex: none;
    width: clamp(96px, 17vw, 260px);
    height: 26px;
  }
  .ledger td:last-child {
    min-width: 10rem;
  }
  .ground {
    stroke: var(--rule);
    stroke-width: 1;
  }
  .inside {
    fill: var(--slate);
  }
  .outside {
    fill: var(--plum);
  }
  .limit {
    stroke: var(--ink);
    stroke-width: 2.4;
    vector-effect: non-scaling-stroke;
  }
  .broken {
    stroke: var(--ground);
    stroke-width: 4;
  }
  .of-limit {
    font-weight: 400;
  }
  @media (max-width: 60rem) {
    .of-limit {
      display: none;
    }
  }
`;
