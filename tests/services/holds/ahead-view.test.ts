// Looking ahead as a spindle's page and the API tell it: in words for each course that a level can take.
import { expect, test } from 'vitest';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import { aheadSentence, aheadViews } from '../../../services/holds/views/ahead-view.ts';
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

test('what stands on record makes a sentence, as long as that speed was run of late; what was taken back makes none', () => {
  const spindle = spindleWith(rising(40, 0.02), 2.8);
  const [bin] = spindle.live.bins.values();
  const floor = { ...emptyFloor('test'), at: MILLISECONDS_A_DAY };
  expect(aheadSentence(floor, spindle)).toBeUndefined();
  const told = {
    at: 0,
    speedBin: 19_000,
    speedRpm: 18_004,
    quantity: 'overall',
    levelMmS: 2,
    limitMmS: 2.8,
    source: '',
    p10At: Date.UTC(2031, 1, 20),
    p50At: Date.UTC(2031, 2, 4),
    p90At: Date.UTC(2031, 3, 1),
  } as const;
  if (bin?.daily !== undefined) bin.daily.overall.told = told;
  expect(aheadSentence(floor, spindle)).toBe(
    'at about 18,000 rpm, if its overall vibration goes on as it does, it reaches 2.8 mm/s about 2031-03-04, with 80 % between 2031-02-20 and 2031-04-01',
  );
  expect(aheadViews(spindle)?.[0]?.told?.p50At).toBe(told.p50At);
  expect(aheadSentence({ ...floor, at: 8 * MILLISECONDS_A_DAY }, spindle)).toBeUndefined();
  const run = { ...floor, at: told.p50At + 8 * MILLISECONDS_A_DAY };
  if (bin !== undefined) bin.lastAt = run.at;
  expect(aheadSentence(run, spindle)).toBeUndefined();
  if (bin?.daily !== undefined) bin.daily.overall.told = { ...told, p50At: undefined } as never;
  expect(aheadSentence(floor, spindle)).toBeUndefined();
  expect(aheadViews(spindle)?.[0]?.told).toBeUndefined();
});
