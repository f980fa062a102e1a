// Beside a spectrum: the key of its signs, and the table of its strongest lines with what each may be.
import { nothing, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { FrequencyMark } from './frequency-marks.ts';
import { sign, SIGN_WORDS } from './mark-shapes.ts';
import type { PlotMark } from './plot-drawing.ts';
import type { StrongLine } from './strongest-lines.ts';
import { hertz, orderWord } from './vibration-words.ts';

export function plotMarks(marks: readonly FrequencyMark[]): PlotMark[] {
  return marks.map(({ hz, fromHz, toHz, word, shape, speaks }) => ({
    at: hz,
    from: fromHz,
    to: toHz,
    word,
    shape,
    speaks,
  }));
}

export function markKey(marks: readonly PlotMark[]): TemplateResult | typeof nothing {
  const shapes = [...new Set(marks.map(({ shape }) => shape))];
  if (shapes.length === 0) return nothing;
  const slips = marks.some(({ from, to }) => to > from);
  const speaks = marks.some((mark) => mark.speaks);
  return html`<ul class="key" aria-label="What the signs mean">
    ${shapes.map(
      (shape) => html`<li><svg viewBox="-8 -8 16 16" aria-hidden="true">${sign(shape)}</svg>${SIGN_WORDS[shape]}</li>`,
    )}
    ${slips ? html`<li><svg viewBox="0 0 16 16" aria-hidden="true">${svg`<path class="level" d="M0 16L16 0M0 8L8 0M8 16L16 8" />`}</svg>hatched: where it may stand with the slip of rolling</li>` : nothing}
    ${speaks ? html`<li>heavy and dashed: it speaks</li>` : nothing}
  </ul>`;
}

export interface LinesTable {
  readonly lines: readonly StrongLine[];
  readonly stepHz: number;
  readonly caption: string;
  /** With its unit. */
  readonly valueWord: string;
  readonly listed: (value: number) => string;
  readonly name: string;
}

export function linesTable({ lines, stepHz, caption, valueWord, listed, name }: LinesTable): TemplateResult {
  if (lines.length === 0) return html`<p class="soft">No line stands out of the noise.</p>`;
  return html`<details>
    <summary>The same as a table: the strongest lines</summary>
    <div class="scrolls" tabindex="0" role="group" aria-label=${name}>
      <table>
        <caption>
          ${caption}
        </caption>
        <thead>
          <tr>
            <th scope="col" class="number">Frequency</th>
            <th scope="col" class="number">Of the shaft</th>
            <th scope="col" class="number">${valueWord}</th>
            <th scope="col">What it may be</th>
          </tr>
        </thead>
        <tbody>
          ${lines.map(
            ({ hz, order, value, mayBe }) =>
              html`<tr>
                <td class="number">${hertz(hz, stepHz)}</td>
                <td class="number">${orderWord(order)}</td>
                <td class="number">${listed(value)}</td>
                <td>
                  ${mayBe.length === 0 ? html`<span class="soft">nothing that is known here</span>` : mayBe.join(say`; or `)}
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </details>`;
}
