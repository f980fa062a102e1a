// Labelled faults act on what they name, from when to when they say, and grow as they say.
import { describe, expect, test } from 'vitest';
import { conditionOf, FAULT_KINDS, isActive, scaleDriftOf, SOUND, type Fault } from '../../simulators/faults.ts';
import { makePlant } from '../../simulators/plant.ts';
import { rareFaultsIn } from '../../simulators/rare-faults.ts';
import { summaryAt, trueSynchronous } from '../../simulators/sensor.ts';
import { amountOf } from '../../simulators/physics.ts';
import { prngOf } from '../../simulators/prng.ts';
import { planShift, runsFrom, runsUntil } from '../../simulators/shift.ts';
import { residualOf } from '../../simulators/bench-jobs.ts';
import { shiftOf } from '../../simulators/tool-room.ts';

const plant = makePlant(1);
const SHIFT = shiftOf(Date.UTC(2026, 10, 24, 12));
const load = planShift(plant, SHIFT)[0]?.[0];
if (load === undefined) throw new Error('the first spindle has a load');
const { spindle } = load;
const spindleId = spindle.declared.spindleId;
const at = Math.round((runsFrom(load) + runsUntil(load)) / 2);
const residualGmm = residualOf(plant, load.assembly, load.buildId);

function fault(kind: Fault['kind'], more: Partial<Fault> = {}): Fault {
  return { kind, subject: { kind: 'spindle', id: spindleId }, from: at - 1000, to: at + 1000, ...more };
}

function conditionWith(...faults: readonly Fault[]): ReturnType<typeof conditionOf> {
  return conditionOf(faults, { spindleId, assemblyId: load?.assembly.assemblyId, at });
}

const sound = { spindle, load, residualGmm, at, condition: SOUND };

describe('a fault', () => {
  test('is active from its beginning, itself included, to its end, itself excluded', () => {
    const one = fault('sensor-silent');
    expect([one.from - 1, one.from, one.to - 1, one.to].map((time) => isActive(one, time))).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });

  test('touches no other spindle and no other assembly', () => {
    const elsewhere = fault('chip-under-taper', { subject: { kind: 'spindle', id: 'S-99' }, size: 20 });
    const other = fault('insert-lost', { subject: { kind: 'assembly', id: 'A-9999' }, size: 20 });
    expect(conditionWith(elsewhere, other)).toEqual(SOUND);
  });

  test('grows from nothing to its size and then stays', () => {
    const growing = fault('spindle-unbalance-growing', { from: at - 500, growsMs: 1000, size: 10, angleDeg: 0 });
    expect(conditionWith(growing).extraOwnGmm.x).toBeCloseTo(5, 12);
    expect(conditionWith({ ...growing, from: at - 5000 }).extraOwnGmm.x).toBeCloseTo(10, 12);
  });

  test('of two kinds at once adds up', () => {
    const both = conditionWith(
      fault('insert-lost', { subject: { kind: 'assembly', id: load.assembly.assemblyId }, size: 3, angleDeg: 0 }),
      fault('spindle-unbalance-growing', { size: 4, angleDeg: 90 }),
    );
    expect(amountOf(both.extraOwnGmm)).toBeCloseTo(5, 12);
  });
});

describe('what the sensor makes of it', () => {
  test('a chip of 20 µm under the taper is seen as mass × 20 g·mm more', () => {
    const before = trueSynchronous(sound);
    const after = trueSynchronous({ ...sound, condition: conditionWith(fault('chip-under-taper', { size: 20 })) });
    const same = trueSynchronous({
      ...sound,
      condition: conditionWith(fault('spindle-unbalance-growing', { size: 20 * load.assembly.massKg })),
    });
    expect(amountOf(after)).toBeCloseTo(amountOf(same), 12);
    expect(amountOf(after)).not.toBeCloseTo(amountOf(before), 2);
  });

  test('falling drawbar force spreads the seats', () => {
    const { scatter } = conditionWith(fault('drawbar-falling', { size: 2 }));
    expect(scatter).toBe(3);
  });

  test('a silent sensor says nothing, a flat or clipped one says so', () => {
    const said = (kind: Fault['kind']): unknown =>
      summaryAt({ ...sound, condition: conditionWith(fault(kind)) }, prngOf('sensor'))?.fault;
    expect(summaryAt({ ...sound, condition: conditionWith(fault('sensor-silent')) }, prngOf('sensor'))).toBeUndefined();
    expect([said('sensor-flat'), said('sensor-clipped')]).toEqual(['flat', 'clipped']);
  });

  test('a bearing defect raises the envelope and leaves the first order alone', () => {
    const condition = conditionWith(fault('bearing-defect-growing', { size: 3 }));
    const before = summaryAt(sound, prngOf('bearing'));
    const after = summaryAt({ ...sound, condition }, prngOf('bearing'));
    expect(after?.envelopeMS2 ?? 0).toBeGreaterThan(5 * (before?.envelopeMS2 ?? Infinity));
    expect(after?.synchronousMmS).toBe(before?.synchronousMmS);
  });

  test('a drifting bench is drifting for itself only', () => {
    const drift = fault('bench-scale-drifting', { subject: { kind: 'bench', id: 'bench-1' }, size: 0.1 });
    expect([scaleDriftOf([drift], 'bench-1', at), scaleDriftOf([drift], 'bench-2', at)]).toEqual([0.1, 0]);
  });
});

test('rare faults are rare, labelled, of known kinds, and the same for the same seed', () => {
  const shifts = Array.from({ length: 300 }, (_, nth) => SHIFT + nth);
  const faults = shifts.flatMap((shift) => rareFaultsIn(plant, shift).flatMap((overlay) => overlay.faults));
  expect(faults.length).toBeGreaterThan(100);
  expect(faults.length).toBeLessThan(200);
  for (const one of faults) {
    expect(FAULT_KINDS).toContain(one.kind);
    expect(one.to).toBeGreaterThan(one.from);
  }
  expect(new Set(faults.map((one) => one.kind)).size).toBe(4);
  expect(rareFaultsIn(plant, SHIFT)).toEqual(rareFaultsIn(plant, SHIFT));
});
