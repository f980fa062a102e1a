// Told English sentences in another language: each is recognised by the texts that a language has, its values taken out and put
// back. A sentence that no text fits stays as it was said.
import type { Language, Told } from './say.ts';

interface Pattern {
  readonly fits: RegExp;
  /** The slot that each group of `fits` is. */
  readonly slots: readonly Slot[];
  readonly told: string;
  /** It has so few words of its own that it would fit nearly everything: only with values that are words of ours, numbers or ids. */
  readonly isWeak: boolean;
}

interface Slot {
  readonly index: number;
  /** Between quotation marks: what came, as it came. */
  readonly isQuoted: boolean;
  /** In brackets: often whose word it is, in that person's own words. */
  readonly isBracketed: boolean;
}

const SLOT = /\{(\d+)\}/g;
const SPECIAL = /[.*+?^${}()|[\]\\]/g;
const NUMBER = /^-?\d{1,3}(?:,\d{3})*(?:\.\d+)?$|^-?\d+(?:\.\d+)?$/;
/** "12.5°", "2,400 mm/s": a number with its unit, which may have a word of its own. */
const AMOUNT = /^(-?\d[\d,]*(?:\.\d+)?)( ?)([^\d\s.,;:]{1,12})$/;
/** Between two sentences; within one, between clauses that are told one after the other. */
const SEAMS = [/((?<=[.!?]) (?=[\p{Lu}\d“"]))/u, /(; )/] as const;
/** No value reaches over the end of a sentence: a text that fits so was not the one. */
const SENTENCE_END = /[.!?] [\p{Lu}\d“"]/u;
const LETTER = /\p{L}/u;
const LETTERS = /\p{L}/gu;
const WORDS = /\p{L}{2,}/gu;
/** "at", "of", "to": with fewer letters than this of its own a text is a weak one. */
const LETTERS_MIN = 6;

const KEPT_MAX = 4000;
/** A value may hold a text that holds a value; nothing is nested deeper than this. */
const DEPTH_MAX = 6;

interface Retold {
  readonly told: string;
  /** Words that no text knew, but for single ones, which are ids. */
  readonly missed: number;
}

export class Retelling {
  readonly #language: Language;
  readonly #patterns: readonly Pattern[];
  readonly #kept = new Map<string, Retold>();
  readonly #marks: NumberMarks;

  constructor(language: Language, marks: NumberMarks) {
    this.#language = language;
    this.#marks = marks;
    // What says more is tried first: "{0} at {1}" fits nearly everything.
    this.#patterns = Object.keys(language.texts)
      .filter((key) => key.includes('{0}') && LETTER.test(said(key)))
      .sort((a, b) => said(b).length - said(a).length)
      .map((key) => patternOf(key, textOf(language.texts[key]) ?? key));
  }

  told(text: string): string {
    return this.#tell(text, 0).told;
  }

  #tell(text: string, depth: number): Retold {
    const kept = this.#kept.get(text);
    if (kept !== undefined) return kept;
    const own = this.#word(text);
    const retold = own === undefined ? this.#best(text, depth) : { told: own, missed: 0 };
    if (this.#kept.size >= KEPT_MAX) this.#kept.clear();
    this.#kept.set(text, retold);
    return retold;
  }

  /** A whole text, a number, an amount. */
  #word(text: string): string | undefined {
    const own = textOf(this.#language.texts[text]);
    if (own !== undefined) return own;
    return NUMBER.test(text) ? this.#numberOf(text) : this.#amount(text);
  }

  #amount(text: string): string | undefined {
    const [, number, blank = '', unit] = AMOUNT.exec(text) ?? [];
    if (number === undefined || unit === undefined) return undefined;
    const { texts } = this.#language;
    const own = textOf(texts[`{0}${blank}${unit}`]) ?? `{0}${blank}${textOf(texts[unit]) ?? unit}`;
    return own.replace('{0}', this.#numberOf(number));
  }

  /** By the text, or as the parts, of which the least is left in English; of like ones by the one that says most itself. */
  #best(text: string, depth: number): Retold {
    const words = /\s/.test(text) ? (text.match(WORDS)?.length ?? 0) : 0;
    let best: Retold = { told: text, missed: words };
    if (depth >= DEPTH_MAX || words === 0) return best;
    for (const pattern of this.#patterns) {
      const found = this.#byPattern(pattern, text, depth);
      if (found !== undefined && found.missed < best.missed) best = found;
      if (best.missed === 0) return best;
    }
    for (const seam of SEAMS) {
      const parts = text.split(seam);
      if (parts.length === 1) continue;
      const retold = parts.map((part, nth) =>
        nth % 2 === 1 ? { told: part, missed: 0 } : this.#tell(part, depth + 1),
      );
      const missed = retold.reduce((sum, part) => sum + part.missed, 0);
      if (missed < best.missed) best = { told: retold.map(({ told }) => told).join(''), missed };
    }
    return best;
  }

  #byPattern({ fits, slots, told, isWeak }: Pattern, text: string, depth: number): Retold | undefined {
    const found = fits.exec(text)?.slice(1);
    if (found === undefined || found.some((value) => SENTENCE_END.test(value))) return undefined;
    if (isWeak && !found.every((value, nth) => slots[nth]?.isBracketed === true || this.#isOne(value)))
      return undefined;
    const values: string[] = [];
    let missed = 0;
    for (const [nth, { index, isQuoted, isBracketed }] of slots.entries()) {
      const value = found[nth] ?? '';
      const retold = isQuoted ? { told: value, missed: 0 } : this.#tell(value, depth + 1);
      values[index] = retold.told;
      // The rest fits: what somebody wrote in brackets is no reason to leave its numbers in English.
      missed += isWeak && isBracketed ? 0 : retold.missed;
    }
    return { told: told.replaceAll(SLOT, (_all, slot: string) => values[Number(slot)] ?? ''), missed };
  }

  /** A word of ours, an amount, or one word of somebody's: nothing that is a sentence itself. */
  #isOne(value: string): boolean {
    return !/\s/.test(value) || value in this.#language.texts || AMOUNT.test(value);
  }

  /** With the marks of this language, and the places that it was said with. */
  #numberOf(text: string): string {
    return marked(text, this.#marks);
  }
}

function marked(text: string, { group, decimal }: NumberMarks): string {
  const [whole = '', places = ''] = text.split('.');
  const grouped = whole.replaceAll(',', group);
  return places === '' ? grouped : `${grouped}${decimal}${places}`;
}

const QUOTED = /(“[^”]*”)/u;
/** A number that stands by itself: no part of an id, a version or an address. */
const NUMBER_WITHIN = /(?<![\p{L}\d.,:/_-])\d+(?:,\d{3})*(?:\.\d+)?(?![\p{L}\d:/_-]|[.,]\d)/gu;

/** An English text as it was said, but for the marks of its numbers; what came, in quotes, stays as it came. */
export function withMarks(text: string, marks: NumberMarks): string {
  if (marks.group === ',' && marks.decimal === '.') return text;
  return text
    .split(QUOTED)
    .map((part, nth) => (nth % 2 === 1 ? part : part.replaceAll(NUMBER_WITHIN, (number) => marked(number, marks))))
    .join('');
}

/** What stands between thousands, and before the places. */
export interface NumberMarks {
  readonly group: string;
  readonly decimal: string;
}

export function marksOf(locale: string): NumberMarks {
  const parts = new Intl.NumberFormat(locale).formatToParts(-1_234_567.5);
  const mark = (type: Intl.NumberFormatPartTypes): string => parts.find((part) => part.type === type)?.value ?? '';
  return { group: mark('group'), decimal: mark('decimal') };
}

const textOf = (told: Told | undefined): string | undefined => (typeof told === 'object' ? told.other : told);

const said = (key: string): string => key.replaceAll(SLOT, '');

function patternOf(key: string, told: string): Pattern {
  const slots: Slot[] = [];
  const parts = key.split(SLOT);
  const source = parts.map((part, nth) => {
    if (nth % 2 === 0) return part.replaceAll(SPECIAL, '\\$&');
    const before = parts[nth - 1] ?? '';
    const isBracketed = before.endsWith('(') && parts[nth + 1]?.startsWith(')') === true;
    slots.push({ index: Number(part), isQuoted: before.endsWith('“'), isBracketed });
    return '([\\s\\S]*?)';
  });
  const isWeak = (said(key).match(LETTERS)?.length ?? 0) < LETTERS_MIN;
  return { fits: new RegExp(`^${source.join('')}$`), slots, told, isWeak };
}
