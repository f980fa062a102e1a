// Which language this browser reads: the one chosen here, else the first of its own that there is a file for. A file in
// dashboard/languages is a language; nothing else has to name it.
import { ENGLISH, say, speak, type Language } from '../../shared/language/index.ts';
import { chosenDecimalMark, numbersBy } from './number-mark.ts';
import { wordsAreTyped } from './typed-words.ts';

const KEY = 'counterpoise-language';
const FOLDER = '../languages/';

type Texts = Language['texts'];
const FILES = import.meta.glob<Texts>('../languages/*.json', { import: 'default' });

/** Their tags, English first. */
export const LANGUAGES: readonly string[] = [
  ENGLISH.tag,
  ...Object.keys(FILES)
    .map((path) => path.slice(FOLDER.length, -'.json'.length))
    .sort(),
];

/** Resolves when texts may be made; in English where the file of a language cannot be had. */
export async function beginToSpeak(): Promise<void> {
  const tag = chosenLanguage();
  document.documentElement.lang = tag;
  const mark = chosenDecimalMark();
  speak(ENGLISH, numbersBy(ENGLISH.locale, mark));
  const load = FILES[`${FOLDER}${tag}.json`];
  if (load === undefined) return;
  try {
    const locale = localeOf(tag);
    speak({ tag, locale, name: nameOf(tag), texts: await load() }, numbersBy(locale, mark));
  } catch {
    document.documentElement.lang = ENGLISH.tag;
  }
}

export function chosenLanguage(): string {
  const wanted = [kept() ?? '', ...navigator.languages];
  return wanted.map(tagOf).find((tag) => LANGUAGES.includes(tag)) ?? ENGLISH.tag;
}

/**
 * Words stand in tables that are made once, so the page begins anew: at the same address. What was typed into it would be lost: false
 * where the reader would rather keep it.
 */
export function chooseLanguage(tag: string): boolean {
  if (wordsAreTyped() && !confirm(say`What was typed on this page and not sent yet would be lost. Go on?`))
    return false;
  try {
    localStorage.setItem(KEY, tag);
  } catch {
    // Storage is refused in some kiosks: the browser's own language is spoken then.
  }
  location.reload();
  return true;
}

/** "Deutsch" */
export function nameOf(tag: string): string {
  return new Intl.DisplayNames([tag], { type: 'language' }).of(tag) ?? tag;
}

/** How this browser's region writes numbers, where it says one for the language. */
const localeOf = (tag: string): string => navigator.languages.find((one) => tagOf(one) === tag) ?? tag;
const tagOf = (locale: string): string => locale.split('-')[0]?.toLowerCase() ?? '';

function kept(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}
