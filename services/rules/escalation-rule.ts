// Rule (j): a hold that nobody answers is told to the next ones, by the levels that the plant declared. Silence ends nothing.
import { DEFAULT_ANSWERING, PRIORITIES, type Answering, type Escalation } from '../../shared/answering.ts';
import type { TickEntry } from '../../shared/entries.ts';
import { awaitedSince, type Hold, type HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { MILLISECONDS_A_MINUTE } from '../../shared/time.ts';
import type { Floor } from './floor.ts';
import { spindleAbout } from './fold-outcome.ts';
import { baseLayer, type Layer } from './layer.ts';
import { isWorkedOn, workedOnMs } from './planned-work.ts';
import { priorityOf } from './priority.ts';

export const answeringOf = ({ answering }: Floor): Answering => answering ?? DEFAULT_ANSWERING;

/** The step that nobody has answered yet: its raising, or the wish for a deviation that wants a second name. */
export function unansweredStep(hold: Hold): HoldStep | undefined {
  if (hold.state === 'raised') return hold.steps.at(-1);
  return awaitedSince(hold, 'second-name');
}

export function escalationRule(floor: Floor, entry: TickEntry): readonly Outcome[] {
  const { levels } = answeringOf(floor);
  if (levels.length === 0 || floor.openHolds.size === 0) return NOTHING;
  const layer = baseLayer(floor);
  const outcomes: Outcome[] = [];
  for (const ids of floor.openHolds.values()) {
    for (const holdId of ids) {
      const hold = floor.holds.get(holdId);
      const escalation = hold === undefined ? undefined : escalationOf(layer, hold, levels, entry);
      if (escalation !== undefined)
        outcomes.push({ cause: entry.position, kind: 'hold-escalated', holdId, escalation });
    }
  }
  return outcomes;
}

/** One level with one tick: whoever is told next is told that the one before was. */
function escalationOf(
  layer: Layer,
  hold: Hold,
  levels: Answering['levels'],
  { at, position: cause }: TickEntry,
): Escalation | undefined {
  const step = unansweredStep(hold);
  if (step === undefined) return undefined;
  const told = (hold.escalations ?? []).filter((one) => one.at >= step.at).length;
  const next = levels[told];
  if (next === undefined) return undefined;
  const soonest = Math.min(...PRIORITIES.map((priority) => next.afterMin[priority]));
  if (at - step.at < soonest * MILLISECONDS_A_MINUTE) return undefined;
  const spindleId = spindleAbout(layer, hold);
  const work = (spindleId === undefined ? undefined : layer.spindle(spindleId)?.work) ?? [];
  if (isWorkedOn(work, at)) return undefined;
  const waitedMs = at - step.at - workedOnMs(work, step.at, at);
  const { priority } = priorityOf(layer, hold, at);
  if (waitedMs < next.afterMin[priority] * MILLISECONDS_A_MINUTE) return undefined;
  return { level: told + 1, at, cause, priority, to: next.to, waitedMs };
}

const NOTHING: readonly Outcome[] = [];
