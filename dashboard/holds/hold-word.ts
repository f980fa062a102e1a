// The word HOLD drawn and not typed: 23 mm high on every machine, whatever fonts it has.
import { nothing, type SVGTemplateResult, type TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';

/** In millimetres; the strokes are 5.4 mm wide, so the letters reach from edge to edge. */
export function holdWord(): TemplateResult {
  const word = say`HOLD`;
  if (word !== 'HOLD') return wordInLetters(word);
  return html`<svg viewBox="0 0 89 23" role="img" aria-label="HOLD" stroke-width="5.4">
    <path d="M2.7 0V23M16.3 0V23M2.7 11.5H16.3" />
    <rect x="25.7" y="2.7" width="17.6" height="17.6" rx="8.6" />
    <path d="M52.7 0V20.3H66" />
    <path d="M71.7 2.7V20.3H77.5A8.8 8.8 0 0 0 77.5 2.7H69" />
  </svg>`;
}

/** Narrower ones for a longer word of another language, each 8.6 wide. */
const LETTERS: ReadonlyMap<string, string> = new Map([
  ['E', 'M8.6 1.3H1.3V21.7H8.6M1.3 11.5H7.6'],
  ['G', 'M8.6 1.3H1.3V21.7H7.3V12.2H4.4'],
  ['P', 'M1.3 23V1.3H7.3V12.3H1.3'],
  ['R', 'M1.3 23V1.3H7.3V12.3H1.3M3.8 12.3L7.2 23'],
  ['S', 'M8.6 1.3H1.3V11.5H7.3V21.7H0'],
  ['T', 'M0 1.3H8.6M4.3 1.3V23'],
]);
const LETTER_WIDTH = 8.6;
const PITCH = 11.48;

/** As wide as the paper whatever its length; typed where a letter of it has never been drawn. */
function wordInLetters(word: string): TemplateResult {
  const letters = word.split('');
  const isDrawn = letters.every((letter) => LETTERS.has(letter));
  const width = isDrawn ? (letters.length - 1) * PITCH + LETTER_WIDTH : 89;
  return html`<svg
    viewBox="0 0 ${width} 23"
    preserveAspectRatio="none"
    role="img"
    aria-label=${word}
    stroke-width="2.6"
  >
    ${isDrawn ? letters.map(drawn) : typed(word)}
  </svg>`;
}

const drawn = (letter: string, index: number): SVGTemplateResult | typeof nothing => {
  const strokes = LETTERS.get(letter);
  return strokes === undefined ? nothing : svg`<path transform=${`translate(${index * PITCH} 0)`} d=${strokes} />`;
};

const typed = (word: string): SVGTemplateResult =>
  svg`<text y="23" font-size="31" font-weight="800" textLength="89" lengthAdjust="spacingAndGlyphs" fill="#000" stroke="none">${word}</text>`;
