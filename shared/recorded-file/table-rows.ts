// The rows of a table into one array for each column that is wanted, with every row that is wrong told by its line.
import { say } from '../language/index.ts';
import { lastPowerOf, SECONDS_PER_DAY, secondsOfDay } from './clock-time.ts';
import { DecimalReader } from './decimal-number.ts';
import { FAULTS_TOLD_MAX } from './limits.ts';
import { wordsIn } from './plain-text.ts';
import type { RecordingFault } from './recorded-channel.ts';
import type { TableHead } from './table-head.ts';
import { Cells, commentStart, isEmptyLine, Lines } from './table-lines.ts';

export interface TableRows {
  readonly columns: readonly (Float64Array | undefined)[];
  readonly count: number;
  /** Coarsest power of ten of a last digit in the column of time. */
  readonly timePower: number;
  readonly faults: readonly RecordingFault[];
  readonly faultsMore: number;
  readonly remarks: readonly string[];
}

/** How many lines there are at most from a byte on. */
export function linesFrom(bytes: Uint8Array, from: number): number {
  let count = 1;
  for (let at = from; at < bytes.length; at += 1) {
    const byte = bytes[at];
    if (byte === 10 || (byte === 13 && bytes[at + 1] !== 10)) count += 1;
  }
  return count;
}

/** `wanted`: the columns whose numbers are kept. All others still have to be numbers or times. */
export function readRows(
  bytes: Uint8Array,
  head: TableHead,
  wanted: ReadonlySet<number>,
  timeColumn: number,
): TableRows {
  return new RowReader(bytes, head, wanted, timeColumn).read();
}

class RowReader {
  readonly #bytes: Uint8Array;
  readonly #head: TableHead;
  readonly #cells: Cells;
  readonly #decimals = new DecimalReader();
  readonly #columns: (Float64Array | undefined)[];
  readonly #timeColumn: number;
  #count = 0;
  #faults: RecordingFault[] = [];
  #faultsMore = 0;
  #timePower = -Infinity;
  #days = 0;
  #lastClock = 0;
  /** Lines on which each decimal mark was seen first. */
  #pointLine = 0;
  #commaLine = 0;

  constructor(bytes: Uint8Array, head: TableHead, wanted: ReadonlySet<number>, timeColumn: number) {
    const rows = linesFrom(bytes, head.from);
    this.#bytes = bytes;
    this.#head = head;
    this.#cells = new Cells(bytes, head.separator);
    this.#columns = head.columns.map((_, i) => (wanted.has(i) ? new Float64Array(rows) : undefined));
    this.#timeColumn = timeColumn;
  }

  read(): TableRows {
    const bytes = this.#bytes;
    const lines = new Lines(bytes, this.#head.from, this.#head.linesBefore);
    const remarks: string[] = [];
    while (lines.next()) {
      if (isEmptyLine(bytes, lines.from, lines.to) || commentStart(bytes, lines.from, lines.to) !== undefined) continue;
      const wrong = this.#row(lines.from, lines.to);
      this.#noteMarks(lines.number);
      if (wrong === undefined) this.#count += 1;
      else if (!lines.ended)
        remarks.push(
          say`The file ends within line ${lines.number}, as if it had been cut off: that line was left out.`,
        );
      else this.#fault(wrong, lines.number);
    }
    if (this.#pointLine > 0 && this.#commaLine > 0)
      this.#fault(
        say`a decimal comma, but line ${this.#pointLine} has a decimal point; expected one of them throughout, and no marks between thousands`,
        this.#commaLine,
      );
    return {
      columns: this.#columns.map((column) => column?.subarray(0, this.#count)),
      count: this.#count,
      timePower: this.#timePower,
      faults: this.#faults,
      faultsMore: this.#faultsMore,
      remarks,
    };
  }

  #noteMarks(line: number): void {
    if (this.#pointLine === 0 && this.#decimals.sawPoint) this.#pointLine = line;
    if (this.#commaLine === 0 && this.#decimals.sawComma) this.#commaLine = line;
  }

  #fault(words: string, line: number): void {
    if (this.#faults.length < FAULTS_TOLD_MAX) this.#faults.push({ line, words });
    else this.#faultsMore += 1;
  }

  /** What is wrong with the row; undefined where nothing is. */
  #row(from: number, to: number): string | undefined {
    const cells = this.#cells;
    const expected = this.#columns.length;
    let index = 0;
    cells.start(from, to);
    for (; cells.next(); index += 1) {
      if (index >= expected) continue;
      const value = this.#value(index);
      if (Number.isNaN(value)) return this.#notANumber(index);
      const column = this.#columns[index];
      if (column !== undefined) column[this.#count] = value;
    }
    if (index === expected) return undefined;
    // A separator at the end opens no cell, for many write one after each row; the last one left empty looks the same.
    if (index === expected - 1 && this.#bytes[to - 1] === this.#head.separator.charCodeAt(0))
      return this.#emptyCell(index);
    return index === 1
      ? say`1 cell; expected ${expected}, as in the first row`
      : say`${index} cells; expected ${expected}, as in the first row`;
  }

  #value(index: number): number {
    const { from, to } = this.#cells;
    const isTime = index === this.#timeColumn;
    const value = this.#decimals.read(this.#bytes, from, to);
    if (!Number.isNaN(value)) {
      if (isTime && this.#decimals.lastPower > this.#timePower) this.#timePower = this.#decimals.lastPower;
      return value;
    }
    const text = wordsIn(this.#bytes, from, to);
    const clock = secondsOfDay(text);
    if (Number.isNaN(clock) || !isTime) return clock;
    this.#timePower = Math.max(this.#timePower, lastPowerOf(text));
    // Past midnight the day's seconds begin anew.
    if (clock < this.#lastClock - SECONDS_PER_DAY / 2) this.#days += 1;
    this.#lastClock = clock;
    return clock + this.#days * SECONDS_PER_DAY;
  }

  #notANumber(index: number): string {
    const { from, to } = this.#cells;
    if (from === to) return this.#emptyCell(index);
    const came = JSON.stringify(wordsIn(this.#bytes, from, Math.min(to, from + 40)));
    return say`${this.#columnWords(index)}: expected a number; came ${came}`;
  }

  #emptyCell(index: number): string {
    return say`${this.#columnWords(index)}: expected a number; came nothing`;
  }

  #columnWords(index: number): string {
    const name = this.#head.columns[index]?.name ?? '';
    return name === '' ? say`column ${index + 1}` : say`column ${index + 1}, ${name}`;
  }
}
