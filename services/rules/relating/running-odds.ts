// For each change that is tried one number that runs along with the loads: the odds that it has begun at any of them, against nothing.
import type { Instant } from '../../../shared/time.ts';

/** By change that is tried. Replaced whole, never changed in place. */
export interface Odds {
  readonly odds: Float64Array;
  /** Since when these odds speak for a change. */
  readonly since: Float64Array;
}

export const newOdds = (changes: number): Odds => ({
  odds: new Float64Array(changes),
  since: new Float64Array(changes),
});

/** Odds are not told beyond this, so that many of them can be multiplied and summed. */
export const ODDS_MOST = 1e60;

interface Step {
  /** How often a load brings the change, shared among all that are tried. */
  readonly rate: number;
  /** By change: how much likelier it makes the load than nothing does. */
  readonly ratios: Float64Array;
  readonly at: Instant;
  /** Of what may grow: the share that goes on to the next size, which stands so many places further. */
  readonly growing?: { readonly share: number; readonly by: number };
}

/** With one more load: R ← (R + rate)·Λ (Shiryaev, Theory of Probability and its Applications 1963; Roberts, Technometrics 1966). */
export function withLoad(from: Odds, { rate, ratios, at, growing }: Step): Odds {
  const changes = ratios.length;
  const begun = rate / changes;
  const after = newOdds(changes);
  const { share, by } = growing ?? { share: 0, by: changes };
  for (let change = 0; change < changes; change += 1) {
    const stays = ((from.odds[change] ?? 0) + begun) * (change + by < changes ? 1 - share : 1);
    const comes = change < by ? 0 : ((from.odds[change - by] ?? 0) + begun) * share;
    after.odds[change] = Math.min((stays + comes) * (ratios[change] ?? 1), ODDS_MOST);
    after.since[change] = sinceIn(from, comes > stays ? change - by : change, { begun, at });
  }
  return after;
}

/** While a beginning with this load is the likelier one, it has not begun. */
function sinceIn({ odds, since }: Odds, change: number, { begun, at }: { begun: number; at: Instant }): Instant {
  return (odds[change] ?? 0) > begun ? (since[change] ?? at) : at;
}

export function sumOf({ odds }: Odds): number {
  let sum = 0;
  for (const one of odds) sum += one;
  return sum;
}

/** Since when the likeliest change has lasted. */
export function sinceOf({ odds, since }: Odds): Instant {
  let best = 0;
  for (let nth = 1; nth < odds.length; nth += 1) if ((odds[nth] ?? 0) > (odds[best] ?? 0)) best = nth;
  return since[best] ?? 0;
}
