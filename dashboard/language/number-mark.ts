// Comma or point before the places: that of the language, or the one chosen in this browser.
const KEY = 'counterpoise-decimal-mark';

export const DECIMAL_MARKS = ['language', 'comma', 'point'] as const;
export type DecimalMarkChoice = (typeof DECIMAL_MARKS)[number];

/** A locale that writes each; its mark for thousands is never the other's mark for places. */
const WRITES = { comma: 'de', point: 'en-GB' } as const;

export function chosenDecimalMark(): DecimalMarkChoice {
  try {
    const kept = localStorage.getItem(KEY);
    return DECIMAL_MARKS.find((mark) => mark === kept) ?? 'language';
  } catch {
    return 'language';
  }
}

/** Kept for the next page: what stands already is not written anew. */
export function keepDecimalMark(mark: DecimalMarkChoice): void {
  try {
    localStorage.setItem(KEY, mark);
  } catch {
    // Storage is refused in some kiosks: the language's own mark is used then.
  }
}

/** By which locale numbers are written in a language of this locale. */
export function numbersBy(locale: string, mark: DecimalMarkChoice): string {
  if (mark === 'language') return locale;
  const own = new Intl.NumberFormat(locale).formatToParts(1.5).find(({ type }) => type === 'decimal')?.value;
  return own === (mark === 'comma' ? ',' : '.') ? locale : WRITES[mark];
}
