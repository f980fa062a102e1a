// The margin of a clause drawn to scale: what was measured against its limit, on a scale from zero. Pure.
export interface LedgerScale {
  /** Where the limit stands, as a share of the whole width. */
  readonly limitShare: number;
  readonly measuredShare: number;
  readonly over: boolean;
  /** Measured over limit; undefined when the limit is zero. */
  readonly ratio: number | undefined;
  /** The measured value is longer than the paper and is drawn to its end. */
  readonly beyond: boolean;
}

/** The limits of all clauses stand under one another up to this ratio; beyond it the scale gives way. */
const LIMIT_SHARE = 0.5;
const BEYOND = 10;

export function ledgerScale(measured: number, limit: number): LedgerScale {
  if (!(limit > 0))
    return {
      limitShare: 0,
      measuredShare: measured > 0 ? 1 : 0,
      over: measured > limit,
      ratio: undefined,
      beyond: false,
    };
  const ratio = measured / limit;
  const longest = Math.min(BEYOND, Math.max(1 / LIMIT_SHARE, ratio));
  return {
    limitShare: 1 / longest,
    measuredShare: Math.min(1, Math.max(0, ratio) / longest),
    over: measured > limit,
    ratio,
    beyond: ratio > BEYOND,
  };
}
