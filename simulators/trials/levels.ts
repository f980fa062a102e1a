// How far a spindle truly is from its limits: what its sensor would read without noise, against what was declared.
import type { LimitQuantity } from '../../shared/acts.ts';
import type { Summary } from '../../shared/messages/index.ts';
import { MILLISECONDS_A_MINUTE, type Instant } from '../../shared/time.ts';
import { conditionOf, type Fault } from '../faults.ts';
import type { Plant } from '../plant.ts';
import { noiselessSummary } from '../sensor.ts';
import { isCutting, isRunning, type LoadPlan } from '../shift.ts';
import type { SimulatedSpindle } from '../spindles.ts';
import { residualOf } from '../bench-jobs.ts';

const STEP_MS = 10_000;
/** Over its limit for less than this in the whole trial, with readings that count, is as good as not over it. */
const TELLABLE_MS = 10 * MILLISECONDS_A_MINUTE;

export interface Watched {
  readonly plant: Plant;
  readonly spindle: SimulatedSpindle;
  readonly loads: readonly LoadPlan[];
  readonly faults: readonly Fault[];
}

/** The reading as a share of the limit for its speed: 1 is on it. */
export function shareOfLimit(spindle: SimulatedSpindle, reading: Summary, quantity?: LimitQuantity): number {
  const shares = spindle.declared.limits
    .filter((limit) => reading.speedRpm >= limit.fromSpeedRpm && reading.speedRpm <= limit.toSpeedRpm)
    .filter((limit) => quantity === undefined || limit.quantity === quantity)
    .map(
      (limit) => (limit.quantity === 'overall' ? reading.overallMmS : (reading.synchronousMmS ?? 0)) / limit.limitMmS,
    );
  return Math.max(0, ...shares);
}

/** Readings without noise, every few seconds of a load, wherever it runs at its speed and not in the cut. */
function* comparable(watched: Watched, load: LoadPlan): Generator<{ readonly at: Instant; readonly reading: Summary }> {
  const { plant, spindle, faults } = watched;
  const residualGmm = residualOf(plant, load.assembly, load.buildId);
  const where = { spindleId: spindle.declared.spindleId, assemblyId: load.assembly.assemblyId };
  for (let at = load.loadAt; at < load.unloadAt; at += STEP_MS) {
    if (!isRunning(load, at) || isCutting(load, at)) continue;
    const condition = conditionOf(faults, { ...where, at });
    const reading = noiselessSummary({ spindle, load, residualGmm, at, condition });
    if (reading.steady === true) yield { at, reading };
  }
}

/** The nearest that comparable readings come to any limit. */
export function worstShare(watched: Watched): number {
  let worst = 0;
  for (const load of watched.loads) {
    for (const { reading } of comparable(watched, load))
      worst = Math.max(worst, shareOfLimit(watched.spindle, reading));
  }
  return worst;
}

/** Since when a limit is exceeded where readings count; undefined where it never is, or too shortly for anyone to tell. */
export function overLimitSince(watched: Watched, quantity: LimitQuantity, until: Instant): Instant | undefined {
  let since: Instant | undefined;
  let overMs = 0;
  for (const load of watched.loads) {
    for (const { at, reading } of comparable(watched, load)) {
      if (at >= until || shareOfLimit(watched.spindle, reading, quantity) <= 1) continue;
      since ??= at;
      overMs += STEP_MS;
    }
  }
  return overMs >= TELLABLE_MS ? since : undefined;
}
