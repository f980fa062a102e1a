// Trials of what grows in a spindle or breaks in an assembly: over its limit, or below every limit.
import type { LimitQuantity } from '../../shared/acts.ts';
import { MILLISECONDS_AN_HOUR } from '../../shared/time.ts';
import type { Fault } from '../faults.ts';
import { amountOf, unbalanceForGmm } from '../physics.ts';
import { actualSpeedRpm, runsFrom, type LoadPlan } from '../shift.ts';
import type { SimulatedSpindle } from '../spindles.ts';
import { overLimitSince, worstShare } from './levels.ts';
import type { Scenario } from './scenario.ts';
import { hoursIn, loadsOf, onlyFaults, type Stage } from './stage.ts';

/** So far over the limit at the spindle's usual speed, once fully grown. */
const OVER = [1.25, 3] as const;
/** Below: no comparable reading comes nearer to a limit than this. */
const BELOW = 0.8;

interface Place {
  readonly spindle: SimulatedSpindle;
  readonly loads: readonly LoadPlan[];
  /** Half of its loads turn no faster. */
  readonly usualRpm: number;
}

function placeIn(stage: Stage): Place {
  const spindle = stage.prng.pick(stage.plant.spindles);
  const loads = loadsOf(stage, spindle);
  const speeds = loads.map((load) => actualSpeedRpm(load, runsFrom(load))).toSorted((a, b) => a - b);
  return { spindle, loads, usualRpm: speeds[Math.floor(speeds.length / 2)] ?? spindle.maxSpeedRpm };
}

function limitAt({ spindle, usualRpm }: Place, quantity: LimitQuantity): number {
  const limits = spindle.declared.limits.filter(
    (one) => one.quantity === quantity && usualRpm >= one.fromSpeedRpm && usualRpm <= one.toSpeedRpm,
  );
  return Math.max(...limits.map((one) => one.limitMmS));
}

function growing(
  stage: Stage,
  { spindle }: Place,
  more: Pick<Fault, 'kind'> & Partial<Pick<Fault, 'size' | 'angleDeg'>>,
): Fault {
  const growsMs = Math.round(stage.prng.between(0.5, 8) * MILLISECONDS_AN_HOUR);
  const subject = { kind: 'spindle', id: spindle.declared.spindleId } as const;
  return { subject, from: hoursIn(stage, 1, 6), to: stage.until, growsMs, ...more };
}

function labelled(stage: Stage, { spindle, loads }: Place, fault: Fault, quantity: LimitQuantity): Scenario {
  const { plant, until } = stage;
  const tellableFrom = overLimitSince({ plant, spindle, loads, faults: [fault] }, quantity, until);
  return { plant, overlay: onlyFaults(fault), labels: [{ ...fault, tellableFrom }] };
}

/** The spindle's own unbalance grows until its 1× velocity is over the limit, at whatever angle to what is there. */
export function unbalanceOverLimit(stage: Stage): Scenario {
  const { prng } = stage;
  const place = placeIn(stage);
  const target = prng.between(...OVER) * limitAt(place, 'synchronous');
  const size = unbalanceForGmm(place.spindle.mode, target, place.usualRpm);
  const fault = growing(stage, place, { kind: 'spindle-unbalance-growing', size, angleDeg: prng.between(0, 360) });
  return labelled(stage, place, fault, 'synchronous');
}

/** To 1.4 or 2 times what the spindle had of its own, and no limit is reached. */
export function unbalanceBelowLimit(stage: Stage): Scenario {
  const { prng } = stage;
  const place = placeIn(stage);
  const size = prng.pick([0.4, 1]) * amountOf(place.spindle.ownGmm);
  const fault = growing(stage, place, { kind: 'spindle-unbalance-growing', size, angleDeg: prng.between(0, 360) });
  return labelled(stage, place, keptBelow(stage, place, fault), 'synchronous');
}

/** A bearing's damage spreads until the overall velocity is over the limit. */
export function bearingOverLimit(stage: Stage): Scenario {
  const { prng } = stage;
  const place = placeIn(stage);
  const target = prng.between(...OVER) * limitAt(place, 'overall');
  const floor = place.spindle.bearing.floorMmS * (0.5 + place.usualRpm / 20_000);
  // What the spread of the damage adds grows with its square; the simulated bearing's own law, solved by trying.
  let size = 0;
  while (floor * (1 + 0.5 * size + 0.4 * Math.max(0, size - 5) ** 2) < target) size += 0.05;
  return labelled(stage, place, growing(stage, place, { kind: 'bearing-defect-growing', size }), 'overall');
}

export function bearingBelowLimit(stage: Stage): Scenario {
  const place = placeIn(stage);
  const fault = growing(stage, place, { kind: 'bearing-defect-growing', size: stage.prng.between(1.5, 4) });
  return labelled(stage, place, keptBelow(stage, place, fault), 'overall');
}

function keptBelow({ plant }: Stage, { spindle, loads }: Place, fault: Fault): Fault {
  let kept = fault;
  while ((kept.size ?? 0) > 0.01 && worstShare({ plant, spindle, loads, faults: [kept] }) > BELOW) {
    kept = { ...kept, size: (kept.size ?? 0) * 0.8 };
  }
  return kept;
}

/** An edge breaks away in the cut, a chip under the taper, a drawbar that lets go, a cutter that somebody changed untold. */
export function breaking(
  stage: Stage,
  kind: 'insert-lost' | 'chip-under-taper' | 'drawbar-falling' | 'cutter-changed-untold',
): Scenario {
  const { prng, until } = stage;
  const place = placeIn(stage);
  const { spindle, loads } = place;
  const from = hoursIn(stage, 1, 12);
  const load = loads.find((one) => one.loadAt >= from);
  if (load === undefined) throw new Error('a spindle clamps something every hour or so');
  const { assembly, loadAt, unloadAt } = load;
  const ofSpindle = { kind: 'spindle', id: spindle.declared.spindleId } as const;
  const ofAssembly = { kind: 'assembly', id: assembly.assemblyId } as const;
  const angleDeg = prng.between(0, 360);
  const faults = {
    'insert-lost': () => {
      const size = assembly.massKg * prng.between(4, 20);
      return { kind, subject: ofAssembly, from: Math.round((loadAt + unloadAt) / 2), to: unloadAt, size, angleDeg };
    },
    'cutter-changed-untold': () => {
      const size = assembly.massKg * prng.between(2, 15);
      return { kind, subject: ofAssembly, from: loadAt, to: until, size, angleDeg };
    },
    'chip-under-taper': () => {
      return { kind, subject: ofSpindle, from: loadAt, to: unloadAt, size: prng.between(5, 25), angleDeg };
    },
    'drawbar-falling': () => growing(stage, place, { kind, size: prng.between(1, 5) }),
  };
  return labelled(stage, place, faults[kind](), 'synchronous');
}
