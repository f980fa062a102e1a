// Who travelled with whom: assemblies down, spindles across, each pair observed ÷ expected; the same as a table beneath.
import { css, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { Travels } from '../../shared/travels.ts';
import { pictureText } from '../drawing/picture-look.ts';
import { look, tables } from '../look.ts';
import { MISSING, amount, times, unitOf, velocity, whole } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import '../saving/save-picture.ts';
import { matrixRows, matrixSentence, RAN_SHORT, RAN_WORDS, type MatrixCell, type Ran } from './matrix-shape.ts';

const CELL = { width: 112, height: 44 } as const;
const HEAD = { left: 116, top: 40 } as const;
const NAME_CHARACTERS_MAX = 14;

@customElement('cause-matrix')
export class CauseMatrix extends LitElement {
  static override styles = [
    look,
    tables,
    pictureText,
    css`
      svg {
        display: block;
      }
      .cell {
        fill: none;
        stroke: var(--rule);
      }
      .suspect {
        fill: none;
        stroke: var(--plum);
        stroke-width: 2.4;
      }
      .louder {
        fill: var(--plum);
      }
      .quieter {
        fill: var(--cobalt);
      }
      .as-expected,
      .not-known {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1.6;
      }
      text.name {
        fill: var(--ink);
        font-weight: 600;
      }
      text.ratio {
        fill: var(--ink);
        font-weight: 650;
        font-size: 14px;
      }
      .said {
        margin: 0.5rem 0;
      }
      /* Beside the picture, where it has the page's whole width. */
      @media (min-width: 62rem) and (max-width: 105rem) {
        .pairs {
          display: grid;
          grid-template-columns: minmax(0, auto) minmax(18rem, 1fr);
          gap: 0 2rem;
        }
      }
      /* Units stand in the heads, and heads on several lines where there is no room for one. */
      th.number {
        white-space: normal;
        text-wrap: balance;
      }
      @media print {
        svg {
          max-width: 100%;
          height: auto;
        }
      }
    `,
  ];

  @property({ attribute: false }) travels!: Travels;
  @property({ attribute: false }) clock!: PlantClock;
  /** Of a hold that has ended. */
  @property({ attribute: false }) ended = false;

  override render() {
    const rows = matrixRows(this.travels);
    const sentence = matrixSentence(this.travels);
    return html`<div class="pairs">
        <div class="scrolls" tabindex="0" role="group" aria-label="Who travelled with whom, as a picture">
          ${this.#picture(rows)}
        </div>
        <div>
          <p class="said">${sentence ?? nothing}</p>
          <p class="soft small">
            1× observed ÷ expected, of the newest load of each pair. Triangle up: at least 1.4 times; down: at most
            1/1.4; ring: between; square: nothing to expect yet. A frame marks what this hold suspects.
            ${this.travels.since === undefined ? nothing : say`What ran before the change says nothing of it.`} What is
            expected here goes by residuals alone, squared; the causes above were weighed with angles and the scatter of
            clampings as well, so the two can differ.
            ${this.ended ? say`Loads that ran while it was open may no longer be remembered, and what is expected is as it is known today.` : nothing}
          </p>
        </div>
      </div>
      <save-picture .name=${say`Who travelled with whom`}></save-picture>
      ${this.#table(rows)}`;
  }

  #picture(rows: readonly (readonly MatrixCell[])[]) {
    const { spindles, assemblies } = this.travels;
    const width = HEAD.left + spindles.length * CELL.width + 2;
    const height = HEAD.top + assemblies.length * CELL.height + 2;
    return html`<svg
      width=${width}
      height=${height}
      viewBox="0 0 ${width} ${height}"
      role="img"
      aria-label=${say`Who travelled with whom: ${assemblies.length} assemblies, ${spindles.length} spindles; the table below has the same`}
    >
      ${spindles.map(
        (
          id,
          column,
        ) => svg`<text class="name" x=${HEAD.left + (column + 0.5) * CELL.width} y="18" text-anchor="middle">${short(id)}</text>
        ${this.travels.suspects.spindles.includes(id) ? svg`<text x=${HEAD.left + (column + 0.5) * CELL.width} y="33" text-anchor="middle">suspected</text>` : ''}`,
      )}
      ${assemblies.map((id, row) => {
        const y = HEAD.top + (row + 0.5) * CELL.height;
        const suspected = this.travels.suspects.assemblies.includes(id);
        return svg`<text class="name" x="0" y=${y + (suspected ? -2 : 4)}>${short(id)}</text>
          ${suspected ? svg`<text x="0" y=${y + 13}>suspected</text>` : ''}`;
      })}
      ${rows.map((cells, row) => cells.map((cell, column) => drawCell(cell, column, row)))} ${this.#frames(rows.length)}
    </svg>`;
  }

  #frames(rows: number) {
    const { spindles, assemblies, suspects } = this.travels;
    return [
      ...suspects.spindles.map((id) => {
        const x = HEAD.left + spindles.indexOf(id) * CELL.width;
        return svg`<rect class="suspect" x=${x + 1} y=${HEAD.top + 1} width=${CELL.width - 2} height=${rows * CELL.height - 2} />`;
      }),
      ...suspects.assemblies.map((id) => {
        const y = HEAD.top + assemblies.indexOf(id) * CELL.height;
        return svg`<rect class="suspect" x=${HEAD.left + 1} y=${y + 1} width=${spindles.length * CELL.width - 2} height=${CELL.height - 2} />`;
      }),
    ];
  }

  #table(rows: readonly (readonly MatrixCell[])[]) {
    const ran = rows.flat().filter((one) => one.cell !== undefined);
    return html`<details>
      <summary>The pairs as a table</summary>
      <div class="scrolls" tabindex="0" role="group" aria-label="Who travelled with whom">
        <table>
          <thead>
            <tr>
              <th scope="col">Assembly</th>
              <th scope="col">Spindle</th>
              <th scope="col">1× observed ÷ expected</th>
              <th scope="col" class="number">1×, ${unitOf('mm/s')}</th>
              <th scope="col" class="number">Expected, ${unitOf('mm/s')}</th>
              <th scope="col" class="number">Residual, ${unitOf('g.mm')}</th>
              <th scope="col" class="number">Speed, rpm</th>
              <th scope="col" class="number">Loads</th>
              <th scope="col">Last</th>
            </tr>
          </thead>
          <tbody>
            ${ran.map(
              ({ assemblyId, spindleId, ran: how, ratio, cell, suspect, before }) =>
                html`<tr>
                  <th scope="row">${assemblyId}</th>
                  <td>${spindleId}</td>
                  <td>
                    ${ratio === undefined ? RAN_WORDS[how] : html`<span class="nowrap">${times(ratio)} ${RAN_SHORT[how]}</span>`}${suspect ? say`, suspected` : nothing}${before ? say`, before the change` : nothing}
                  </td>
                  <td class="number">${amount(cell?.observedMmS, 'mm/s')}</td>
                  <td class="number">${amount(cell?.expectedMmS, 'mm/s')}</td>
                  <td class="number">${amount(cell?.residualGmm, 'g.mm')}</td>
                  <td class="number">${cell === undefined ? MISSING : whole(cell.speedRpm)}</td>
                  <td class="number">${cell?.loads}</td>
                  <td class="nowrap">${moment(cell?.at, this.clock)}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <p class="soft small">All other pairs of these were never together, as far as is remembered.</p>
    </details>`;
  }
}

const short = (id: string): string =>
  id.length > NAME_CHARACTERS_MAX ? `${id.slice(0, NAME_CHARACTERS_MAX - 1)}…` : id;

function drawCell({ ran, ratio, cell, before }: MatrixCell, column: number, row: number) {
  const x = HEAD.left + column * CELL.width;
  const y = HEAD.top + row * CELL.height;
  const middle = y + CELL.height / 2;
  if (cell === undefined)
    return svg`<rect class="cell" x=${x} y=${y} width=${CELL.width} height=${CELL.height} />
      <text x=${x + CELL.width / 2} y=${middle + 4} text-anchor="middle">never together</text>`;
  return svg`<rect class="cell" x=${x} y=${y} width=${CELL.width} height=${CELL.height} />
    ${drawMark(ran, x + 20, before ? middle - 6 : middle)}
    <text class=${ratio === undefined ? '' : 'ratio'} x=${x + (ratio === undefined ? 33 : 38)} y=${before ? middle - 1 : middle + 5}>${ratio === undefined ? velocity(cell.observedMmS) : times(ratio)}</text>
    ${before ? svg`<text x=${x + 8} y=${y + CELL.height - 6}>before</text>` : ''}`;
}

/** Shape first, then colour. */
function drawMark(ran: Ran, x: number, y: number) {
  switch (ran) {
    case 'louder':
      return svg`<path class="louder" d=${`M${x} ${y - 9}l9 16h-18z`} />`;
    case 'quieter':
      return svg`<path class="quieter" d=${`M${x} ${y + 9}l9 -16h-18z`} />`;
    case 'as-expected':
      return svg`<circle class="as-expected" cx=${x} cy=${y} r="7" />`;
    case 'not-known':
      return svg`<rect class="not-known" x=${x - 6} y=${y - 6} width="12" height="12" />`;
    case 'never':
      return svg``;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'cause-matrix': CauseMatrix;
  }
}
