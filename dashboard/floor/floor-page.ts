// Floor: which spindles behave unlike what is in them? Ribbons in a fixed order, and beside them whatever needs somebody.
import { nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { RibbonsView, RibbonView } from '../../shared/ribbons.ts';
import type { HoldView } from '../../shared/views.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { look, presses, tables } from '../look.ts';
import type { Stretch } from '../api.ts';
import { PageData } from '../page-data.ts';
import { Page } from '../page.ts';
import { addressOf } from '../router.ts';
import { askWhileRead, stillReadLine } from '../still-read.ts';
import type { OpenedHolds } from '../shell/opened-holds.ts';
import { FLOOR_SPANS, SPAN_MS, SPAN_WORDS, type Span } from '../time-spans.ts';
import '../saving/save-picture.ts';
import './axis-and-key.ts';
import { bandRow } from './cell-row.ts';
import { floorLook } from './floor-look.ts';
import { byCell, pointsFor, ribbonHeight, RIBBON_PER_SPINDLE_MAX, type Cell } from './floor-order.ts';
import { floorTable } from './floor-table.ts';
import './needs-list.ts';
import type { Strip } from './ribbon-shape.ts';
import { spindleRow } from './spindle-row.ts';

const SPAN_AT_FIRST: Span = '8h';
const ASK_AGAIN_LEAST_MS = 10_000;
const WIDTH_STEP_PX = 8;

@customElement('floor-page')
export class FloorPage extends Page {
  static override styles = [look, presses, tables, markLook, floorLook];

  @property({ attribute: false }) opened!: OpenedHolds;
  @state() private widthPx = 0;
  readonly #ribbons = new PageData<RibbonsView>(this, () => this.api.ribbons({ ...this.#asked }));
  #askedKey = '';
  #asked: Stretch = { from: 0, to: 1, points: 1 };
  /** What the history on screen was asked for. */
  #shown: Stretch | undefined;
  #strip: Strip | undefined;
  #byId: ReadonlyMap<string, RibbonView> = new Map();
  #byIdOf: RibbonsView | undefined;
  readonly #measure = new ResizeObserver((entries) => {
    // In steps, so that a scroll bar coming and going does not ask for everything anew.
    const width = entries.at(-1)?.contentRect.width ?? 0;
    this.widthPx = Math.floor(width / WIDTH_STEP_PX) * WIDTH_STEP_PX;
  });
  #measured: Element | undefined;

  get #span(): Span {
    return (this.route.page === 'floor' ? this.route.span : undefined) ?? SPAN_AT_FIRST;
  }

  get #cell(): string | undefined {
    return this.route.page === 'floor' ? this.route.cell : undefined;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#measure.disconnect();
    this.#measured = undefined;
  }

  override willUpdate(): void {
    const { picture } = this;
    if (picture === undefined || this.widthPx === 0) return;
    const points = pointsFor(picture.spindles.size, this.widthPx);
    const span = SPAN_MS[this.#span];
    const key = `${this.#span} ${points}`;
    const asked = { from: picture.now - span, to: picture.now, points };
    if (this.#askedKey !== key) {
      this.#askedKey = key;
      this.#asked = asked;
      this.#ribbons.want(key, true);
    } else if (picture.now - this.#asked.to >= span / points && this.#ribbons.mayAskAgain(ASK_AGAIN_LEAST_MS)) {
      this.#asked = asked;
      void this.#ribbons.again();
    }
    askWhileRead(this.#ribbons);
    this.#index();
  }

  /** The strip belongs to the answer that is on screen, not to the question on its way. */
  #index(): void {
    const answer = this.#ribbons.value;
    if (answer === undefined || answer === this.#byIdOf) return;
    this.#byIdOf = answer;
    this.#shown = this.#asked;
    this.#byId = new Map(answer.spindles.map((ribbon) => [ribbon.spindleId, ribbon]));
    this.#strip = undefined;
  }

  #stripOf(heightPx: number): Strip {
    const { from, to, points } = this.#shown ?? this.#asked;
    const bucketMs = this.#byIdOf?.bucketMs ?? (to - from) / points;
    const same = this.#strip;
    if (same?.widthPx === this.widthPx && same.heightPx === heightPx && same.from === from && same.to === to)
      return same;
    this.#strip = { from, to, widthPx: this.widthPx, heightPx, bucketMs };
    return this.#strip;
  }

  override render() {
    const { picture } = this;
    if (picture === undefined)
      return html`<h1>Floor</h1>
        <p class="soft" role="status">Waiting for the picture of the plant …</p>`;
    const cells = byCell(picture.spindles.values()).filter(
      ({ cell }) => this.#cell === undefined || cell === this.#cell,
    );
    return html`
      <div class="head">
        <h1>${this.#cell === undefined ? say`Floor` : say`Floor, ${this.#cell}`}</h1>
        <p class="question">Which spindles behave unlike what is in them?</p>
        ${this.#spans()}
      </div>
      ${stillReadLine(this.#ribbons.value)}
      <div class="sides">
        <div class="ribbons">${cells.length === 0 ? this.#nothingDeclared() : this.#ribbonList(cells)}</div>
        <needs-list .picture=${picture} .opened=${this.opened}></needs-list>
      </div>
    `;
  }

  #spans() {
    return html`<nav class="choices not-printed" aria-label="Time shown">
      ${this.#cell === undefined ? nothing : html`<a href=${addressOf({ page: 'floor', span: this.#span })}>all cells</a>`}
      ${FLOOR_SPANS.map(
        (span) =>
          html`<a
            href=${addressOf({ page: 'floor', span, ...(this.#cell === undefined ? {} : { cell: this.#cell }) })}
            aria-current=${span === this.#span ? 'true' : nothing}
            >${SPAN_WORDS[span]}</a
          >`,
      )}
    </nav>`;
  }

  #nothingDeclared() {
    return html`<section>
      <h2>No spindle yet</h2>
      <p>
        A spindle appears here as soon as its sensor has said its first word, or when the plant engineer declares it.
      </p>
      <p><a class="press" href=${addressOf({ page: 'plant' })}>Connect the first devices</a></p>
    </section>`;
  }

  #ribbonList(cells: readonly Cell[]) {
    const spindles = cells.reduce((sum, { rows }) => sum + rows.length, 0);
    const perCell = this.#cell === undefined && spindles > RIBBON_PER_SPINDLE_MAX;
    const strip = this.#stripOf(ribbonHeight(perCell ? cells.length : spindles));
    return html`
      <axis-and-key
        .strip=${strip}
        .zone=${this.clock.zone}
        .perCell=${perCell}
        .state=${this.#ribbons.state.kind}
      ></axis-and-key>
      ${perCell ? this.#cellRows(cells, strip) : this.#spindleRows(cells, strip)}
      <save-picture
        .name=${this.#cell === undefined ? say`Floor` : say`Floor, ${this.#cell}`}
        of=".ribbons"
        table=".ribbons table"
      ></save-picture
      >${floorTable(cells, this.clock)}
    `;
  }

  #cellRows(cells: readonly Cell[], strip: Strip) {
    return html`<ul class="rows">
      ${repeat(
        cells,
        ({ cell }) => cell,
        (cell) => bandRow(cell, this.#byId, strip, this.#span),
      )}
    </ul>`;
  }

  #spindleRows(cells: readonly Cell[], strip: Strip) {
    const held = this.#heldBySpindle();
    return cells.map(
      ({ cell, rows }, index) =>
        html`<section class="cell">
          <h2>${cell}</h2>
          <ul class="rows">
            ${repeat(
              rows,
              (row) => row.spindleId,
              (row, place) =>
                spindleRow(row, {
                  ribbon: this.#byId.get(row.spindleId),
                  strip,
                  holds: held.get(row.spindleId) ?? [],
                  clock: this.clock,
                  scale: index === 0 && place === 0,
                  fresh: (held.get(row.spindleId) ?? []).some(
                    (hold) => hold.state === 'raised' && !this.opened.has(hold.holdId),
                  ),
                }),
            )}
          </ul>
        </section>`,
    );
  }

  /** Holds of the spindle itself and of the assembly that is in it. */
  #heldBySpindle(): Map<string, HoldView[]> {
    const held = new Map<string, HoldView[]>();
    for (const hold of this.picture?.holds.values() ?? []) {
      const spindleId = hold.subject.kind === 'spindle' ? hold.subject.id : hold.evidence.spindleId;
      if (spindleId === undefined) continue;
      const known = held.get(spindleId);
      if (known === undefined) held.set(spindleId, [hold]);
      else known.push(hold);
    }
    return held;
  }

  protected override updated(changed: PropertyValues<this>): void {
    super.updated(changed);
    void this.#measureTrack();
  }

  /** The axis has drawn itself only after this page has: its track is what all ribbons are as wide as. */
  async #measureTrack(): Promise<void> {
    const axis = this.renderRoot.querySelector('axis-and-key');
    if (axis === null || axis === this.#measured) return;
    this.#measured = axis;
    await axis.updateComplete;
    this.#measure.disconnect();
    if (axis.track !== null && this.isConnected) this.#measure.observe(axis.track);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'floor-page': FloorPage;
  }
}
