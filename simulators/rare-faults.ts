// Faults that come now and then in a long live run, drawn from the seed per shift, each with its label.
import { MILLISECONDS_A_MINUTE } from '../shared/time.ts';
import type { Fault } from './faults.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { prngOf, type Prng } from './prng.ts';
import { planShift, type LoadPlan } from './shift.ts';
import { SHIFT_MS } from './tool-room.ts';

const PROBABILITY_A_SHIFT = 0.5;

export function rareFaultsIn(plant: Plant, shift: number): readonly Overlay[] {
  const prng = prngOf(plant.seed, 'rare fault', shift);
  if (!prng.chance(PROBABILITY_A_SHIFT)) return [];
  const load = prng.pick(planShift(plant, shift).flat());
  const fault = prng.pick([chip, insertLost, silence, bearing])(load, prng);
  return fault.from < (shift + 1) * SHIFT_MS ? [{ borrows: [], events: [], faults: [fault] }] : [];
}

/** A chip under the taper: this clamping only, 12 to 25 µm off the axis. */
function chip(load: LoadPlan, prng: Prng): Fault {
  return {
    kind: 'chip-under-taper',
    subject: spindleOf(load),
    from: load.loadAt,
    to: load.unloadAt,
    size: prng.between(12, 25),
    angleDeg: prng.between(0, 360),
  };
}

/** An insert or an edge breaks away in the cut; the assembly carries it until it is taken out. */
function insertLost(load: LoadPlan, prng: Prng): Fault {
  return {
    kind: 'insert-lost',
    subject: { kind: 'assembly', id: load.assembly.assemblyId },
    from: (load.loadAt + load.unloadAt) / 2,
    to: load.unloadAt,
    size: load.assembly.massKg * prng.between(8, 20),
    angleDeg: prng.between(0, 360),
  };
}

function silence(load: LoadPlan, prng: Prng): Fault {
  const from = load.loadAt + prng.between(2, 15) * MILLISECONDS_A_MINUTE;
  return {
    kind: 'sensor-silent',
    subject: spindleOf(load),
    from,
    to: from + prng.between(2, 6) * MILLISECONDS_A_MINUTE,
  };
}

function bearing(load: LoadPlan, prng: Prng): Fault {
  return {
    kind: 'bearing-defect-growing',
    subject: spindleOf(load),
    from: load.loadAt,
    to: load.unloadAt,
    size: prng.between(1.5, 4),
    growsMs: load.unloadAt - load.loadAt,
  };
}

function spindleOf(load: LoadPlan): Fault['subject'] {
  return { kind: 'spindle', id: load.spindle.declared.spindleId };
}
