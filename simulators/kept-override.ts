// Invented: a chip lay under the taper for some hours, somebody turned the override down, and nobody turned it up again.
import { MILLISECONDS_AN_HOUR, type Instant } from '../shared/time.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';

/** Which spindle it is; none of the story's. */
export const KEPT_OVERRIDE_PLACE = 1;
/** How long before the end of the past it began. */
export const KEPT_OVERRIDE_DAYS = 9;
const KEPT_PERCENT = 75;
const CHIP_MS = 4 * MILLISECONDS_AN_HOUR;
/** µm: enough to be seen beside the days before, and below every limit. */
const CHIP_UM = 9;

/** @param since when it was turned down; each load that is clamped from then on runs at the lower override. */
export function keptOverride(plant: Plant, since: Instant): Overlay {
  const spindle = plant.spindles[KEPT_OVERRIDE_PLACE];
  if (spindle === undefined) throw new Error('the plant has no such spindle');
  const { spindleId } = spindle.declared;
  return {
    borrows: [],
    events: [],
    faults: [
      {
        kind: 'chip-under-taper',
        subject: { kind: 'spindle', id: spindleId },
        from: since - CHIP_MS,
        to: since,
        size: CHIP_UM,
        angleDeg: 40,
      },
    ],
    reshaped: (load) => {
      if (load.spindle.declared.spindleId !== spindleId || load.stands || load.loadAt < since - CHIP_MS) return load;
      return { ...load, overridePercent: load.loadAt < since ? 100 : KEPT_PERCENT };
    },
  };
}
