// Open holds that are to be shown anew without a step of their own: how soon they want an answer, planned work, a run that goes on.
import { awaitedSince, type Hold } from '../../shared/holds.ts';
import type { Instant } from '../../shared/time.ts';
import { baseLayer, priorityOf, spindleAbout, type Floor } from '../rules/index.ts';
import { plannedWorkView } from './views/planned-work-view.ts';
import { runParts } from './views/run-parts.ts';

/** Of the floor's time: a hold wants an answer within minutes at the soonest, and looking at a thousand of them takes some ms. */
const LOOK_EVERY_MS = 1000;

/** Remembers what was shown of each open hold. */
export class ShownAnew {
  #shown = new Map<string, string>();
  #lookedAt: Instant = Number.NEGATIVE_INFINITY;

  /** Ids of the open holds of which something else is to be shown than when it was asked last. */
  take(floor: Floor): readonly string[] {
    if (floor.at - this.#lookedAt < LOOK_EVERY_MS) return NONE;
    this.#lookedAt = floor.at;
    const shown = new Map<string, string>();
    const anew: string[] = [];
    for (const ids of floor.openHolds.values()) {
      for (const id of ids) {
        const hold = floor.holds.get(id);
        if (hold === undefined) continue;
        const now = whatChanges(floor, hold);
        shown.set(id, now);
        if (this.#shown.get(id) !== now) anew.push(id);
      }
    }
    this.#shown = shown;
    return anew;
  }
}

const NONE: readonly string[] = [];

/** What time, loads and readings change of a hold that nobody touches. */
function whatChanges(floor: Floor, hold: Hold): string {
  const layer = baseLayer(floor);
  const { priority, why } = priorityOf(layer, hold, floor.at);
  const spindleId = spindleAbout(layer, hold);
  const work = spindleId === undefined ? [] : (plannedWorkView(floor, spindleId) ?? []);
  const isRun = spindleId !== undefined && awaitedSince(hold, 'verification-run') !== undefined;
  return JSON.stringify([priority, why, work, isRun ? runParts(floor, hold, spindleId) : []]);
}
