// Refuses numbers that the balance formulas have no answer for, so that a bad value stops here and not in a verdict.

const shown = (value: number): string => (Number.isFinite(value) ? String(value) : `the non-finite value ${value}`);

/** Throws a RangeError unless the value is a finite number. */
export function expectFinite(value: number, name: string): void {
  if (!Number.isFinite(value)) throw new RangeError(`${name}: expected a finite number, came ${shown(value)}`);
}

/** Throws a RangeError unless the value is a finite number above zero. */
export function expectPositive(value: number, name: string): void {
  if (!(Number.isFinite(value) && value > 0)) {
    throw new RangeError(`${name}: expected a finite number above 0, came ${shown(value)}`);
  }
}

/** Throws a RangeError unless the value is a finite number of at least zero. */
export function expectNotNegative(value: number, name: string): void {
  if (!(Number.isFinite(value) && value >= 0)) {
    throw new RangeError(`${name}: expected a finite number of at least 0, came ${shown(value)}`);
  }
}

/**
 * Passes a computed value on, or throws a RangeError when good inputs of absurd size drove it out of range.
 * A permissible unbalance of infinity would call every assembly good, so it must never leave a formula.
 */
export function finiteOutcome(value: number, name: string): number {
  if (!Number.isFinite(value)) throw new RangeError(`${name}: the inputs lie outside of what can be computed`);
  return value;
}

/** As finiteOutcome, and refuses a value that has vanished to zero. */
export function positiveOutcome(value: number, name: string): number {
  if (!(Number.isFinite(value) && value > 0)) {
    throw new RangeError(`${name}: the inputs lie outside of what can be computed`);
  }
  return value;
}
