// How a table is written: what parts its cells, where its numbers begin, what stands over them.
import { say } from '../language/index.ts';
import { secondsOfDay } from './clock-time.ts';
import { columnOf, unitKind, type Column } from './column-units.ts';
import { DecimalReader } from './decimal-number.ts';
import { COLUMNS_MAX, HEAD_LINES_MAX, LINE_BYTES_MAX } from './limits.ts';
import { wordsIn } from './plain-text.ts';
import type { DecimalMark } from './recorded-channel.ts';
import { Cells, commentStart, isEmptyLine, Lines, SEPARATORS, type Separator } from './table-lines.ts';

/** Numbers begin where so many lines on end, or all that are left, are numbers only. One alone may be part of the head. */
const LINES_ALIKE = 4;

export interface TableHead {
  readonly kind: 'head';
  readonly separator: Separator;
  readonly columns: readonly Column[];
  /** Of the first line of numbers: its first byte, and how many lines stand before it. */
  readonly from: number;
  readonly linesBefore: number;
  /** A sample rate that stands in words over the table. */
  readonly sampleRateHz?: number;
}

export interface NoHead {
  readonly kind: 'no head';
  readonly words: string;
  readonly line?: number;
}

interface HeadLine {
  readonly from: number;
  readonly to: number;
  readonly number: number;
  readonly comment: number | undefined;
}

export function tableHeadOf(bytes: Uint8Array, start: number, mark?: DecimalMark): TableHead | NoHead {
  const lines = firstLines(bytes, start);
  const long = lines.find(({ from, to }) => to - from > LINE_BYTES_MAX);
  if (long !== undefined)
    return {
      kind: 'no head',
      line: long.number,
      words: say`it has more than ${LINE_BYTES_MAX} bytes; expected a row of a table`,
    };
  const found = SEPARATORS.filter((separator) => !(separator === ',' && mark === 'comma'))
    .map((separator) => numbersUnder(bytes, lines, separator))
    .filter((one) => one !== undefined);
  const best = found.find(({ cells }) => cells > 1) ?? found[0];
  if (best === undefined) return { kind: 'no head', ...nothingFound(bytes, lines) };
  if (best.cells > COLUMNS_MAX)
    return {
      kind: 'no head',
      line: best.first.number,
      words: say`it has ${best.cells} columns; expected at most ${COLUMNS_MAX}`,
    };
  if (best.separator === ',' && mark === undefined) {
    const decided = commasMean(bytes, lines, best);
    if (decided === 'unknown')
      return {
        kind: 'no head',
        line: best.first.number,
        words: say`${JSON.stringify(wordsIn(bytes, best.first.from, best.first.to))} can be read as whole numbers with commas between them, or as numbers with a decimal comma. Say which the decimal mark is: point or comma`,
      };
    if (decided === 'comma') return tableHeadOf(bytes, start, 'comma');
  }
  return headOver(bytes, lines, best);
}

function firstLines(bytes: Uint8Array, start: number): readonly HeadLine[] {
  const walk = new Lines(bytes, start);
  const lines: HeadLine[] = [];
  while (lines.length < HEAD_LINES_MAX && walk.next()) {
    const { from, to, number } = walk;
    if (!isEmptyLine(bytes, from, to)) lines.push({ from, to, number, comment: commentStart(bytes, from, to) });
  }
  return lines;
}

interface NumbersFound {
  readonly separator: Separator;
  readonly cells: number;
  readonly index: number;
  readonly first: HeadLine;
}

/** Where numbers begin if this parts the cells; undefined where they do not. */
function numbersUnder(bytes: Uint8Array, lines: readonly HeadLine[], separator: Separator): NumbersFound | undefined {
  const cells = new Cells(bytes, separator);
  const counts = lines.map((line) => (line.comment === undefined ? numbersIn(bytes, cells, line) : 0));
  const rows = lines.flatMap((line, i) => (line.comment === undefined ? [counts[i] ?? 0] : []));
  const start = rows.findIndex((count, i) => {
    const alike = rows.slice(i, i + LINES_ALIKE);
    return count > 0 && alike.length > 1 && alike.every((one) => one === count);
  });
  if (start < 0) return undefined;
  // A row that is wrong among the first is a fault of its own, and ends no head.
  const count = rows[start] ?? 0;
  const index = counts.indexOf(count);
  const first = lines[index];
  if (first !== undefined) return { separator, cells: count, index, first };
  return undefined;
}

/** How many cells a line has where each is a number or a time; 0 where one is not. */
function numbersIn(bytes: Uint8Array, cells: Cells, { from, to }: HeadLine): number {
  const decimals = new DecimalReader();
  let count = 0;
  cells.start(from, to);
  while (cells.next()) {
    count += 1;
    if (!Number.isNaN(decimals.read(bytes, cells.from, cells.to))) continue;
    if (Number.isNaN(secondsOfDay(wordsIn(bytes, cells.from, cells.to)))) return 0;
  }
  return count;
}

