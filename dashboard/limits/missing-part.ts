// What is missing, before all that is there: spindles without a limit, a maximum, a source of a day; a few by name, all by a press.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say, sayCount } from '../../shared/language/index.ts';
import type { DeclaredRow } from '../../shared/declared-limits.ts';
import { mark } from '../drawing/standing-mark.ts';
import { spindleAddress } from '../router.ts';
import type { Missing } from './limit-lines.ts';

const NAMED_MAX = 8;

export function missingPart(missing: Missing): TemplateResult {
  const parts = [
    item(missing.undeclared, say`declared by nobody: without machine, cell and limits`),
    item(missing.unlimited, say`without any limit or table of zones: no vibration of it is held against a limit`),
    item(missing.undated, say`with a limit whose source names no day`),
    item(missing.withoutMaximum, say`without the machine maker’s maximum speed`),
    item(missing.generic, say`judged by a general table of machines alone, which is a starting point`),
  ].filter((part) => part !== nothing);
  if (parts.length === 0)
    return html`<p class="soft">
      Nothing is missing: each spindle has its limits, with source and day, and its maximum.
    </p>`;
  return html`<section aria-labelledby="missing">
    <h2 id="missing">What is missing</h2>
    <ul class="missing">
      ${parts}
    </ul>
  </section>`;
}

function item(rows: readonly DeclaredRow[], what: string): TemplateResult | typeof nothing {
  if (rows.length === 0) return nothing;
  const named = rows.slice(0, NAMED_MAX);
  const more = rows.length - named.length;
  return html`<li>
    ${mark('no-data')}
    <span>
      <b>${sayCount(rows.length, '{0} spindle', '{0} spindles')}</b> ${what}:
      ${named.map(({ spindleId }, place) => html`${place === 0 ? '' : ', '}<a href=${spindleAddress(spindleId)}>${spindleId}</a>`)}${more === 0 ? nothing : say` and ${more} more`}
    </span>
  </li>`;
}
