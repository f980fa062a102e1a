// A picture of its own from what is drawn: each with the colours in force written to it, beneath a caption that says what it is.
import type { Drawn, Place } from './drawn.ts';

export interface Caption {
  readonly title: string;
  /** Plant, time and zone; that the data are invented, where they are. */
  readonly lines: readonly string[];
}

export interface PictureFile {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** Where the first thing drawn begins, on the screen and here. */
  readonly origin: { readonly x: number; readonly y: number };
}

const SVG = 'http://www.w3.org/2000/svg';
const MARGIN_PX = 16;
const TITLE_PX = 24;
const LINE_PX = 18;
/** As attributes, for a page's policy refuses styles in markup, and a drawing program reads them all the same. */
const LOOKS = [
  'fill',
  'fill-opacity',
  'fill-rule',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'stroke-opacity',
  'opacity',
  'paint-order',
  'font-family',
  'font-size',
  'font-weight',
  'font-style',
  'text-anchor',
  'dominant-baseline',
  'visibility',
  'color',
] as const;
const WORD_LOOKS = ['font-family', 'font-size', 'font-weight', 'font-style'] as const;
const LEFT_OUT = ['class', 'style', 'tabindex', 'role'];

/** `ground`: what it is drawn on; undefined leaves it clear, for canvases that lie beneath. */
export function pictureFile(
  drawn: readonly Drawn[],
  caption: Caption,
  { ground, ink }: { readonly ground: string | undefined; readonly ink: string },
): PictureFile {
  const whole = around(drawn.map(({ place }) => place));
  const head = MARGIN_PX + TITLE_PX + caption.lines.length * LINE_PX + 8;
  const width = Math.ceil(Math.max(whole.width, widest(caption)) + 2 * MARGIN_PX);
  const height = Math.ceil(whole.height + head + MARGIN_PX);
  const origin = { x: MARGIN_PX - whole.x, y: head - whole.y };
  const paper = document.implementation.createDocument(SVG, 'svg');
  const root = paper.documentElement;
  set(root, { width, height, viewBox: `0 0 ${width} ${height}` });
  root.append(made(paper, 'title', {}, caption.title));
  root.append(made(paper, 'desc', {}, caption.lines.join('; ')));
  if (ground !== undefined) root.append(made(paper, 'rect', { width, height, fill: ground }));
  root.append(...captionDrawn(paper, caption, ink));
  drawn.forEach((one, nth) => {
    const place = { ...one.place, x: one.place.x + origin.x, y: one.place.y + origin.y };
    const element = elementOf(paper, one, place, nth);
    if (element !== undefined) root.append(element);
  });
  return { svg: new XMLSerializer().serializeToString(paper), width, height, origin };
}

function around(places: readonly Place[]): Place {
  const x = Math.min(...places.map((one) => one.x));
  const y = Math.min(...places.map((one) => one.y));
  const right = Math.max(...places.map((one) => one.x + one.width));
  const bottom = Math.max(...places.map((one) => one.y + one.height));
  return { x, y, width: right - x, height: bottom - y };
}

/** About: a caption wider than the picture makes the paper wider. */
const widest = ({ title, lines }: Caption): number =>
  Math.max(title.length * 9, ...lines.map((line) => line.length * 7));

function captionDrawn(paper: XMLDocument, { title, lines }: Caption, ink: string): Element[] {
  const font = { 'font-family': getComputedStyle(document.documentElement).fontFamily, fill: ink };
  const first = MARGIN_PX + 15;
  return [
    made(paper, 'text', { ...font, x: MARGIN_PX, y: first, 'font-size': '16px', 'font-weight': 650 }, title),
    ...lines.map((line, nth) =>
      made(
        paper,
        'text',
        { ...font, x: MARGIN_PX, y: first + TITLE_PX - 3 + nth * LINE_PX, 'font-size': '13px' },
        line,
      ),
    ),
  ];
}

function elementOf(paper: XMLDocument, one: Drawn, place: Place, nth: number): Element | undefined {
  switch (one.kind) {
    case 'picture':
      return pictureOf(paper, one.element, place, nth);
    case 'canvas':
      return undefined;
    case 'ground':
    case 'line':
      return made(paper, 'rect', { ...rounded(place), fill: one.colour });
    case 'words': {
      const looks = Object.fromEntries(WORD_LOOKS.map((name) => [name, one.style.getPropertyValue(name)]));
      const y = Math.round((place.y + place.height * BASELINE_SHARE) * 10) / 10;
      return made(paper, 'text', { x: rounded(place).x, y, fill: one.style.color, ...looks }, one.text);
    }
  }
}

/** Of a line's box, what is above the baseline: so in the usual typefaces. */
const BASELINE_SHARE = 0.79;

function pictureOf(paper: XMLDocument, element: SVGSVGElement, place: Place, nth: number): Element {
  const copied = copyOf(paper, element, `p${nth}-`);
  set(copied, { ...rounded(place), overflow: 'visible' });
  return copied;
}

const rounded = ({ x, y, width, height }: Place) => {
  const round = (value: number): number => Math.round(value * 10) / 10;
  return { x: round(x), y: round(y), width: round(width), height: round(height) };
};

/** With its looks; what is named within it (hatchings) gets a name of its own, for several pictures stand in one file. */
function copyOf(paper: XMLDocument, element: Element, prefix: string): Element {
  const copied = paper.createElementNS(SVG, element.localName);
  for (const { name, value } of element.attributes) {
    if (LEFT_OUT.includes(name) || name.startsWith('aria-') || name.startsWith('?') || name.startsWith('@')) continue;
    copied.setAttribute(name, name === 'id' ? prefix + value : value);
  }
  const style = getComputedStyle(element);
  for (const name of LOOKS) {
    const value = style.getPropertyValue(name).replace(/url\("?[^)]*#([^")]+)"?\)/u, `url(#${prefix}$1)`);
    if (value !== '' && value !== 'none' ? true : name === 'fill' || name === 'stroke')
      copied.setAttribute(name, value);
  }
  if (style.display === 'none') copied.setAttribute('display', 'none');
  for (const child of element.childNodes) {
    if (child instanceof Element) copied.append(copyOf(paper, child, prefix));
    else if (child instanceof Text && child.data.trim() !== '') copied.append(paper.createTextNode(child.data));
  }
  return copied;
}

type Attributes = Readonly<Record<string, string | number>>;

function set(element: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
}

function made(paper: XMLDocument, name: string, attributes: Attributes, text?: string): Element {
  const element = paper.createElementNS(SVG, name);
  set(element, attributes);
  if (text !== undefined) element.append(paper.createTextNode(text));
  return element;
}
