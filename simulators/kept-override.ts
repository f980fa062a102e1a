// Invented: a spindle was loud through one load, somebody turned the override down, and nobody turned it up again.
import { MILLISECONDS_A_DAY, type Instant } from '../shared/time.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { planShift, runsFrom, runsUntil, type LoadPlan } from './shift.ts';
import { SHIFT_MS, shiftOf } from './tool-room.ts';

/** Which spindle it is; none of the story's. */
export const KEPT_OVERRIDE_PLACE = 0;
/** How long before the end of the past it began, at most. */
export const KEPT_OVERRIDE_DAYS = 9;
const KEPT_PERCENT = 75;
/** Loads among which the one is sought. */
const SOUGHT_SHIFTS = (2 * MILLISECONDS_A_DAY) / SHIFT_MS;
/** Loads before it at full override, so that this is the usual one. */
const USUAL_BEFORE_MS = MILLISECONDS_A_DAY / 2;
/** Times the ordinary noise of its bearings beyond 1: seen beside the days before, below every limit, and no unbalance. */
const LOUD_TIMES = 8;

/** @param from after it the load is sought through which the spindle is loud; each later one runs at the lower override. */
export function keptOverride(plant: Plant, from: Instant): Overlay {
  const { loadAt, unloadAt, spindle } = loudLoad(plant, from);
  const { spindleId } = spindle.declared;
  return {
    borrows: [],
    events: [],
    faults: [
      {
        kind: 'bearing-defect-growing',
        subject: { kind: 'spindle', id: spindleId },
        from: loadAt,
        to: unloadAt,
        size: LOUD_TIMES,
      },
    ],
    reshaped: (load) => {
      if (load.spindle.declared.spindleId !== spindleId || load.stands || load.loadAt < loadAt - USUAL_BEFORE_MS)
        return load;
      return { ...load, overridePercent: load.loadAt < unloadAt ? 100 : KEPT_PERCENT };
    },
  };
}

/** The one that runs longest out of the cut, where readings can be compared, at the speed that most loads have. */
function loudLoad(plant: Plant, from: Instant): LoadPlan {
  const shifts = Array.from({ length: SOUGHT_SHIFTS }, (_, nth) => shiftOf(from) + 1 + nth);
  const loads = shifts.flatMap((shift) => planShift(plant, shift)[KEPT_OVERRIDE_PLACE] ?? []);
  const alike = (load: LoadPlan): number =>
    loads.filter((other) => other.programmedSpeedRpm === load.programmedSpeedRpm).length;
  const most = Math.max(...loads.map(alike));
  const airMs = (load: LoadPlan): number => (runsUntil(load) - runsFrom(load)) * load.airShare;
  const [longest] = loads.filter((load) => alike(load) === most).toSorted((a, b) => airMs(b) - airMs(a));
  if (longest === undefined) throw new Error('each spindle has something to run in each shift');
  return longest;
}
