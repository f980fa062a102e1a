// Plants: which of them needs somebody? One row each, the one that answers first, whoever has waited longest above.
import { css, nothing, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import type { GroupView, PlantInGroup, PlantStanding } from '../../shared/group.ts';
import { retell, say } from '../../shared/language/index.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { html } from '../language/html.ts';
import { look, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { age, moment } from '../wording/instants.ts';
import { whole } from '../wording/figures.ts';

/** The service hears of the others every half minute. */
const ASK_AGAIN_MS = 15_000;

@customElement('plants-page')
export class PlantsPage extends Page {
  static override styles = [
    look,
    tables,
    markLook,
    css`
      th[scope='row'] {
        font-weight: 400;
      }
      thead th {
        white-space: normal;
      }
      .waiting td {
        white-space: normal;
        padding: 0 0 0.75rem 1.5rem;
      }
      tr:has(+ .waiting) > * {
        border-bottom: 0;
      }
      .name {
        font-weight: 650;
      }
      ul {
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li + li {
        margin-top: 0.35rem;
      }
      .invented {
        border: 1px dashed var(--slate);
        padding: 0 0.4rem;
        white-space: nowrap;
      }
    `,
  ];

  readonly #group = new PageData<GroupView>(this, () => this.api.plants());
  #seen = 0;

  override willUpdate(): void {
    this.#group.want('all');
    const turn = Math.floor(this.clock.now / ASK_AGAIN_MS);
    if (turn === this.#seen || !this.#group.mayAskAgain(ASK_AGAIN_MS)) return;
    this.#seen = turn;
    void this.#group.again();
  }

  override render() {
    return html`<h1>Plants</h1>
      <p class="question">Which plant needs somebody?</p>
      ${
        insteadOf(this.#group.state, { what: say`the plants`, absent: html`` }) ??
        html`${this.oldWords(this.#group.state)}${this.#group.value === undefined ? nothing : this.#body(this.#group.value)}`
      }`;
  }

  #body({ plants }: GroupView) {
    return html`<table>
        <thead>
          <tr>
            <th scope="col">Plant</th>
            <th scope="col" class="number">Holds</th>
            <th scope="col" class="number">that nobody has</th>
            <th scope="col" class="number">Spindles</th>
            <th scope="col" class="number">watch</th>
            <th scope="col" class="number">not judged</th>
            <th scope="col" class="number">not read</th>
          </tr>
        </thead>
        ${plants.toSorted(mostWaiting).map(
          (plant) =>
            html`<tbody>
              ${this.#row(plant)}
            </tbody>`,
        )}
      </table>
      ${
        plants.length > 1
          ? nothing
          : html`<p class="soft">
              This service shows its own plant alone. Others are named in a file (groupFile), and their standing stands
              here beside it.
            </p>`
      }`;
  }

  #row(plant: PlantInGroup): TemplateResult {
    const { standing } = plant;
    if (standing === undefined)
      return html`<tr>
        <th scope="row">${nameOf(plant)}</th>
        <td colspan="6">${mark('no-data', { size: 18 })} ${this.#heard(plant) ?? say`not heard of yet`}</td>
      </tr>`;
    const { holds, spindles, rejectsOpen } = standing;
    return html`<tr>
        <th scope="row">
          ${nameOf(plant)} ${standing.invented ? html`<span class="invented">invented data</span>` : nothing}
          <div class="soft small">${standing.zone}${this.#heardLine(plant)}</div>
        </th>
        <td class="number">${holds.open > 0 ? mark('hold', { size: 16 }) : nothing} ${whole(holds.open)}</td>
        <td class="number">${whole(holds.alone)}</td>
        <td class="number">${whole(spindles.all)}</td>
        <td class="number">${whole(spindles.watch)}</td>
        <td class="number">${whole(spindles.noData)}</td>
        <td class="number">${whole(rejectsOpen)}</td>
      </tr>
      ${
        standing.pressing.length === 0
          ? nothing
          : html`<tr class="waiting">
              <td colspan="7">${this.#pressing(plant, standing)}</td>
            </tr>`
      }`;
  }

  /** Its own clock told when; how long ago is by it as well, so that two clocks that differ do no harm. */
  #pressing({ url }: PlantInGroup, { pressing, now, zone }: PlantStanding): TemplateResult {
    const clock = { now, zone };
    return html`<ul>
      ${pressing.map(
        ({ holdId, sentence, raisedAt }) =>
          html`<li>
            <a href=${`${url ?? ''}/holds/${encodeURIComponent(holdId)}`}>${retell(sentence)}</a>
            <div class="soft small">${moment(raisedAt, clock)}, ${age(raisedAt, clock)} without an answer</div>
          </li>`,
      )}
    </ul>`;
  }

  #heardLine(plant: PlantInGroup): TemplateResult | typeof nothing {
    const heard = this.#heard(plant);
    return heard === undefined ? nothing : html`<br />${heard}`;
  }

  /** Said where it does not answer now: an old picture is not made to look like a new one. */
  #heard({ why, heardAt }: PlantInGroup): string | undefined {
    if (why === undefined) return undefined;
    return heardAt === undefined
      ? say`It does not answer: ${retell(why)}`
      : say`As it was ${age(heardAt, this.clock)} ago; it does not answer now: ${retell(why)}`;
  }
}

function nameOf({ name, url }: PlantInGroup): TemplateResult {
  return html`<a class="name" href=${`${url ?? ''}/floor`}>${name}</a>`;
}

/** What nobody answers comes first, the oldest above; what is not heard of after that. */
function mostWaiting(a: PlantInGroup, b: PlantInGroup): number {
  const since = ({ standing }: PlantInGroup): number => standing?.holds.aloneSince ?? Number.MAX_SAFE_INTEGER;
  const isUnheard = ({ why }: PlantInGroup): number => (why === undefined ? 1 : 0);
  return since(a) - since(b) || isUnheard(a) - isUnheard(b);
}

declare global {
  interface HTMLElementTagNameMap {
    'plants-page': PlantsPage;
  }
}
