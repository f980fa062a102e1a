// The lines of a text as stretches of its bytes, and the cells of a line: nothing is copied to look at them.

const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const QUOTE = 34;
const SPACE = 32;
const TAB = 9;

/** Walks over lines that end with LF, CR LF or CR. */
export class Lines {
  /** Of the line that `next` came to: from its first byte up to its end, the end's marks not counted. */
  from = 0;
  to = 0;
  /** Counted from 1. */
  number = 0;
  /** Whether an end of line came after it; the last line of a file that was cut off has none. */
  ended = true;
  readonly #bytes: Uint8Array;
  #next: number;

  constructor(bytes: Uint8Array, start: number, number = 0) {
    this.#bytes = bytes;
    this.#next = start;
    this.number = number;
  }

  next(): boolean {
    const bytes = this.#bytes;
    if (this.#next >= bytes.length) return false;
    this.from = this.#next;
    let at = this.from;
    while (at < bytes.length && bytes[at] !== LINE_FEED && bytes[at] !== CARRIAGE_RETURN) at += 1;
    this.to = at;
    this.ended = at < bytes.length;
    this.#next = bytes[at] === CARRIAGE_RETURN && bytes[at + 1] === LINE_FEED ? at + 2 : at + 1;
    this.number += 1;
    return true;
  }
}

/** The separator of cells as a byte; a space stands for any number of blanks. */
export type Separator = ';' | '\t' | ',' | ' ';
export const SEPARATORS: readonly Separator[] = [';', '\t', ',', ' '];

const isBlank = (byte: number | undefined): boolean => byte === SPACE || byte === TAB;

/** Walks over the cells of one line. Blanks and quotes about a cell are no part of it. */
export class Cells {
  from = 0;
  to = 0;
  readonly #bytes: Uint8Array;
  readonly #separator: number;
  #at = 0;
  #end = 0;
  /** A separator at the very end of a line opens no further cell. */
  #more = false;

  constructor(bytes: Uint8Array, separator: Separator) {
    this.#bytes = bytes;
    this.#separator = separator.charCodeAt(0);
  }

  start(from: number, to: number): void {
    this.#at = from;
    this.#end = to;
    while (this.#end > from && isBlank(this.#bytes[this.#end - 1]) && this.#bytes[this.#end - 1] !== this.#separator)
      this.#end -= 1;
    if (this.#end > from && this.#bytes[this.#end - 1] === this.#separator) this.#end -= 1;
    this.#more = this.#skipBlanks() < this.#end;
  }

  next(): boolean {
    if (!this.#more) return false;
    const bytes = this.#bytes;
    let at = this.#skipBlanks();
    const quoted = bytes[at] === QUOTE && at < this.#end;
    const from = quoted ? at + 1 : at;
    if (quoted) {
      at += 1;
      while (at < this.#end && bytes[at] !== QUOTE) at += 1;
    }
    let to = at;
    while (at < this.#end && bytes[at] !== this.#separator) at += 1;
    if (!quoted) {
      to = at;
      while (to > from && isBlank(bytes[to - 1])) to -= 1;
    }
    this.from = from;
    this.to = to;
    this.#more = at < this.#end;
    this.#at = at + 1;
    return true;
  }

  #skipBlanks(): number {
    let at = this.#at;
    while (
      at < this.#end &&
      isBlank(this.#bytes[at]) &&
      (this.#separator === SPACE || this.#bytes[at] !== this.#separator)
    )
      at += 1;
    this.#at = at;
    return at;
  }
}

/** Comments begin with one of these, quoted or not. */
const COMMENT_MARKS = ['#', '%', '!', '//'].map((mark) => Array.from(mark, (sign) => sign.charCodeAt(0)));

/** Where the words of a comment begin; undefined where the line is none. */
export function commentStart(bytes: Uint8Array, from: number, to: number): number | undefined {
  let at = from;
  while (at < to && (isBlank(bytes[at]) || bytes[at] === QUOTE)) at += 1;
  const mark = COMMENT_MARKS.find((one) => one.every((byte, i) => bytes[at + i] === byte));
  return mark === undefined ? undefined : at + mark.length;
}

export function isEmptyLine(bytes: Uint8Array, from: number, to: number): boolean {
  for (let at = from; at < to; at += 1) if (!isBlank(bytes[at])) return false;
  return true;
}
