// Texts for people in the language of whoever reads them. English is the source: a text is its own key, and what a language does
// not know is said in English. A page has one language from its first line to its last; a service speaks English, and its sentences
// are told again where they are read (`retell`).
import { marksOf, Retelling, withMarks, type NumberMarks } from './retelling.ts';

/** What one language is: one file. */
export interface Language {
  /** BCP 47, such as "de". */
  readonly tag: string;
  /** How numbers and dates are written (BCP 47). */
  readonly locale: string;
  /** Its own name for itself. */
  readonly name: string;
  /** From the English text, `{0}` for its first value, to the same in this language; by plural form where it has more than two. */
  readonly texts: Readonly<Record<string, Told>>;
}
export type Told = string | Partial<Readonly<Record<Intl.LDMLPluralRule, string>>>;

export const ENGLISH: Language = { tag: 'en', locale: 'en-GB', name: 'English', texts: {} };

let spoken: Language = ENGLISH;
let retelling: Retelling | undefined;

let writtenBy = ENGLISH.locale;
let marks: NumberMarks = marksOf(ENGLISH.locale);

/**
 * Once, before any text is made: words that stand in tables are made when their module is read. `numbers` is the locale whose marks
 * numbers have, where that is another than the language's own.
 */
export function speak(language: Language, numbers: string = language.locale): void {
  spoken = language;
  writtenBy = numbers;
  marks = marksOf(numbers);
  plurals = undefined;
  retelling = language.tag === ENGLISH.tag ? undefined : new Retelling(language, marks);
}

/** By which locale numbers are written: that of the language, unless the reader chose another mark. */
export const numberLocale = (): string => writtenBy;

export const languageSpoken = (): Language => spoken;

/** One text of the language spoken, by its key. */
export const textOf = (key: string): string => oneOf(spoken.texts[key], 'other') ?? key;

const oneOf = (told: Told | undefined, form: Intl.LDMLPluralRule): string | undefined =>
  typeof told === 'object' ? (told[form] ?? told.other) : told;

/** A text with its values: say`${n} loads since ${day}`. The values may stand elsewhere in another language. */
export function say(strings: TemplateStringsArray, ...values: readonly (string | number)[]): string {
  if (retelling === undefined) return String.raw({ raw: strings }, ...values);
  return filled(textOf(keyOf(strings)), values);
}

/** The key of a text: its values as `{0}`, `{1}`. */
export const keyOf = (strings: readonly string[]): string =>
  strings.reduce((before, next, index) => `${before}{${index - 1}}${next}`);

export const filled = (text: string, values: readonly (string | number)[]): string =>
  text.replaceAll(/\{(\d+)\}/g, (_all, slot: string) => String(values[Number(slot)] ?? ''));

let plurals: Intl.PluralRules | undefined;

/** So many of something, `{0}` the number as it is shown: sayCount(3, '{0} load', '{0} loads'). */
export function sayCount(count: number, one: string, many: string, shown: string = String(count)): string {
  const told = spoken.texts[many];
  if (typeof told !== 'object') return filled(textOf(count === 1 ? one : many), [shown]);
  plurals ??= new Intl.PluralRules(spoken.locale);
  return filled(oneOf(told, plurals.select(count)) ?? many, [shown]);
}

/** A whole English text of the service, or one that is kept as it was said, in the language spoken; as it is where that knows no such text. */
export const retell = (text: string): string => retelling?.told(text) ?? withMarks(text, marks);

/** What stands between thousands, and before the places. */
export const numberMarks = (): NumberMarks => marks;
