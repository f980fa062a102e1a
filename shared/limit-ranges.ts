// Whether a spindle's limits say one thing at each speed: a range that ends before it begins, or two that overlap, say none.
import type { VibrationLimit } from './acts.ts';
import { say } from './language/index.ts';
import type { FieldFault } from './problem.ts';
import { rpmWords, wholeWords } from './wording.ts';

/**
 * Ranges that meet at one speed may stand side by side. Pointers are into what has the `limits`; where they are of a file `lineOf`
 * says on which line one stands there.
 */
export function limitRangeFaults(
  limits: readonly VibrationLimit[],
  lineOf?: (place: number) => number | undefined,
): FieldFault[] {
  return limits.flatMap((limit, index) => {
    const { fromSpeedRpm, toSpeedRpm } = limit;
    if (fromSpeedRpm > toSpeedRpm) {
      const want = say`a speed of ${rpmWords(fromSpeedRpm)} or more, for fromSpeedRpm is that`;
      return [{ pointer: `/limits/${index}/toSpeedRpm`, want, got: rpmWords(toSpeedRpm) }];
    }
    const other = limits.findIndex((earlier, place) => place < index && overlap(earlier, limit));
    const before = limits[other];
    if (before === undefined) return [];
    const line = lineOf?.(other);
    const want = line === undefined ? oneLimit(before, other + 1) : oneInFile(before, line);
    return [{ pointer: `/limits/${index}/fromSpeedRpm`, want, got: rangeWords(limit) }];
  });
}

function oneLimit(before: VibrationLimit, place: number): string {
  const range = rangeWords(before);
  return before.quantity === 'overall'
    ? say`one overall limit at each speed; limit ${place} is for ${range} already`
    : say`one synchronous limit at each speed; limit ${place} is for ${range} already`;
}

function oneInFile(before: VibrationLimit, line: number): string {
  const range = rangeWords(before);
  return before.quantity === 'overall'
    ? say`one overall limit at each speed; line ${line} is for ${range} already`
    : say`one synchronous limit at each speed; line ${line} is for ${range} already`;
}

function overlap(one: VibrationLimit, other: VibrationLimit): boolean {
  if (one.quantity !== other.quantity) return false;
  const isSame = one.fromSpeedRpm === other.fromSpeedRpm && one.toSpeedRpm === other.toSpeedRpm;
  return isSame || (one.fromSpeedRpm < other.toSpeedRpm && other.fromSpeedRpm < one.toSpeedRpm);
}

function rangeWords({ fromSpeedRpm, toSpeedRpm }: VibrationLimit): string {
  return say`${wholeWords(fromSpeedRpm)} rpm to ${wholeWords(toSpeedRpm)} rpm`;
}
