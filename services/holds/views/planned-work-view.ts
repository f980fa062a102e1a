// Work that is planned on a spindle, or was, as people see it.
import type { PlannedWorkView } from '../../../shared/planned-work.ts';
import type { Floor } from '../../rules/index.ts';

type Work = NonNullable<ReturnType<Floor['spindles']['get']>>['work'][number];

/** Those before stand in the journal. */
const WORK_BEFORE_SHOWN_MAX = 8;

/** Undefined where none is: a page says nothing of it then. */
export function plannedWorkView(floor: Floor, spindleId: string): PlannedWorkView[] | undefined {
  const work = (floor.spindles.get(spindleId)?.work ?? []).filter(({ until }) => until > floor.at);
  return work.length === 0 ? undefined : work.map((one) => viewOf(floor, spindleId, one));
}

/** Whose time is over, newest first; whether it was done nobody told. */
export function workBeforeView(floor: Floor, spindleId: string): PlannedWorkView[] | undefined {
  const over = (floor.spindles.get(spindleId)?.work ?? []).filter(({ until }) => until <= floor.at);
  const newest = over.toSorted((a, b) => b.until - a.until).slice(0, WORK_BEFORE_SHOWN_MAX);
  return newest.length === 0 ? undefined : newest.map((one) => viewOf(floor, spindleId, one));
}

function viewOf({ at }: Floor, spindleId: string, { workId, from, until, note, by }: Work): PlannedWorkView {
  return { workId, spindleId, from, until, note, by, now: from <= at && until > at };
}
