// Speeds on one axis: what is shown of a spindle, how far the axis goes, and what is beyond it.
import { expect, test } from 'vitest';
import { axisEndRpm, placesOf, speedsOf } from '../../../dashboard/headroom/speed-axis.ts';

const program = { cutHours: 1, reducedHours: 0, awayHours: 0 };

test('the program that was cut longest is shown, and the lower of the makers’ limits', () => {
  const programs = [
    { ...program, assemblyId: 'A-1', programmedRpm: 10_000, actualRpm: 8000, markedRpm: 18_000, maximumRpm: 15_000 },
    { ...program, assemblyId: 'A-2', programmedRpm: 5000, actualRpm: 5000 },
  ];
  const speeds = speedsOf({ programs, now: { programmedRpm: 4000 } });
  expect(speeds).toEqual({ assemblyId: 'A-1', programmedRpm: 10_000, actualRpm: 8000, makersRpm: 15_000 });
});

test('where nothing was cut it is as things stand; standing still is no speed', () => {
  expect(speedsOf({ programs: [], now: { programmedRpm: 0, actualRpm: 0, maximumRpm: 12_000 } })).toEqual({
    makersRpm: 12_000,
  });
});

test('the axis ends at a round speed; a balance that is shown far beyond is an arrow, and presses nothing together', () => {
  const speeds = { programmedRpm: 9000, makersRpm: 12_000, balanceUpToRpm: 90_000 };
  const end = axisEndRpm([speeds]);
  expect(end).toBe(20_000);
  expect(placesOf(speeds, end)).toEqual({ programmed: 0.45, makers: 0.6, balance: 1, beyond: true });
  expect(axisEndRpm([])).toBe(5000);
});
