// Numbers that a person types: with a comma or a point before the places, whichever the hand is used to. What can be read two ways is
// refused instead of guessed: between 1.234 and 1,234 lies a factor of a thousand. Pure.
import { numberMarks, say } from '../../shared/language/index.ts';

export type TypedNumber =
  | { readonly kind: 'empty' }
  | { readonly kind: 'number'; readonly value: number }
  /** Thousands or places: nobody can tell. */
  | { readonly kind: 'unclear'; readonly why: string }
  | { readonly kind: 'none' };

const BLANKS = /[\s'’]/gu;
const PLAIN = /^[+-]?\d*[.,]?\d+$|^[+-]?\d+[.,]$/;
/** One mark with three digits behind it and up to three before. */
const TWO_WAYS = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;
/** Thousands, all parted alike; with places behind the other mark, or none. */
const GROUPED = /^[+-]?[1-9]\d{0,2}(?:(?:\.\d{3})+(?:,\d+)?|(?:,\d{3})+(?:\.\d+)?)$/;

/** With `inThousands` three digits behind a mark are thousands: a speed is no number with three places. */
export function typedNumber(text: string, { inThousands = false } = {}): TypedNumber {
  const typed = text.replaceAll(BLANKS, '').replace('−', '-');
  if (typed === '') return { kind: 'empty' };
  if (TWO_WAYS.test(typed) && !inThousands) return { kind: 'unclear', why: unclearWords(text.trim(), typed) };
  // Before PLAIN: where three digits are thousands they fit both.
  if (GROUPED.test(typed)) return numberOf(withoutThousands(typed));
  return PLAIN.test(typed) ? numberOf(typed.replace(',', '.')) : { kind: 'none' };
}

/** The number, or none where it is empty, unclear or no number. */
export function numberTyped(text: string, options?: { inThousands?: boolean }): number | undefined {
  const typed = typedNumber(text, options);
  return typed.kind === 'number' ? typed.value : undefined;
}

/** As a number stands in a field: with the mark that is read here, and so that it is read back in one way only. */
export function asTyped(value: number): string {
  const plain = String(value);
  const clear = TWO_WAYS.test(plain) ? `${plain}0` : plain;
  return clear.replace('.', numberMarks().decimal);
}

function numberOf(plain: string): TypedNumber {
  const value = Number(plain);
  return Number.isFinite(value) ? { kind: 'number', value } : { kind: 'none' };
}

function withoutThousands(typed: string): string {
  const marks = typed.replaceAll(/[^.,]/g, '');
  const thousands = marks[0] ?? ',';
  return typed.replaceAll(thousands, '').replace(',', '.');
}

function unclearWords(text: string, typed: string): string {
  const [whole = '', places = ''] = typed.split(/[.,]/);
  const one = `${whole}${places}`;
  const other = `${whole}${numberMarks().decimal}${places}0`;
  return say`“${text}” can be read two ways: write ${one} without a mark for thousands, or ${other} for a number with places.`;
}
