// Looking ahead as a spindle's page and the API tell it: in words for each course that a level can take.
import { expect, test } from 'vitest';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import { aheadViews } from '../../../services/holds/views/ahead-view.ts';
import { emptyFloor, evolve, type SpeedBin, type SpindleState } from '../../../services/rules/index.ts';
import { draws, normal } from '../../shared/statistics/invented-courses.ts';

const FIRST_DAY = 20_000;

/** As its declaration makes it. */
function declared(limits: readonly object[]): SpindleState {
  const actor = { name: 'Ada-Invented', roles: ['engineer' as const] };
  const data = { spindleId: 'S-1', machine: 'm', cell: 'c', limits } as never;
  const floor = evolve(emptyFloor('test'), { kind: 'spindle-declared', position: 1, at: 0, id: 'd', actor, data }, []);
  const spindle = floor.spindles.get('S-1');
  if (spindle === undefined) throw new Error('expected a spindle');
  return spindle;
}

function spindleWith(levels: readonly number[], limitMmS?: number): SpindleState {
  const draw = draws(3);
  const levelsMmS = levels.map((level) => level * (1 + 0.01 * normal(draw)));
  const empty = { hourSum: 0, hourReadings: 0, hours: [], told: undefined };
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
      overall: { ...empty, days: levels.map((_, day) => FIRST_DAY + day), levelsMmS },
      synchronous: { ...empty, days: [], levelsMmS: [] },
    },
  };
  const limit = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS, source: 'invented' };
  const spindle = declared(limitMmS === undefined ? [] : [limit]);
  spindle.live.bins.set(bin.bin, bin);
  return spindle;
}

const rising = (days: number, perDay: number): number[] => Array.from({ length: days }, (_, day) => 1 + perDay * day);
const viewOf = (levels: readonly number[], limitMmS?: number) => aheadViews(spindleWith(levels, limitMmS))?.[0];

test('before a day has ended nothing is shown; with a few days only how many there are', () => {
  expect(aheadViews(declared([]))).toBeUndefined();
  expect(viewOf([1, 1.1])?.words).toBe('2 days of levels: whether they rise is told from 8 days on.');
});

test('a level that rises: by how much a week, and between which days it reaches the limit', () => {
  const view = viewOf(rising(40, 0.02), 2.8);
  expect(view?.trend).toBe('rising');
  expect(view?.slope?.perWeekMmS).toBeCloseTo(0.14, 2);
  expect(view?.limit).toEqual({ kind: 'limit', mmS: 2.8, source: 'invented; entered by Ada-Invented' });
  // 1 + 0.02·90 is 2.8, on the ninetieth day.
  expect(Math.abs((view?.p50At ?? 0) / MILLISECONDS_A_DAY - FIRST_DAY - 90)).toBeLessThan(8);
  expect(view?.p10At).toBeLessThan(view?.p50At ?? 0);
  expect(view?.words).toMatch(
    /^Its overall vibration rises by 0\.1\d+ mm\/s a week \(90 %: 0\.1\d+ to 0\.1\d+\)\. If it goes on as it does, it reaches the limit of 2\.8 mm\/s about 20\d\d-\d\d-\d\d, with 80 % between/,
  );
});

test.each([
  ['no limit', rising(40, 0.02), undefined, 'There is no limit ahead of it at this speed that it could reach.'],
  ['a limit far off', rising(40, 0.001), 60, 'not within a year with even chance'],
  ['a level that stays', rising(40, 0), 2.8, 'No trend: over 40 days'],
  ['a level that falls', rising(40, -0.01), 2.8, 'Its overall vibration falls by 0.07'],
] as const)('%s says no day', (_name, levels, limitMmS, words) => {
  const view = viewOf(levels, limitMmS);
  expect(view?.words).toContain(words);
  expect(view?.p50At).toBeUndefined();
});

test('a break is dated, and the trend is of the days since', () => {
  const view = viewOf([...rising(30, 0), ...rising(20, 0.02).map((level) => level + 1)], 4);
  expect(view?.breaks).toHaveLength(1);
  expect(view?.words).toContain('Its course broke about 2024-11-03');
  expect(view?.slope?.days).toBe(20);
});
