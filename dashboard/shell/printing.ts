// Paper is light, whatever the screen is: while something is printed the document carries a mark that the colours follow.
// Canvases keep the colours they were drawn with, so they are told before the paper is laid out, and after.
const MARK = 'data-printing';

export function watchPrinting(): void {
  window.addEventListener('beforeprint', () => print(true));
  window.addEventListener('afterprint', () => print(false));
  const paper = matchMedia('print');
  paper.addEventListener('change', () => print(paper.matches));
}

/** Calls when a printing begins, before the paper is laid out. */
export function onPrinting(begin: () => void): void {
  window.addEventListener('counterpoise-printing', begin);
}

function print(begins: boolean): void {
  if (document.documentElement.hasAttribute(MARK) === begins) return;
  document.documentElement.toggleAttribute(MARK, begins);
  window.dispatchEvent(new Event('counterpoise-theme'));
  if (begins) window.dispatchEvent(new Event('counterpoise-printing'));
}
