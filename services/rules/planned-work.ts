// Work that is planned on a spindle: declared by a person, remembered with the spindle, asked by readings and by whoever waits.
import type { ActEntry } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import { instantOf, rfc3339Of, type Instant } from '../../shared/time.ts';
import type { PlannedWork } from './floor.ts';
import type { Layer } from './layer.ts';
import { PLANNED_WORK_PER_SPINDLE_MAX } from './limits.ts';
import type { Outcomes } from './raising.ts';
import { spindleOrNew } from './spindle-state.ts';

type WorkPlannedEntry = Extract<ActEntry, { kind: 'work-planned' }>;

/** Whether a spindle is worked on at that instant, by what was declared. Asked for every reading: nothing is allocated. */
export function isWorkedOn(work: readonly PlannedWork[], at: Instant): boolean {
  for (const { from, until } of work) if (at >= from && at < until) return true;
  return false;
}

/** How much of a span was planned work, ms; overlapping windows count once, for they lie in the order of their beginning. */
export function workedOnMs(work: readonly PlannedWork[], since: Instant, now: Instant): number {
  let worked = 0;
  let counted = since;
  for (const { from, until } of work) {
    const begins = Math.max(from, counted);
    const ends = Math.min(until, now);
    if (ends <= begins) continue;
    worked += ends - begins;
    counted = ends;
  }
  return worked;
}

/** The windows with this one in its place. Of too many the one that ended first goes; one that is still to come never does. */
function workWith(work: readonly PlannedWork[], entry: WorkPlannedEntry): readonly PlannedWork[] | undefined {
  const { workId, note, calledOff } = entry.data;
  const others = work.filter((one) => one.workId !== workId);
  const from = instantOf(entry.data.from);
  const planned = {
    workId,
    from,
    until: instantOf(entry.data.until),
    note,
    by: entry.actor.name,
    position: entry.position,
  };
  // What has begun was done until now, and its readings stay marked.
  if (calledOff === true) {
    const known = work.find((one) => one.workId === workId);
    if (known === undefined || known.from >= entry.at) return others;
    return inOrder([...others, { ...known, until: Math.min(known.until, entry.at) }]);
  }
  // Long done: it would only take away from how long somebody has waited.
  if (isPast(entry)) return undefined;
  if (others.length < PLANNED_WORK_PER_SPINDLE_MAX) return inOrder([...others, planned]);
  const ended = others.filter(({ until }) => until <= entry.at).toSorted((a, b) => a.until - b.until)[0];
  return ended === undefined ? undefined : inOrder([...others.filter((one) => one !== ended), planned]);
}

const isPast = ({ data, at }: WorkPlannedEntry): boolean => instantOf(data.until) <= at;

const inOrder = (work: readonly PlannedWork[]): readonly PlannedWork[] =>
  work.toSorted((a, b) => a.from - b.from || a.position - b.position);

export function foldWorkPlanned(layer: Layer, entry: WorkPlannedEntry): void {
  const spindle = spindleOrNew(layer, entry.data.spindleId);
  const work = workWith(spindle.work, entry);
  if (work !== undefined) layer.putSpindle({ ...spindle, work });
}

/** On record in words; and where it is not taken, that and why. */
export function remarkWork({ layer, outcomes }: { layer: Layer; outcomes: Outcomes }, entry: WorkPlannedEntry): void {
  const { spindleId, from, until, note, workId, calledOff } = entry.data;
  const subject = { kind: 'spindle', id: spindleId } as const;
  const { name } = entry.actor;
  if (calledOff === true) return outcomes.remark(subject, say`${name} called off the work on ${spindleId}: ${note}`);
  const isTaken = layer
    .spindle(spindleId)
    ?.work.some((one) => one.workId === workId && one.position === entry.position);
  const words = say`${name} declared work on ${spindleId} from ${utc(from)} until ${utc(until)}: ${note}`;
  outcomes.remark(subject, isTaken === true ? words : say`${words}; not taken: ${whyNotTaken(entry)}`);
}

function whyNotTaken(entry: WorkPlannedEntry): string {
  return isPast(entry)
    ? say`it lies in the past`
    : say`${PLANNED_WORK_PER_SPINDLE_MAX} are declared that have not ended, call one off first`;
}

const utc = (text: string): string => rfc3339Of(instantOf(text));
