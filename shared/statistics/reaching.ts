// When a level reaches a boundary: the share of chance that it has by each day ahead, and the days of 10, 50 and 90 %.
import { shareBelowT } from './distributions.ts';
import type { TrendState } from './trend-bank.ts';

export interface Reaching {
  /** Days from the last point; undefined where the chance stays below it up to the horizon. */
  readonly p10: number | undefined;
  readonly p50: number | undefined;
  readonly p90: number | undefined;
  /** The chance that it is reached up to the horizon. */
  readonly chance: number;
}

/** Days ahead at which the chance is reckoned: every one at first, then in steps of this share. */
const STEP_SHARE = 0.04;
/** A member that weighs less moves no percentile. */
const WEIGHT_LEAST = 1e-3;

/** Of a bank that `trendBank` made; `boundary` in the unit of the levels, above zero; `horizonDays` from the last point. */
export function reaching(bank: readonly TrendState[], boundary: number, horizonDays: number): Reaching {
  const [p10, p50, p90]: Found[] = [{ share: 0.1 }, { share: 0.5 }, { share: 0.9 }];
  const sought = [p10, p50, p90].filter((one) => one !== undefined);
  let [before, chance] = [0, 0];
  const counted = bank.filter(({ weight }) => weight >= WEIGHT_LEAST);
  for (let days = 0; ; days = Math.min(horizonDays, days + Math.max(1, days * STEP_SHARE))) {
    // What was reached stays reached.
    const now = Math.max(chance, chanceBy(counted, boundary, days));
    for (const one of sought)
      if (one.days === undefined && now >= one.share)
        one.days = days === 0 ? 0 : before + ((days - before) * (one.share - chance)) / (now - chance);
    [before, chance] = [days, now];
    if (days >= horizonDays || p90?.days !== undefined) break;
  }
  return { p10: p10?.days, p50: p50?.days, p90: p90?.days, chance };
}

interface Found {
  readonly share: number;
  days?: number;
}

function chanceBy(bank: readonly TrendState[], boundary: number, days: number): number {
  let chance = 0;
  for (const { member, level, slope, levelVariance, covariance, slopeVariance, noise, freedom, weight } of bank) {
    const wander = member.slopeWander * member.slopeWander;
    const run = member.growth === 0 ? days : Math.expm1(member.growth * days) / member.growth;
    const variance =
      levelVariance + 2 * run * covariance + run * run * slopeVariance + (wander * days * days * days) / 3;
    const spread = Math.sqrt(Math.max(variance, 1e-12) * noise);
    chance += weight * shareBelowT((level + run * slope - boundary) / spread, freedom);
  }
  return chance;
}
