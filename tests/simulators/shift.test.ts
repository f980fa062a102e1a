// One planned shift: no assembly in two spindles, none above its speeds, nothing clamped across the end.
import { describe, expect, test } from 'vitest';
import { isCutting, isRunning, planShift, runsFrom, runsUntil } from '../../simulators/shift.ts';
import { makePlant } from '../../simulators/plant.ts';
import { SHIFT_MS, shiftOf } from '../../simulators/tool-room.ts';

const plant = makePlant(1);
const FIRST = shiftOf(Date.UTC(2026, 10, 1));

describe.each([0, 1, 2, 50, 89])('shift %i of the month', (nth) => {
  const shift = FIRST + nth;
  const plan = planShift(plant, shift);

  test('is the same when planned again', () => {
    expect(planShift(plant, shift)).toEqual(plan);
  });

  test('keeps within itself, and gives every spindle work', () => {
    for (const loads of plan) {
      expect(loads.length).toBeGreaterThan(4);
      expect(loads[0]?.loadAt).toBeGreaterThan(shift * SHIFT_MS);
      expect(loads.at(-1)?.unloadAt).toBeLessThan((shift + 1) * SHIFT_MS);
      for (const [place, load] of loads.entries()) {
        expect(load.loadAt).toBeGreaterThan(loads[place - 1]?.unloadAt ?? 0);
      }
    }
  });

  test('deals each assembly to one spindle, of its own interface', () => {
    const home = new Map<string, string>();
    for (const load of plan.flat()) {
      const { spindleId } = load.spindle.declared;
      expect(home.get(load.assembly.assemblyId) ?? spindleId).toBe(spindleId);
      home.set(load.assembly.assemblyId, spindleId);
      expect(load.assembly.interface).toBe(load.spindle.interface);
      expect(load.assembly.scene).toBe('shelf');
    }
  });

  test('programs no speed above the assembly’s service speed or the spindle’s maximum', () => {
    for (const load of plan.flat()) {
      expect(load.programmedSpeedRpm).toBeLessThanOrEqual(load.assembly.serviceSpeedRpm);
      expect(load.programmedSpeedRpm).toBeLessThanOrEqual(load.spindle.maxSpeedRpm);
    }
  });

  test('runs in the air first, then cuts, and stands before and after', () => {
    for (const load of plan.flat()) {
      expect([runsFrom(load) - 1, runsFrom(load), runsUntil(load)].map((at) => isRunning(load, at))).toEqual([
        false,
        true,
        false,
      ]);
      expect(isCutting(load, runsFrom(load) + 1000)).toBe(false);
      expect(isCutting(load, runsFrom(load) + load.cycleMs - 1000)).toBe(true);
    }
  });
});
