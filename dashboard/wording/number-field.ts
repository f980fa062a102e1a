// A field for a number. A field of the browser's own kind for numbers drops the comma of whoever writes one, and 2,5 becomes 25: so it
// is a field of text, read by typedNumber, and told by the browser's own words beside it what is wrong.
import { say } from '../../shared/language/index.ts';
import { graduation } from './figures.ts';
import { typedNumber } from './typed-number.ts';

export interface NumberBounds {
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
  readonly inThousands?: boolean;
}

/** What is wrong with what was typed; '' where nothing is. Whether it may be empty is for `required` to say. */
export function numberFault(text: string, { least, most, whole = false, inThousands = whole }: NumberBounds): string {
  const typed = typedNumber(text, { inThousands });
  if (typed.kind === 'empty') return '';
  if (typed.kind === 'unclear') return typed.why;
  const fits = typed.kind === 'number' && typed.value >= least && typed.value <= most;
  if (fits && (!whole || Number.isInteger(typed.value))) return '';
  return whole
    ? say`Expected a whole number from ${graduation(least)} to ${graduation(most)}.`
    : say`Expected a number from ${graduation(least)} to ${graduation(most)}.`;
}

/** Keeps the form from being sent while the number cannot be meant, and returns what was typed. */
export function checkedNumber(event: Event, bounds: NumberBounds): string {
  const field = event.target as HTMLInputElement;
  field.setCustomValidity(numberFault(field.value, bounds));
  return field.value;
}