/** Two columns of whole numbers or one with a decimal comma? The head tells, or a number that cannot be whole. */
function commasMean(
  bytes: Uint8Array,
  lines: readonly HeadLine[],
  found: NumbersFound,
): 'separator' | 'comma' | 'unknown' {
  const texts = lines.slice(found.index).map(({ from, to }) => wordsIn(bytes, from, to));
  if (texts.some((text) => /[.eE":]/u.test(text)) || found.cells % 2 === 1) return 'separator';
  const over = lines[found.index - 1];
  if (over === undefined) return 'unknown';
  const heads = namesIn(bytes, over, ',').length;
  if (heads === found.cells) return 'separator';
  return heads === 1 && found.cells === 2 ? 'comma' : 'unknown';
}

function headOver(bytes: Uint8Array, lines: readonly HeadLine[], found: NumbersFound): TableHead {
  const { separator, cells: count, index, first } = found;
  const above = lines.slice(0, index);
  const rows = above.map((line) => namesIn(bytes, line, separator));
  const fitting = rows.filter((names) => names.length === count && names.some((name) => /\p{L}/u.test(name)));
  const [last, before] = [fitting.at(-1), fitting.at(-2)];
  const unitsBelow = last !== undefined && before !== undefined && areUnits(last);
  const names = unitsBelow ? before : (last ?? []);
  const units = unitsBelow ? last : [];
  const columns = Array.from({ length: count }, (_, i) => columnOf(names[i] ?? '', units[i] ?? ''));
  const rate = rateIn(above.map(({ from, to }) => wordsIn(bytes, from, to)));
  return {
    kind: 'head',
    separator,
    columns,
    from: first.from,
    linesBefore: first.number - 1,
    ...(rate === undefined ? {} : { sampleRateHz: rate }),
  };
}

function namesIn(bytes: Uint8Array, { from, to, comment }: HeadLine, separator: Separator): readonly string[] {
  const cells = new Cells(bytes, separator);
  const names: string[] = [];
  cells.start(comment ?? from, to);
  while (cells.next()) names.push(wordsIn(bytes, cells.from, cells.to));
  return names;
}

/** A second line of the head: each cell a unit, in brackets or not, or empty. */
function areUnits(names: readonly string[]): boolean {
  const bare = names.map((name) => name.replaceAll(/^[[(]|[\])]$/gu, ''));
  return bare.some((name) => name !== '') && bare.every((name) => name === '' || unitKind(name) !== undefined);
}

/** "Sample rate: 25600 Hz", "fs=25.6 kHz", "Abtastrate;25600". */
const RATE =
  /\b(?:sampl\w*[ _-]?(?:rate|freq\w*)|sampling|abtast(?:rate|frequenz)|fs|rate)\b[^\d]{0,24}(\d+(?:[.,]\d+)?(?:e[+-]?\d+)?)\W{0,4}(k?Hz|kS\/s)?/iu;

function rateIn(texts: readonly string[]): number | undefined {
  for (const text of texts) {
    const [, digits, unit = ''] = RATE.exec(text) ?? [];
    const rate = Number((digits ?? '').replace(',', '.')) * (/^k/iu.test(unit) ? 1000 : 1);
    if (rate > 0 && Number.isFinite(rate)) return rate;
  }
  return undefined;
}

function nothingFound(bytes: Uint8Array, lines: readonly HeadLine[]): { words: string; line?: number } {
  const rows = lines.filter(({ comment }) => comment === undefined);
  const [first] = rows;
  if (first === undefined)
    return {
      words: say`There is nothing in it. Expected rows of numbers, with a line over them that names the columns and units`,
    };
  const last = rows.at(-2) ?? first;
  const wordy = SEPARATORS.map((separator) => wordsAmongNumbers(bytes, last, separator)).find(
    (one) => one !== undefined,
  );
  if (wordy !== undefined)
    return {
      line: last.number,
      words: say`column ${wordy.column} holds words (${JSON.stringify(wordy.words)}) among columns of numbers; expected numbers in each. Leave that column out of the export`,
    };
  const shown = wordsIn(bytes, first.from, Math.min(first.to, first.from + 60));
  return {
    line: first.number,
    words: say`no rows of numbers were found from here on (${JSON.stringify(shown)}). Expected at least two lines with the same count of numbers each, with semicolons, tabs, commas or blanks between them`,
  };
}

/** The first cell that is no number of a line where most are; undefined where most are not. */
function wordsAmongNumbers(
  bytes: Uint8Array,
  line: HeadLine,
  separator: Separator,
): { column: number; words: string } | undefined {
  const cells = namesIn(bytes, line, separator);
  const isNumber = (text: string): boolean => text !== '' && Number.isFinite(Number(text.replace(',', '.')));
  const column = cells.findIndex((text) => !isNumber(text));
  const numbers = cells.filter(isNumber).length;
  if (column < 0 || numbers < 1 || 2 * numbers < cells.length) return undefined;
  return { column: column + 1, words: cells[column] ?? '' };
}
