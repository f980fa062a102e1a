// Plant: who and what belongs to this plant? Spindles, devices and people; and on the first day, how to connect the first of them.
import { css, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import type { Connecting } from '../../shared/connecting.ts';
import type { DeclaredLimits, DeclaredRow } from '../../shared/declared-limits.ts';
import { say } from '../../shared/language/index.ts';
import { MAY_DECLARE_SPINDLE } from '../../shared/rights.ts';
import type { Picture } from '../feed-fold.ts';
import { inOrder } from '../limits/limit-lines.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { addressOf } from '../router.ts';
import { count, MISSING, whole } from '../wording/figures.ts';
import './connect-guide.ts';
import './declare-spindle.ts';
import './devices-part.ts';
import './people-part.ts';
import { askConnecting, askDevices, askPeople, type DeviceShown, type PersonShown } from './plant-asks.ts';
import { spindlesTable } from './spindles-part.ts';

/** Rows that are made at once; which they are of how many is said. */
const ROWS_AT_ONCE = 100;
const ASK_AGAIN_LEAST_MS = 5000;

@customElement('plant-page')
export class PlantPage extends Page {
  static override styles = [
    look,
    presses,
    tables,
    css`
      section {
        margin-top: 1.25rem;
      }
      .belongs {
        margin: 0.5rem 0 0;
      }
      .turned {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 0.75rem;
        align-items: center;
        max-width: none;
      }
    `,
  ];

  @state() private from = 0;
  readonly #declared = new PageData<DeclaredLimits>(this, () => this.api.limits());
  readonly #connecting = new PageData<Connecting>(this, () => askConnecting(this.api));
  readonly #devices = new PageData<readonly DeviceShown[]>(this, () => askDevices(this.api));
  readonly #people = new PageData<readonly PersonShown[]>(this, () => askPeople(this.api));
  #rows: readonly DeclaredRow[] = [];
  #rowsOf: DeclaredLimits | undefined;
  /** As it was when the page was opened: what is read does not move when the first message comes. */
  #wasNew: boolean | undefined;

  get #isAdmin(): boolean {
    return this.hasRole(['admin']);
  }

  override willUpdate(): void {
    if (this.picture !== undefined) this.#wasNew ??= isNew(this.picture);
    this.#declared.want('all');
    this.#connecting.want('all');
    if (this.#isAdmin) {
      this.#devices.want('all');
      this.#people.want('all');
    }
    // A spindle appears with its sensor's first word: the list of them is then old.
    const known = this.#declared.value;
    const more = known !== undefined && (this.picture?.spindles.size ?? 0) > known.spindles.length;
    if (more && this.#declared.mayAskAgain(ASK_AGAIN_LEAST_MS)) void this.#declared.again();
    if (known === undefined || known === this.#rowsOf) return;
    this.#rowsOf = known;
    this.#rows = inOrder(known.spindles);
  }

  override render() {
    const { picture } = this;
    return html`<h1>Plant</h1>
      <p class="question">Who and what belongs to this plant?</p>
      <p class="belongs">
        <b>${picture?.plant ?? MISSING}</b>, times in ${this.clock.zone}; Counterpoise
        ${this.#connecting.value?.version ?? MISSING}${picture === undefined ? nothing : html`; ${whole(picture.intake.journal.position)} entries on record`}.
      </p>
      ${this.#isWhole ? this.#parts() : html`<p class="soft" role="status">Fetching what belongs to this plant …</p>`}`;
  }

  /** Each part pushes down those below it: they come together, once each was answered somehow. */
  get #isWhole(): boolean {
    const asked = [this.#declared, ...(this.#isAdmin ? [this.#devices, this.#people] : [])];
    return this.picture !== undefined && asked.every(({ state }) => state.kind !== 'loading');
  }

  #parts() {
    return html`${(this.#wasNew ?? false) ? html`${this.#guide(true)} ${this.#spindles()}` : html`${this.#spindles()} ${this.#guide(false)}`}
    ${this.#belonging()}`;
  }

  /** On a plant that lacks devices or spindles the way to them comes first. */
  #guide(isFirst: boolean) {
    const { picture } = this;
    return html`<section aria-labelledby="connect" class="not-printed">
      <h2 id="connect">
        ${isFirst ? say`First minutes: connect a sensor, a machine, a bench` : say`Connect a device`}
      </h2>
      ${
        isFirst
          ? html`<p>
              Give a device its name and secret, paste the first commands, and see its first message arrive. A spindle
              appears with the first word of its sensor.
            </p>`
          : nothing
      }
      ${
        this.#isAdmin
          ? html`<connect-guide
              .api=${this.api}
              .picture=${picture}
              .connecting=${this.#connecting.value}
              @counterpoise-belonging=${() => void this.#devices.again()}
            ></connect-guide>`
          : html`<p class="soft">A device is enrolled by somebody with the role administrator.</p>`
      }
    </section>`;
  }

  #spindles() {
    const undeclared = this.#rows.filter(({ declaredAt }) => declaredAt === undefined);
    return html`<section aria-labelledby="spindles" class="long">
      <h2 id="spindles">Spindles</h2>
      ${insteadOf(this.#declared.state, { what: say`the spindles`, absent: html`` }) ?? html`${this.oldWords(this.#declared.state)}${this.#spindleRows()}`}
      ${
        this.hasRole(MAY_DECLARE_SPINDLE)
          ? html`<declare-spindle
              .api=${this.api}
              .undeclared=${undeclared.map(({ spindleId }) => spindleId)}
              @counterpoise-belonging=${() => void this.#declared.again()}
            ></declare-spindle>`
          : nothing
      }
    </section>`;
  }

  #spindleRows() {
    const rows = this.#rows;
    if (rows.length === 0) return html`<p>No spindle yet.</p>`;
    const undeclared = rows.filter(({ declaredAt }) => declaredAt === undefined).length;
    const to = Math.min(rows.length, this.from + ROWS_AT_ONCE);
    return html`<p>
        ${count(rows.length, 'spindle', 'spindles')}.
        ${undeclared === 0 ? nothing : html`<b>${count(undeclared, 'spindle', 'spindles')} not declared</b>: a plant engineer says which machine and cell each belongs to.`}
        ${this.hasRole(MAY_DECLARE_SPINDLE) ? html`Limits are entered at <a href=${addressOf({ page: 'limits' })}>Limits</a>.` : nothing}
      </p>
      ${
        rows.length <= ROWS_AT_ONCE
          ? nothing
          : html`<p class="turned">
              <span role="status">Rows ${whole(this.from + 1)} to ${whole(to)} of ${whole(rows.length)}.</span>
              <button ?disabled=${this.from === 0} @click=${() => (this.from -= ROWS_AT_ONCE)}>
                The ${ROWS_AT_ONCE} before
              </button>
              <button ?disabled=${to === rows.length} @click=${() => (this.from += ROWS_AT_ONCE)}>
                The next ${ROWS_AT_ONCE}
              </button>
            </p>`
      }
      ${spindlesTable(
        rows.slice(this.from, to),
        ({ spindleId, lastReadingAt }) => this.picture?.spindles.get(spindleId)?.lastReadingAt ?? lastReadingAt,
        this.clock,
      )}`;
  }

  #belonging() {
    if (!this.#isAdmin)
      return html`<section aria-labelledby="others">
        <h2 id="others">Devices and people</h2>
        <p class="soft">Credentials of devices, and people with their roles, are shown to administrators only.</p>
      </section>`;
    return html`<section aria-labelledby="devices" class="long">
        <h2 id="devices">Devices</h2>
        ${
          insteadOf(this.#devices.state, { what: say`the devices`, absent: html`` }) ??
          html`${this.oldWords(this.#devices.state)}<plant-devices
              .api=${this.api}
              .picture=${this.picture}
              .devices=${this.#devices.value ?? []}
              @counterpoise-belonging=${() => void this.#devices.again()}
            ></plant-devices>`
        }
      </section>
      <section aria-labelledby="people" class="long">
        <h2 id="people">People</h2>
        ${
          insteadOf(this.#people.state, { what: say`the people`, absent: html`` }) ??
          html`${this.oldWords(this.#people.state)}<plant-people
              .api=${this.api}
              .clock=${this.clock}
              .people=${this.#people.value ?? []}
              @counterpoise-belonging=${() => void this.#people.again()}
            ></plant-people>`
        }
      </section>`;
  }
}

/** Without a spindle, or without a device that has said anything. */
function isNew({ spindles, intake }: Picture): boolean {
  return spindles.size === 0 || !intake.devices.some(({ messages }) => messages > 0);
}

declare global {
  interface HTMLElementTagNameMap {
    'plant-page': PlantPage;
  }
}
