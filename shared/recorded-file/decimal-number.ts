// Decimal numbers out of bytes, with a point or a comma, to the last bit what JavaScript makes of the same text.

const ZERO = 48;
const NINE = 57;
const PLUS = 43;
const MINUS = 45;
const COMMA = 44;
const POINT = 46;
const UPPER_E = 69;
const LOWER_E = 101;

/** Up to so many digits are a whole number that a double holds, and up to 10^22 so are the powers of ten: one rounding. */
const EXACT_DIGITS = 15;
const EXACT_POWER = 22;
const POWERS = Array.from({ length: EXACT_POWER + 1 }, (_, power) => Number(`1e${power}`));

export class DecimalReader {
  /** Whether a number with this mark was read so far. */
  sawPoint = false;
  sawComma = false;
  /** Power of ten of the last digit of the number read last: −3 for 0.125. */
  lastPower = 0;

  /** The number that stands in the bytes from `from` up to `to`; NaN where they are none. */
  read(bytes: Uint8Array, from: number, to: number): number {
    let at = from;
    const first = bytes[at];
    if (first === PLUS || first === MINUS) at += 1;
    let mantissa = 0;
    let digits = 0;
    let significant = 0;
    let mark = 0;
    let power = 0;
    for (; at < to; at += 1) {
      const byte = bytes[at] ?? 0;
      if (byte >= ZERO && byte <= NINE) {
        digits += 1;
        if (significant > 0 || byte !== ZERO) significant += 1;
        mantissa = mantissa * 10 + (byte - ZERO);
        if (mark !== 0) power -= 1;
      } else if ((byte === POINT || byte === COMMA) && mark === 0) mark = byte;
      else break;
    }
    if (digits === 0) return Number.NaN;
    if (at < to) {
      const exponent = exponentOf(bytes, at, to);
      if (Number.isNaN(exponent)) return Number.NaN;
      power += exponent;
    }
    if (mark === POINT) this.sawPoint = true;
    if (mark === COMMA) this.sawComma = true;
    this.lastPower = power;
    if (significant > EXACT_DIGITS || power > EXACT_POWER || power < -EXACT_POWER) return slowly(bytes, from, to);
    const size = power < 0 ? mantissa / (POWERS[-power] ?? 1) : mantissa * (POWERS[power] ?? 1);
    return first === MINUS ? -size : size;
  }
}

/** NaN where there is no exponent, or one that no recorder writes. */
function exponentOf(bytes: Uint8Array, from: number, to: number): number {
  const letter = bytes[from];
  if (letter !== LOWER_E && letter !== UPPER_E) return Number.NaN;
  const sign = bytes[from + 1];
  const start = sign === PLUS || sign === MINUS ? from + 2 : from + 1;
  if (start >= to || to - start > 4) return Number.NaN;
  let exponent = 0;
  for (let at = start; at < to; at += 1) {
    const byte = bytes[at] ?? 0;
    if (byte < ZERO || byte > NINE) return Number.NaN;
    exponent = exponent * 10 + (byte - ZERO);
  }
  return sign === MINUS ? -exponent : exponent;
}

function slowly(bytes: Uint8Array, from: number, to: number): number {
  let text = '';
  for (let at = from; at < to; at += 1) text += String.fromCharCode(bytes[at] ?? 0);
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}
