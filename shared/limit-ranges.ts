// Whether a spindle's limits say one thing at each speed: a range that ends before it begins, or two that overlap, say none.
import type { VibrationLimit } from './acts.ts';
import type { FieldFault } from './problem.ts';
import { rpmWords } from './wording.ts';

/** Ranges that meet at one speed may stand side by side. Pointers are into what has the `limits`. */
export function limitRangeFaults(limits: readonly VibrationLimit[]): FieldFault[] {
  return limits.flatMap((limit, index) => {
    const { fromSpeedRpm, toSpeedRpm } = limit;
    if (fromSpeedRpm > toSpeedRpm) {
      const want = `a speed of ${rpmWords(fromSpeedRpm)} or more, for fromSpeedRpm is that`;
      return [{ pointer: `/limits/${index}/toSpeedRpm`, want, got: rpmWords(toSpeedRpm) }];
    }
    const other = limits.findIndex((earlier, place) => place < index && overlap(earlier, limit));
    const before = limits[other];
    if (before === undefined) return [];
    const want = `one ${limit.quantity} limit at each speed; limit ${other + 1} is for ${rangeWords(before)} already`;
    return [{ pointer: `/limits/${index}/fromSpeedRpm`, want, got: rangeWords(limit) }];
  });
}

function overlap(one: VibrationLimit, other: VibrationLimit): boolean {
  if (one.quantity !== other.quantity) return false;
  const isSame = one.fromSpeedRpm === other.fromSpeedRpm && one.toSpeedRpm === other.toSpeedRpm;
  return isSame || (one.fromSpeedRpm < other.toSpeedRpm && other.fromSpeedRpm < one.toSpeedRpm);
}

function rangeWords({ fromSpeedRpm, toSpeedRpm }: VibrationLimit): string {
  return `${rpmWords(fromSpeedRpm)} to ${rpmWords(toSpeedRpm)}`;
}
