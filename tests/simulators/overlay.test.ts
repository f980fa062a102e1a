// A spindle that is borrowed gives way, is empty in between, and goes back to its work, whatever overlaps.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { withBorrow } from '../../simulators/overlay.ts';
import { makePlant } from '../../simulators/plant.ts';
import { planShift, type LoadPlan } from '../../simulators/shift.ts';
import { SHIFT_MS, shiftOf } from '../../simulators/tool-room.ts';

const plant = makePlant(1);
const SHIFT = shiftOf(Date.UTC(2026, 10, 24, 12));
const loads = planShift(plant, SHIFT)[0] ?? [];

function borrowed(from: number, lastsMs: number): readonly LoadPlan[] {
  const [first] = loads;
  if (first === undefined) throw new Error('the first spindle has a load');
  const inserted = { ...first, loadAt: from + 1000, unloadAt: from + lastsMs - 1000 };
  const to = from + lastsMs;
  return withBorrow(loads, { spindleId: first.spindle.declared.spindleId, from, to, loads: [inserted] });
}

function expectOneAfterAnother(result: readonly LoadPlan[]): void {
  for (const [nth, load] of result.entries()) {
    expect(load.unloadAt).toBeGreaterThan(load.loadAt);
    expect(load.loadAt).toBeGreaterThanOrEqual(result[nth - 1]?.unloadAt ?? -Infinity);
  }
}

test('whenever it is borrowed, one load follows another', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: SHIFT_MS }),
      fc.integer({ min: 10_000, max: 7_200_000 }),
      (after, lastsMs) => {
        expectOneAfterAnother(borrowed(SHIFT * SHIFT_MS + after, lastsMs));
      },
    ),
  );
});

test('a load that is interrupted comes back in another seat', () => {
  const [, interrupted] = loads;
  if (interrupted === undefined) throw new Error('the first spindle has two loads');
  const from = interrupted.loadAt + 300_000;
  const result = borrowed(from, 60_000);
  const [first, again] = result.filter(
    (load) => load.assembly === interrupted.assembly && load.buildId === interrupted.buildId,
  );
  expect(first).toBeDefined();
  expect(again).toBeDefined();
  const seats = result.filter(
    (load) => load.programmedSpeedRpm === interrupted.programmedSpeedRpm && load.loadAt >= from,
  );
  expect(seats.some((load) => load.offsetUm.x === -interrupted.offsetUm.y)).toBe(true);
});

test('a load that is over before, or begins after, is left alone', () => {
  const last = loads.at(-1);
  if (last === undefined) throw new Error('the first spindle has loads');
  const result = borrowed(last.unloadAt + 1000, 60_000);
  expect(result.slice(0, loads.length)).toEqual(loads);
});
