// Beneath a picture: what is on the screen is saved as a drawing, as an image, and its table as a file of values.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { numberMarks, say } from '../../shared/language/index.ts';
import { look, presses } from '../look.ts';
import { day, localTimeOf, moment } from '../wording/instants.ts';
import { drawnIn, type Drawn } from './drawn.ts';
import { imageOf } from './image-file.ts';
import { pictureFile, type Caption } from './picture-file.ts';
import { PlantAsked } from './plant-asked.ts';
import { tableCells } from './table-cells.ts';
import { tableText, type TableCells } from './table-text.ts';

type Kind = 'svg' | 'png' | 'csv';

@customElement('save-picture')
export class SavePicture extends LitElement {
  static override styles = [
    look,
    presses,
    css`
      :host {
        margin: 0.25rem 0 0.5rem;
      }
      @media print {
        :host {
          display: none;
        }
      }
      .choices button,
      .opens {
        font-size: var(--small);
      }
      .choices .opens {
        color: var(--slate);
        padding-left: 0;
      }
    `,
  ];

  /** What the file and its caption are called. */
  @property() name = '';
  /** What is drawn, as a selector in the same root; else the element that stands before. */
  @property() of = '';
  /** The twin table, or the element that shows it, as a selector in the same root or one above. */
  @property() table = 'table';
  /** In place of a table, where the picture has all of it in words. */
  @property({ attribute: false }) cells: TableCells | undefined;
  @state() private open = false;
  @state() private said = '';

  override render() {
    return html`<div class="choices not-printed" role="group" aria-label=${say`Save: ${this.name}`}>
      <button class="opens" aria-expanded=${this.open ? 'true' : 'false'} @click=${this.#turn}>Save …</button>
      ${this.open ? this.#kinds() : nothing}
      <span class="soft small" role="status">${this.said}</span>
    </div>`;
  }

  #kinds() {
    const painted = this.#drawn.some(({ kind }) => kind === 'canvas');
    return html`${
        painted
          ? html`<span class="soft small">It is painted, not drawn: no SVG.</span>`
          : html`<button @click=${() => this.#save('svg')}>Drawing, SVG</button>`
      }
      <button @click=${() => this.#save('png')}>Image, PNG</button>
      ${this.#twin === undefined ? nothing : html`<button @click=${() => this.#save('csv')}>Table, CSV</button>`}`;
  }

  readonly #turn = (): void => {
    this.open = !this.open;
    this.said = '';
  };

  get #drawn(): Drawn[] {
    const { previousElementSibling: before } = this;
    const root = this.getRootNode() as Document | ShadowRoot;
    const parts = this.of === '' ? [before] : [...root.querySelectorAll(this.of)];
    return parts.flatMap((part) => (part === null ? [] : drawnIn(part)));
  }

  get #twin(): TableCells | undefined {
    if (this.cells !== undefined) return this.cells;
    for (let root = this.getRootNode(); root instanceof ShadowRoot; root = root.host.getRootNode()) {
      const found = root.querySelector(this.table);
      const table = found?.shadowRoot?.querySelector('table') ?? found;
      if (table instanceof HTMLTableElement) return tableCells(table);
    }
    return undefined;
  }

  async #save(kind: Kind): Promise<void> {
    const blob = await this.#blobOf(kind);
    if (blob === undefined) {
      this.said = say`Nothing is drawn yet.`;
      return;
    }
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${fileName(`${this.name} ${this.#dated()}`)}.${kind}`;
    link.click();
    this.said = say`Saved as ${link.download}.`;
    // The browser has taken it by the next task.
    setTimeout(() => URL.revokeObjectURL(link.href));
  }

  async #blobOf(kind: Kind): Promise<Blob | undefined> {
    if (kind === 'csv') {
      const cells = this.#twin;
      return cells && new Blob([tableText(cells, numberMarks())], { type: 'text/csv;charset=utf-8' });
    }
    const drawn = this.#drawn;
    if (drawn.length === 0) return undefined;
    const { backgroundColor: clear } = getComputedStyle(document.body);
    const { backgroundColor, color: ink } = getComputedStyle(document.documentElement);
    const ground = backgroundColor === 'rgba(0, 0, 0, 0)' ? clear : backgroundColor;
    const caption = this.#caption();
    if (kind === 'png') return imageOf(drawn, pictureFile(drawn, caption, { ground: undefined, ink }), ground);
    return new Blob([pictureFile(drawn, caption, { ground, ink }).svg], { type: 'image/svg+xml' });
  }

  #told(): PlantAsked['told'] {
    const asked = new PlantAsked();
    this.dispatchEvent(asked);
    return asked.told;
  }

  /** 2031-03-04 0710, by the plant's clock: a table may tell times of that day without the day. */
  #dated(): string {
    const told = this.#told();
    if (told === undefined) return '';
    const { year, month, day: nth, hour, minute } = localTimeOf(told.now, told.zone);
    return `${year}-${String(month).padStart(2, '0')}-${String(nth).padStart(2, '0')} ${hour}${minute}`;
  }

  #caption(): Caption {
    const told = this.#told();
    if (told === undefined) return { title: this.name, lines: [] };
    const { plant, zone, now, invented } = told;
    const at = `${day(now, zone)}, ${moment(now, { zone, now })}`;
    return { title: this.name, lines: [say`${plant}; ${at}, ${zone}`, ...(invented ? [say`Invented data`] : [])] };
  }
}

/** A name that every system takes. */
const fileName = (name: string): string =>
  name
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-|-$/gu, '')
    .toLowerCase();

declare global {
  interface HTMLElementTagNameMap {
    'save-picture': SavePicture;
  }
}
