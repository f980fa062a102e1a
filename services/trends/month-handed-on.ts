// A hold that went on as another is one: somebody waits from the first until the last has ended. Pure.
import type { HoldKept } from './month-count.ts';

/** Those that others went on as, with what went before them; the order is that of the last of each. */
export function countedOnce(holds: readonly HoldKept[]): readonly HoldKept[] {
  const byId = new Map(holds.map((hold) => [hold.holdId, hold]));
  const before = new Map<string, HoldKept[]>();
  for (const hold of holds) {
    const movedTo = hold.steps.at(-1)?.movedTo;
    // What it went on as may stand outside the time that is looked at: then it is told as it is.
    if (movedTo === undefined || !byId.has(movedTo)) continue;
    before.set(movedTo, [...(before.get(movedTo) ?? []), hold]);
  }
  const isTold = new Set([...before.values()].flat().map(({ holdId }) => holdId));
  return holds.filter(({ holdId }) => !isTold.has(holdId)).map((hold) => withBefore(hold, before, new Set()));
}

function withBefore(
  hold: HoldKept,
  before: ReadonlyMap<string, readonly HoldKept[]>,
  seen: ReadonlySet<string>,
): HoldKept {
  if (seen.has(hold.holdId)) return hold;
  const reached = new Set([...seen, hold.holdId]);
  const earlier = (before.get(hold.holdId) ?? []).map((one) => withBefore(one, before, reached));
  if (earlier.length === 0) return hold;
  // The step that handed it on ended nothing.
  const steps = [...earlier.flatMap((one) => one.steps.filter(({ movedTo }) => movedTo === undefined)), ...hold.steps];
  const named = hold.named ?? earlier.findLast((one) => one.named !== undefined)?.named;
  return {
    ...hold,
    raisedAt: Math.min(hold.raisedAt, ...earlier.map(({ raisedAt }) => raisedAt)),
    steps: steps.toSorted((a, b) => a.at - b.at),
    ...(named === undefined ? {} : { named }),
  };
}
