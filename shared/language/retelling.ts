// Told English sentences in another language: each is recognised by the texts that a language has, its values taken out and put
// back. A sentence that no text fits stays as it was said.
import type { Language, Told } from './say.ts';

interface Pattern {
  readonly fits: RegExp;
  /** The slot that each group of `fits` is. */
  readonly slots: readonly number[];
  readonly told: string;
}

const SLOT = /\{(\d+)\}/g;
const SPECIAL = /[.*+?^${}()|[\]\\]/g;
const NUMBER = /^-?\d{1,3}(?:,\d{3})*(?:\.\d+)?$|^-?\d+(?:\.\d+)?$/;
/** Between two sentences, and between clauses that are told one after the other. */
const SEAM = /((?<=[.!?]) (?=[\p{Lu}\d“"])|; )/u;
/** No value reaches over the end of a sentence: a text that fits so was not the one. */
const SENTENCE_END = /[.!?] [\p{Lu}\d“"]/u;
const LETTER = /\p{L}/u;

const KEPT_MAX = 4000;
/** A value may hold a text that holds a value; nothing is nested deeper than this. */
const DEPTH_MAX = 6;

export class Retelling {
  readonly #language: Language;
  readonly #patterns: readonly Pattern[];
  readonly #kept = new Map<string, string>();
  readonly marks: { readonly group: string; readonly decimal: string };

  constructor(language: Language) {
    this.#language = language;
    this.marks = marksOf(language.locale);
    // What says more is tried first: "{0} at {1}" fits nearly everything.
    this.#patterns = Object.keys(language.texts)
      .filter((key) => key.includes('{0}') && LETTER.test(said(key)))
      .sort((a, b) => said(b).length - said(a).length)
      .map((key) => patternOf(key, textOf(language.texts[key]) ?? key));
  }

  told(text: string, depth = 0): string {
    const kept = this.#kept.get(text);
    if (kept !== undefined) return kept;
    const told = this.#tell(text, depth);
    if (this.#kept.size >= KEPT_MAX) this.#kept.clear();
    this.#kept.set(text, told);
    return told;
  }

  #tell(text: string, depth: number): string {
    const own = textOf(this.#language.texts[text]);
    if (own !== undefined) return own;
    if (NUMBER.test(text)) return this.#numberOf(text);
    if (depth >= DEPTH_MAX) return text;
    for (const { fits, slots, told } of this.#patterns) {
      const found = fits.exec(text);
      if (found === null || found.slice(1).some((value) => SENTENCE_END.test(value))) continue;
      const values: string[] = [];
      for (const [index, slot] of slots.entries()) values[slot] = this.told(found[index + 1] ?? '', depth + 1);
      return told.replaceAll(SLOT, (_all, slot: string) => values[Number(slot)] ?? '');
    }
    const parts = text.split(SEAM);
    return parts.length === 1
      ? text
      : parts.map((part, index) => (index % 2 === 1 ? part : this.told(part, depth + 1))).join('');
  }

  /** With the marks of this language, and the places that it was said with. */
  #numberOf(text: string): string {
    const [whole = '', places = ''] = text.split('.');
    const grouped = whole.replaceAll(',', this.marks.group);
    return places === '' ? grouped : `${grouped}${this.marks.decimal}${places}`;
  }
}

function marksOf(locale: string): { readonly group: string; readonly decimal: string } {
  const parts = new Intl.NumberFormat(locale).formatToParts(-1_234_567.5);
  const mark = (type: Intl.NumberFormatPartTypes): string => parts.find((part) => part.type === type)?.value ?? '';
  return { group: mark('group'), decimal: mark('decimal') };
}

const textOf = (told: Told | undefined): string | undefined => (typeof told === 'object' ? told.other : told);

const said = (key: string): string => key.replaceAll(SLOT, '');

function patternOf(key: string, told: string): Pattern {
  const slots: number[] = [];
  const parts = key.split(SLOT);
  const source = parts.map((part, index) => {
    if (index % 2 === 0) return part.replaceAll(SPECIAL, '\\$&');
    slots.push(Number(part));
    return '([\\s\\S]*?)';
  });
  return { fits: new RegExp(`^${source.join('')}$`), slots, told };
}
