// Beneath a picture: what is on the screen is saved as a drawing, as an image, and its table as a file of values.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { numberMarks, say } from '../../shared/language/index.ts';
import { look, presses } from '../look.ts';
import { day, moment } from '../wording/instants.ts';
import { drawnIn, type Drawn } from './drawn.ts';
import { imageOf } from './image-file.ts';
import { pictureFile, type Caption } from './picture-file.ts';
import { PlantAsked } from './plant-asked.ts';
import { tableCells } from './table-cells.ts';
import { tableText } from './table-text.ts';

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
  /** The picture, as a selector in the same root; else the element that stands before. */
  @property() of = '';
  /** The twin table, as a selector in the same root. */
  @property() table = 'table';
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
    const part = this.#part;
    const painted = part !== undefined && hasCanvas(drawnIn(part));
    return html`${
      painted
        ? html`<span class="soft small">It is painted, not drawn: no SVG.</span>`
        : html`<button @click=${() => this.#save('svg')} ?disabled=${part === undefined}>Drawing, SVG</button>`
    }
      <button @click=${() => this.#save('png')} ?disabled=${part === undefined}>Image, PNG</button>
      ${this.#twin === undefined ? nothing : html`<button @click=${() => this.#save('csv')}>Table, CSV</button>`}`;
  }

  readonly #turn = (): void => {
    this.open = !this.open;
    this.said = '';
  };

  get #root(): ParentNode {
    return this.getRootNode() as Document | ShadowRoot;
  }

  get #part(): Element | undefined {
    return (this.of === '' ? this.previousElementSibling : this.#root.querySelector(this.of)) ?? undefined;
  }

  get #twin(): HTMLTableElement | undefined {
    const found = this.#root.querySelector(this.table);
    return found instanceof HTMLTableElement ? found : undefined;
  }

  async #save(kind: Kind): Promise<void> {
    const blob = await this.#blobOf(kind);
    if (blob === undefined) {
      this.said = say`Nothing is drawn yet.`;
      return;
    }
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${fileName(this.name)}.${kind}`;
    link.click();
    this.said = say`Saved as ${link.download}.`;
    // The browser has taken it by the next task.
    setTimeout(() => URL.revokeObjectURL(link.href));
  }

  async #blobOf(kind: Kind): Promise<Blob | undefined> {
    if (kind === 'csv') {
      const table = this.#twin;
      if (table === undefined) return undefined;
      return new Blob([tableText(tableCells(table), numberMarks())], { type: 'text/csv;charset=utf-8' });
    }
    const drawn = this.#part === undefined ? [] : drawnIn(this.#part);
    if (drawn.length === 0) return undefined;
    const { backgroundColor: clear } = getComputedStyle(document.body);
    const { backgroundColor, color: ink } = getComputedStyle(document.documentElement);
    const ground = backgroundColor === 'rgba(0, 0, 0, 0)' ? clear : backgroundColor;
    const caption = this.#caption();
    if (kind === 'png') return imageOf(drawn, pictureFile(drawn, caption, { ground: undefined, ink }), ground);
    return new Blob([pictureFile(drawn, caption, { ground, ink }).svg], { type: 'image/svg+xml' });
  }

  #caption(): Caption {
    const asked = new PlantAsked();
    this.dispatchEvent(asked);
    const { told } = asked;
    if (told === undefined) return { title: this.name, lines: [] };
    const { plant, zone, now, invented } = told;
    const at = `${day(now, zone)}, ${moment(now, { zone, now })}`;
    return { title: this.name, lines: [say`${plant}; ${at}, ${zone}`, ...(invented ? [say`Invented data`] : [])] };
  }
}

const hasCanvas = (drawn: readonly Drawn[]): boolean => drawn.some(({ kind }) => kind === 'canvas');

/** A name that every system takes. */
const fileName = (name: string): string => name.replaceAll(/[^\p{L}\p{N}]+/gu, '-').replaceAll(/^-|-$/gu, '').toLowerCase();

declare global {
  interface HTMLElementTagNameMap {
    'save-picture': SavePicture;
  }
}
