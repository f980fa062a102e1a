// Since when a hold waits for somebody: with those that went on as it. Pure.
import type { HoldView } from './hold-view.ts';

/** Since when nobody has done anything about it, nor about what went on as it. */
export function unansweredSince(hold: Pick<HoldView, 'steps' | 'raisedAt' | 'state' | 'inPlaceOf'>): number {
  const last = hold.steps.at(-1)?.at ?? hold.raisedAt;
  const nobodys = hold.state === 'raised' && hold.steps.length <= 1;
  const before = nobodys ? (hold.inPlaceOf ?? []).filter(({ takenBy }) => takenBy === undefined) : [];
  return Math.min(last, ...before.map(({ raisedAt }) => raisedAt));
}
