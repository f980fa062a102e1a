// Other limits than those declared: which spindles they are for, what becomes of their limits, and both in words.
import type { VibrationLimit } from './acts.ts';
import { say } from './language/index.ts';
import { fitsScope, type ScopedTo } from './rule-settings.ts';
import { namedWords } from './rule-words.ts';
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
/** By this word a page knows it again. */
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
  const named = (['cell', 'machine', 'spindle'] as const).flatMap((key) =>
    scope[key] === undefined ? [] : [namedWords(key, scope[key])],
  );
  const where = named.join(', ') || say`all spindles`;
  const words =
    limitMmS === undefined
      ? timesWords(quantity, where, amountWords(times ?? 1))
      : valueWords(quantity, where, amountWords(limitMmS));
  return source === undefined ? words : `${words}; ${source}`;
}

function timesWords(quantity: LimitTry['quantity'], where: string, factor: string): string {
  return quantity === 'overall'
    ? say`${where}: overall limit ${factor} times what is declared`
    : say`${where}: 1× limit ${factor} times what is declared`;
}

function valueWords(quantity: LimitTry['quantity'], where: string, limit: string): string {
  return quantity === 'overall'
    ? say`${where}: overall limit ${limit} mm/s RMS at all speeds`
    : say`${where}: 1× limit ${limit} mm/s RMS at all speeds`;
}
