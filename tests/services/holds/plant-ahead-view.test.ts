// What reaches its limit when, over all spindles: the most pressing first, the others counted by why no day is said of them.
import { expect, test } from 'vitest';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import { PlantAheadView } from '../../../shared/ahead-plant.ts';
import { backTestOf } from '../../../services/holds/views/ahead-back-test.ts';
import { plantAheadView } from '../../../services/holds/views/plant-ahead-view.ts';
import { emptyFloor, evolve, type Floor, type SpeedBin } from '../../../services/rules/index.ts';
import { draws, normal } from '../../shared/statistics/invented-courses.ts';

const FIRST_DAY = 20_000;
const ACTOR = { name: 'Ada-Invented', roles: ['engineer' as const] };

interface Invented {
  readonly levels: readonly number[];
  readonly limitMmS?: number;
  readonly cell?: string;
}

function floorOf(spindles: readonly Invented[]): Floor {
  const floor = emptyFloor('test');
  const draw = draws(3);
  spindles.forEach(({ levels, limitMmS, cell = 'North' }, nth) => {
    const spindleId = `S-${nth + 1}`;
    const limit = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS, source: 'invented' };
    const data = { spindleId, machine: 'm', cell, limits: limitMmS === undefined ? [] : [limit] } as never;
    evolve(floor, { kind: 'spindle-declared', position: nth + 1, at: 0, id: `d-${nth}`, actor: ACTOR, data }, []);
    const empty = { hourSum: 0, hourReadings: 0, hours: [], told: undefined };
    const days = levels.map((_, day) => FIRST_DAY + day);
    const levelsMmS = levels.map((level) => level * (1 + 0.01 * normal(draw)));
    const bin: SpeedBin = {
      bin: 19_000,
      foundedRpm: 18_000,
      centreRpm: 18_000,
      readings: 100,
      lastAt: 0,
      points: [],
      line: undefined,
      severity: undefined,
      daily: {
        hour: 0,
        overall: { ...empty, days, levelsMmS },
        synchronous: { ...empty, days: [], levelsMmS: [] },
      },
    };
    if (levels.length > 0) floor.spindles.get(spindleId)?.live.bins.set(bin.bin, bin);
  });
  return floor;
}

const rising = (days: number, perDay: number): number[] => Array.from({ length: days }, (_, day) => 1 + perDay * day);

test('the most pressing first, with its limit and who says so; the others by why no day is said', () => {
  const floor = floorOf([
    { levels: rising(40, 0.01), limitMmS: 2 },
    { levels: rising(40, 0.03), limitMmS: 2.8 },
    { levels: rising(5, 0.03), limitMmS: 2.8 },
    { levels: rising(40, 0), limitMmS: 2.8 },
    { levels: rising(40, -0.01), limitMmS: 2.8 },
    { levels: rising(40, 0.02) },
    { levels: rising(40, 0.001), limitMmS: 60 },
    { levels: [] },
  ]);
  const view = PlantAheadView.parse(plantAheadView(floor));
  expect(view.rows.map(({ spindleId }) => spindleId)).toEqual(['S-2', 'S-1']);
  expect(view.rows[0]?.limit).toEqual({ kind: 'limit', mmS: 2.8, source: 'invented; entered by Ada-Invented' });
  // 1 + 0.03·60 is 2.8, on the sixtieth day.
  expect(Math.abs((view.rows[0]?.p50At ?? 0) / MILLISECONDS_A_DAY - FIRST_DAY - 60)).toBeLessThan(5);
  expect(view.counts).toEqual({
    spindles: 8,
    courses: 7,
    spindlesWithoutDays: 1,
    tooFewDays: 1,
    noLimit: 1,
    noTrend: 2,
    notWithinAYear: 1,
  });
  expect(view.stillReadPercent).toBeUndefined();
});

test('one cell by itself; the cells are told all the same', () => {
  const floor = floorOf([
    { levels: rising(40, 0.03), limitMmS: 2.8 },
    { levels: rising(40, 0.03), limitMmS: 2.8, cell: 'East' },
  ]);
  const view = plantAheadView(floor, 'East');
  expect(view.rows.map(({ spindleId }) => spindleId)).toEqual(['S-2']);
  expect(view).toMatchObject({ cells: ['East', 'North'], counts: { spindles: 1 } });
});

test('many are reckoned a part at a time, until all are there; nothing is reckoned twice', () => {
  const floor = floorOf(Array.from({ length: 30 }, () => ({ levels: rising(40, 0.03), limitMmS: 2.8 })));
  const first = plantAheadView(floor);
  expect(first.rows).toHaveLength(12);
  expect(first.stillReadPercent).toBe(40);
  expect(plantAheadView(floor).rows).toHaveLength(24);
  const whole = plantAheadView(floor);
  expect(whole.rows).toHaveLength(30);
  expect(whole.stillReadPercent).toBeUndefined();
  expect(plantAheadView(floor)).toEqual(whole);
});

test('put back by two weeks: a straight course foretold the level of today, one that began since did not', () => {
  const days = Array.from({ length: 40 }, (_, day) => FIRST_DAY + day);
  const draw = draws(7);
  const noisy = (levels: readonly number[]): number[] => levels.map((level) => level * (1 + 0.01 * normal(draw)));
  const straight = backTestOf({ days, levelsMmS: noisy(rising(40, 0.03)) });
  expect(straight).toMatchObject({ did: 'within', from: (FIRST_DAY + 25.5) * MILLISECONDS_A_DAY });
  const late = days.map((_, day) => (day < 28 ? 1 : 1 + 0.1 * (day - 27)));
  expect(backTestOf({ days, levelsMmS: noisy(late) })?.did).toBe('nothing-foretold');
  expect(backTestOf({ days, levelsMmS: days.map(() => 1) })).toBeUndefined();
  expect(backTestOf({ days: days.slice(0, 20), levelsMmS: rising(20, 0.03) })).toBeUndefined();
});
