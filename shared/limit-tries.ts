// Other limits than those declared: which spindles they are for, what becomes of their limits, and both in words.
import type { VibrationLimit } from './acts.ts';
import { fitsScope, type ScopedTo } from './rule-settings.ts';
import type { LimitTry } from './try-out.ts';
import { amountWords } from './wording.ts';

const NOBODY: ScopedTo = {
  plant: undefined,
  cell: undefined,
  interface: undefined,
  assembly: undefined,
  machine: undefined,
  spindle: undefined,
};
/** One value for a quantity counts from standstill to beyond any spindle's speed. */
const ALL_SPEEDS = { fromSpeedRpm: 1, toSpeedRpm: 200_000 } as const;
export const TRIED_SOURCE = 'tried, not in force';

export interface Named {
  readonly spindleId: string;
  readonly cell?: string | undefined;
  readonly machine?: string | undefined;
}

/** The limits of a spindle after one change; the same list where its scope does not name it or nothing is other. */
export function limitsAfter(
  before: readonly VibrationLimit[],
  { spindleId, cell, machine }: Named,
  { scope, quantity, times, limitMmS, source = TRIED_SOURCE }: LimitTry,
): readonly VibrationLimit[] {
  if (!fitsScope(scope, { ...NOBODY, cell, machine, spindle: spindleId })) return before;
  if (limitMmS !== undefined) {
    const others = before.filter((limit) => limit.quantity !== quantity);
    return [...others, { quantity, ...ALL_SPEEDS, limitMmS, source }];
  }
  if (times === undefined || times === 1 || !before.some((limit) => limit.quantity === quantity)) return before;
  return before.map((limit) => {
    if (limit.quantity !== quantity) return limit;
    const { sourceDate: _dated, ...rest } = limit;
    return { ...rest, limitMmS: rounded(limit.limitMmS * times), source };
  });
}

/** A product of two decimals has digits that nobody meant. */
const rounded = (valueMmS: number): number => Number(valueMmS.toPrecision(6));

export function limitTryWords({ scope, quantity, times, limitMmS, source }: LimitTry): string {
  const where = Object.entries(scope).flatMap(([key, name]) => (name === undefined ? [] : [`${key} ${name}`]));
  const what = quantity === 'overall' ? 'overall limit' : '1× limit';
  const becomes =
    limitMmS === undefined
      ? `${amountWords(times ?? 1)} times what is declared`
      : `${amountWords(limitMmS)} mm/s RMS at all speeds`;
  return `${where.join(', ') || 'all spindles'}: ${what} ${becomes}${source === undefined ? '' : `; ${source}`}`;
}
