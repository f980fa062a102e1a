// The detector that is told the machine, the fault's kind and its course, but not its size and angle: those it weighs by the law that they
// are drawn from. What it is later than the informed one, nobody who looks for more than one size can be sooner.
import {
  BEARING_FACTOR,
  expectedSquare,
  FAULT_FACTOR,
  prngOf,
  type AffectedLoad,
  type LongLabel,
  type Turning,
} from '../../../simulators/index.ts';
import { loadsLookedAt, SPINDLE_DAYS_PER_FALSE } from './informed.ts';
import { draw, logDensity, seenIn, type Seen } from './likelihood.ts';

/** Sizes are drawn evenly in their logarithm: the middles of so many equal parts of the range, at so many angles. */
const SIZES = 7;
const ANGLES = 8;
/** The threshold is found at a lower one, where false alarms come often enough to be counted, and carried over in proportion. */
const COUNTED_AT = 20;
const COUNTED_LOADS = 1500;

/** What turns in a load if the fault has this size and angle; `share` of it has come. */
type Fault = (one: AffectedLoad, share: number) => Turning;

/** Affected loads until it is sure, the first one counted; undefined where it never is. */
export function untoldLoads(label: LongLabel, loadsPerSpindleDay: number): number | undefined {
  const loads = loadsLookedAt(label);
  const telling = loads.filter(({ load }) => load.readings > 0);
  if (telling.length === 0) return undefined;
  const faults = faultsOf(label, telling);
  const threshold = thresholdOf(label, { loads: telling, faults }, loadsPerSpindleDay);
  const odds = new Float64Array(faults.length);
  for (const [index, one] of loads.entries()) {
    if (
      one.load.readings > 0 &&
      takeLoad(odds, faults, { one, share: courseOf(label, one) }, seenIn(one.load)) >= threshold
    )
      return index + 1;
  }
  return undefined;
}

interface Coming {
  readonly one: AffectedLoad;
  readonly share: number;
}

/** R ← (R + 1)·Λ for each size and angle, and their mean (Shiryaev 1963; Roberts 1966; Pollak 1987 for the mixture). */
function takeLoad(odds: Float64Array, faults: readonly Fault[], { one, share }: Coming, seen: Seen): number {
  const { load, without } = one;
  const none = logDensity({ load, turning: without }, seen);
  let sum = 0;
  faults.forEach((fault, nth) => {
    const ratio = Math.exp(logDensity({ load, turning: fault(one, share) }, seen) - none);
    const after = ((odds[nth] ?? 0) + 1) * ratio;
    odds[nth] = after;
    sum += after;
  });
  return sum / faults.length;
}

/** Where nothing is wrong the mean of R less the loads is 0 (a martingale), so between alarms lie as many loads as R is high, or a little more. */
function thresholdOf(
  label: LongLabel,
  { loads, faults }: { readonly loads: readonly AffectedLoad[]; readonly faults: readonly Fault[] },
  loadsPerSpindleDay: number,
): number {
  const prng = prngOf('untold', label.kind, label.subject.id, label.from);
  const chance = { next: () => prng.next(), gaussian: () => prng.gaussian() };
  const odds = new Float64Array(faults.length);
  let alarms = 0;
  for (let nth = 0; nth < COUNTED_LOADS; nth += 1) {
    const one = loads[nth % loads.length];
    if (one === undefined) break;
    const seen = draw({ load: one.load, turning: one.without }, chance);
    if (takeLoad(odds, faults, { one, share: courseOf(label, one) }, seen) < COUNTED_AT) continue;
    alarms += 1;
    odds.fill(0);
  }
  const between = COUNTED_LOADS / Math.max(1, alarms);
  return (COUNTED_AT * (loadsPerSpindleDay * SPINDLE_DAYS_PER_FALSE)) / between;
}

/** How much of its whole size has come with this load. */
function courseOf({ loads, rampLoads }: LongLabel, one: AffectedLoad): number {
  return rampLoads === 0 ? 1 : Math.min(1, (loads.indexOf(one) + 1) / rampLoads);
}

const squareOf = (x: number, y: number): number => x * x + y * y;

function faultsOf(label: LongLabel, loads: readonly AffectedLoad[]): readonly Fault[] {
  const [first] = loads;
  if (first === undefined) return [];
  const [from, to] = label.floorFactor === undefined ? FAULT_FACTOR : BEARING_FACTOR;
  const sizes = Array.from({ length: SIZES }, (_, nth) => from * (to / from) ** ((nth + 0.5) / SIZES));
  // What no key keeps, and no tacho tells, is at any angle whatever the fault's is.
  const angles = first.load.keyed || first.load.tacho ? ANGLES : 1;
  return sizes.flatMap((size) =>
    Array.from({ length: angles }, (_, nth) =>
      faultOf(label, first, { size, angle: (2 * Math.PI * (nth + 0.5)) / angles }),
    ),
  );
}

interface Size {
  readonly size: number;
  readonly angle: number;
}

function faultOf({ kind }: LongLabel, { load, without: usual }: AffectedLoad, { size, angle }: Size): Fault {
  /** By what the square of the 1× grows, (g·mm)²; whatever the angle between what turns. */
  const more = (size * size - 1) * expectedSquare(usual, false);
  const residual2 = squareOf(usual.residualX, usual.residualY);
  const own2 = squareOf(usual.ownX, usual.ownY);
  switch (kind) {
    case 'cutter-changed-untold':
    case 'insert-lost': {
      const to = turned(Math.sqrt(residual2 + more), angle);
      return ({ without }) => ({ ...without, residualX: to.x, residualY: to.y });
    }
    case 'chip-under-taper':
      return ({ without }) => ({ ...without, strayGmm: Math.sqrt(more) });
    case 'drawbar-falling': {
      // The same micrometres more, whatever the mass.
      const times2 = more / usual.clampingGmm ** 2;
      return ({ without }, share) => ({ ...without, clampingGmm: without.clampingGmm * Math.sqrt(1 + share * times2) });
    }
    case 'own-unbalance-step':
    case 'own-unbalance-ramp': {
      const to = turned(Math.sqrt(own2 + more), angle);
      return ({ without }, share) => ({
        ...without,
        ownX: without.ownX + share * (to.x - without.ownX),
        ownY: without.ownY + share * (to.y - without.ownY),
      });
    }
    case 'outer-race-growing':
    case 'inner-race-growing':
      return ({ without }, share) => ({ ...without, logFloor: without.logFloor + share * Math.log(size) });
    case 'bench-scale-drifting': {
      const times = Math.sqrt(1 + more / residual2);
      return ({ without }) => ({
        ...without,
        residualX: without.residualX * times,
        residualY: without.residualY * times,
      });
    }
    case 'sensor-loose':
    case 'sensor-clipped':
    case 'sensor-dead':
    case 'sensors-swapped':
      throw new Error(`loads show nothing of ${kind} at ${load.spindleId}`);
  }
}

const turned = (gmm: number, angle: number): { readonly x: number; readonly y: number } => ({
  x: gmm * Math.cos(angle),
  y: gmm * Math.sin(angle),
});
