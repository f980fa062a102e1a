// The head of each sheet on paper: a second page that is laid aside alone still says what it belongs to.
import { say } from '../shared/language/index.ts';
export class SheetHead {
  readonly #sheet = new CSSStyleSheet();

  /** The margin of the paper belongs to the whole document, and only as long as its page is on screen. */
  attach(): void {
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, this.#sheet];
  }

  detach(): void {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((sheet) => sheet !== this.#sheet);
  }

  say(words: string): void {
    const font = 'font: 8pt sans-serif; color: #000;';
    this.#sheet.replaceSync(`@page {
      @top-left { content: ${JSON.stringify(words)}; ${font} }
      @top-right { content: ${numbered()}; ${font} }
    }`);
  }
}

/** The style sheet counts the pages: its counters stand where the words have their values. */
function numbered(): string {
  const counters: Readonly<Record<string, string>> = { '\uE001': 'counter(page)', '\uE002': 'counter(pages)' };
  return say`page ${'\uE001'} of ${'\uE002'}`
    .split(/([\uE001\uE002])/)
    .filter((part) => part !== '')
    .map((part) => counters[part] ?? JSON.stringify(part))
    .join(' ');
}
