// The speeds of a spindle on one line, each with its own shape; the key says which is which.
import { css, type SVGTemplateResult, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { graduation } from '../wording/figures.ts';
import { placesOf, type Speeds } from './speed-axis.ts';

const WIDTH = 300;
const HEIGHT = 30;
const SIDE = 8;
const MIDDLE = HEIGHT / 2;

const SHAPES: Readonly<Record<'programmed' | 'actual' | 'balance' | 'makers', (x: number) => SVGTemplateResult>> = {
  programmed: (x) => svg`<circle class="programmed" cx=${x} cy=${MIDDLE} r="5" />`,
  actual: (x) =>
    svg`<path class="actual" d="M${x - 5} ${MIDDLE + 11} L${x} ${MIDDLE + 2} L${x + 5} ${MIDDLE + 11} Z" />`,
  balance: (x) => svg`<path class="balance" d="M${x - 5} 3 H${x} V${HEIGHT - 3} H${x - 5}" />`,
  makers: (x) => svg`<rect class="makers" x=${x - 1.75} y="1" width="3.5" height=${HEIGHT - 2} />`,
};

export function speedPicture(speeds: Speeds, endRpm: number): TemplateResult {
  const { programmed, actual, balance, makers, beyond } = placesOf(speeds, endRpm);
  const x = (place: number): number => SIDE + place * (WIDTH - 2 * SIDE);
  const allowed = balance === undefined || makers === undefined ? undefined : Math.min(balance, makers);
  return html`<svg class="speeds" viewBox="0 0 ${WIDTH} ${HEIGHT}" width=${WIDTH} height=${HEIGHT} aria-hidden="true">
    <line class="whole" x1=${x(0)} x2=${x(1)} y1=${MIDDLE} y2=${MIDDLE} />
    ${programmed === undefined || actual === undefined ? '' : svg`<line class="away" x1=${x(actual)} x2=${x(programmed)} y1=${MIDDLE} y2=${MIDDLE} />`}
    ${programmed === undefined || allowed === undefined || allowed <= programmed ? '' : svg`<line class="could" x1=${x(programmed)} x2=${x(allowed)} y1=${MIDDLE} y2=${MIDDLE} />`}
    ${makers === undefined ? '' : SHAPES.makers(x(makers))}
    ${balance === undefined ? '' : beyond ? svg`<path class="balance" d="M${x(1) - 5} ${MIDDLE - 5} L${x(1)} ${MIDDLE} L${x(1) - 5} ${MIDDLE + 5}" />` : SHAPES.balance(x(balance))}
    ${actual === undefined ? '' : SHAPES.actual(x(actual))}
    ${programmed === undefined ? '' : SHAPES.programmed(x(programmed))}
  </svg>`;
}

function sample(shape: keyof typeof SHAPES, words: string): TemplateResult {
  return html`<li>
    <svg width="20" height=${HEIGHT} viewBox="0 0 20 ${HEIGHT}" aria-hidden="true">${SHAPES[shape](11)}</svg>
    ${words}
  </li>`;
}

export function speedKey(endRpm: number): TemplateResult {
  return html`<ul class="key">
    ${sample('programmed', say`programmed`)} ${sample('actual', say`actual, mean in the cut`)}
    ${sample('balance', say`balance is shown up to here`)}
    ${sample('makers', say`lowest of the parts' marks and the spindle's maximum`)}
    <li class="soft">each line from 0 to ${graduation(endRpm)} rpm</li>
  </ul>`;
}

export const speedLook = css`
  .speeds {
    display: block;
    max-width: 100%;
    height: auto;
  }
  .whole {
    stroke: var(--rule);
  }
  .away {
    stroke: var(--ochre);
    stroke-width: 5;
  }
  .could {
    stroke: var(--slate);
    stroke-width: 2;
    stroke-dasharray: 2 3;
  }
  .programmed {
    fill: var(--ground);
    stroke: var(--ink);
    stroke-width: 2;
  }
  .actual {
    fill: var(--ink);
  }
  .balance {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.6;
  }
  .makers {
    fill: var(--slate);
  }
  .key {
    list-style: none;
    display: flex;
    flex-wrap: wrap;
    gap: 0 1.25rem;
    margin: 0 0 0.5rem;
    padding: 0;
    font-size: var(--small);
  }
  .key li {
    display: flex;
    align-items: center;
    gap: 0.25rem;
  }
`;
