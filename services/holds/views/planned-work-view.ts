// Work that is planned on a spindle, now or later, as people see it.
import type { PlannedWorkView } from '../../../shared/planned-work.ts';
import type { Floor } from '../../rules/index.ts';

/** Undefined where none is: a page says nothing of it then. */
export function plannedWorkView(floor: Floor, spindleId: string): PlannedWorkView[] | undefined {
  const work = (floor.spindles.get(spindleId)?.work ?? []).filter(({ until }) => until > floor.at);
  if (work.length === 0) return undefined;
  return work.map(({ workId, from, until, note, by }) => ({
    workId,
    spindleId,
    from,
    until,
    note,
    by,
    now: from <= floor.at,
  }));
}
