// What stands drawn on the screen, gathered: pictures, canvases, words and lines of a part of a page, each with its place.

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Drawn =
  | { readonly kind: 'picture'; readonly place: Place; readonly element: SVGSVGElement }
  | { readonly kind: 'canvas'; readonly place: Place; readonly element: HTMLCanvasElement }
  | { readonly kind: 'ground' | 'line'; readonly place: Place; readonly colour: string }
  | { readonly kind: 'words'; readonly place: Place; readonly text: string; readonly style: CSSStyleDeclaration };

/** Left out: what is pressed, what is only for the screen or only heard, and what unfolds. */
const LEFT_OUT = 'save-picture, .not-printed, .only-heard, button, select, details, script, style, [hidden]';
const SIDES = ['Top', 'Right', 'Bottom', 'Left'] as const;
const CLEAR = 'rgba(0, 0, 0, 0)';

/**
 * In the order of drawing. What scrolls inside itself is gathered from its beginning, whole, and what stays in sight while the rest
 * is scrolled is gathered where it belongs; both are put back before anything is painted.
 */
export function drawnIn(part: Element): Drawn[] {
  const all = [part, ...insidesOf(part)];
  const scrolled = all.filter((one) => one.scrollLeft > 0);
  const stuck = all.flatMap((one) =>
    (one instanceof HTMLElement || one instanceof SVGElement) && getComputedStyle(one).position === 'sticky'
      ? [one]
      : [],
  );
  for (const one of stuck) one.style.setProperty('position', 'relative');
  const before = scrolled.map((one) => one.scrollLeft);
  for (const one of scrolled) one.scrollLeft = 0;
  const drawn: Drawn[] = [];
  gather(part, drawn);
  scrolled.forEach((one, nth) => (one.scrollLeft = before[nth] ?? 0));
  for (const one of stuck) one.style.removeProperty('position');
  return drawn;
}

function* insidesOf(element: Element): Generator<Element> {
  for (const child of childrenOf(element)) {
    if (!(child instanceof Element)) continue;
    yield child;
    yield* insidesOf(child);
  }
}

function childrenOf(element: Element): Iterable<Node> {
  if (element instanceof HTMLSlotElement) return element.assignedNodes();
  return (element.shadowRoot ?? element).childNodes;
}

function gather(element: Element, drawn: Drawn[]): void {
  if (element.matches(LEFT_OUT)) return;
  const style = getComputedStyle(element);
  if (style.display === 'none' || style.visibility === 'hidden') return;
  const place = placeOf(element.getBoundingClientRect());
  if (element instanceof SVGSVGElement) {
    drawn.push({ kind: 'picture', place, element });
    return;
  }
  if (element instanceof HTMLCanvasElement) {
    drawn.push({ kind: 'canvas', place, element });
    return;
  }
  // A sheet beneath a canvas would lie over it: the canvas is put down first.
  if (style.backgroundColor !== CLEAR && element.querySelector('canvas') === null)
    drawn.push({ kind: 'ground', place, colour: style.backgroundColor });
  for (const side of SIDES) pushEdge(side, place, style, drawn);
  for (const child of childrenOf(element)) {
    if (child instanceof Text) drawn.push(...linesOf(child, style));
    else if (child instanceof Element) gather(child, drawn);
  }
}

function pushEdge(
  side: (typeof SIDES)[number],
  { x, y, width, height }: Place,
  style: CSSStyleDeclaration,
  to: Drawn[],
) {
  const name = side.toLowerCase();
  const thick = Number.parseFloat(style.getPropertyValue(`border-${name}-width`));
  const kind = style.getPropertyValue(`border-${name}-style`);
  const colour = style.getPropertyValue(`border-${name}-color`);
  if (!(thick > 0) || kind === 'none' || kind === 'hidden' || colour === CLEAR) return;
  const place =
    side === 'Top' || side === 'Bottom'
      ? { x, y: side === 'Top' ? y : y + height - thick, width, height: thick }
      : { x: side === 'Left' ? x : x + width - thick, y, width: thick, height };
  to.push({ kind: 'line', place, colour });
}

const placeOf = ({ x, y, width, height }: DOMRect): Place => ({ x, y, width, height });

/** A text is broken where the screen breaks it: word by word, as long as they stand on one line. */
function linesOf(text: Text, style: CSSStyleDeclaration): Drawn[] {
  const lines: { place: Place; text: string }[] = [];
  const range = document.createRange();
  for (const { 0: word, index } of text.data.matchAll(/\S+/gu)) {
    range.setStart(text, index);
    range.setEnd(text, index + word.length);
    const box = placeOf(range.getBoundingClientRect());
    if (box.width === 0) continue;
    const last = lines.at(-1);
    if (last === undefined || Math.abs(last.place.y - box.y) > 1) lines.push({ place: box, text: word });
    else {
      last.text += ` ${word}`;
      last.place = { ...last.place, width: box.x + box.width - last.place.x };
    }
  }
  return lines.map((line) => ({ kind: 'words', ...line, style }));
}
