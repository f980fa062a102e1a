// Looking ahead: daily levels, what is put on record of a limit that comes near, when it is taken back, and when nothing is said.
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { copyOfFloor, decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { draws, normal } from '../../shared/statistics/invented-courses.ts';
import { MIDNIGHT } from './story-data.ts';

type Told = Extract<Outcome, { kind: 'limit-ahead' }>;

const LIMIT = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'invented maker' };
const HOURS = [6, 7, 8, 9, 10, 11, 12, 13];
const READINGS_AN_HOUR = 6;

interface Played {
  readonly floor: Floor;
  readonly told: readonly Told[];
  readonly steps: readonly (readonly [Entry, readonly Outcome[]])[];
}

/** Some readings an hour on each day, the level of the day with a little noise. */
function played(
  levels: readonly number[],
  declared: object = { limits: [LIMIT] },
  later?: { readonly day: number; readonly declared: object },
): Played {
  const floor = emptyFloor('test');
  const told: Told[] = [];
  const steps: [Entry, readonly Outcome[]][] = [];
  const draw = draws(5);
  let position = 0;
  const take = (entry: Omit<Entry, 'position'>): void => {
    const whole = { ...entry, position: (position += 1) } as Entry;
    const outcomes = decide(floor, whole);
    steps.push([whole, outcomes]);
    for (const outcome of outcomes) if (outcome.kind === 'limit-ahead') told.push(outcome);
    evolve(floor, whole, outcomes);
  };
  const actor = { name: 'Ada-Invented', roles: ['engineer' as const] };
  const declare = (at: number, more: object): void => {
    const data = { spindleId: 'S-1', machine: 'm', cell: 'c', limits: [], ...more } as never;
    take({ kind: 'spindle-declared', at, id: `d${at}`, actor, data } as Omit<Entry, 'position'>);
  };
  declare(MIDNIGHT, declared);
  levels.forEach((level, day) => {
    if (day === later?.day) declare(MIDNIGHT + day * MILLISECONDS_A_DAY, later.declared);
    for (const hour of HOURS)
      for (let nth = 0; nth < READINGS_AN_HOUR; nth += 1) {
        const at = MIDNIGHT + day * MILLISECONDS_A_DAY + hour * MILLISECONDS_AN_HOUR + nth * 600_000;
        const reading = { spindleId: 'S-1', speedRpm: 18_000, overallMmS: level * (1 + 0.02 * normal(draw)) };
        take({ kind: 'summary', at, id: `r${position}`, device: 'sensor-1', data: reading } as Omit<Entry, 'position'>);
      }
  });
  return { floor, told, steps };
}

const rising = (days: number, from: number, perDay: number): number[] =>
  Array.from({ length: days }, (_, day) => from + perDay * day);
const trackOf = ({ floor }: Played) => [...(floor.spindles.get('S-1')?.live.bins.values() ?? [])][0]?.daily?.overall;
const dayOf = (at: number | undefined): number => ((at ?? Number.NaN) - MIDNIGHT) / MILLISECONDS_A_DAY;

test('a day is the median of its hours, of which a knock moves one at most', () => {
  const quiet = played([1, 1, 1]);
  expect(trackOf(quiet)?.days).toHaveLength(2);
  expect(trackOf(quiet)?.levelsMmS[1]).toBeCloseTo(1, 2);
});

test('a level that rises to its limit: said within 30 days of it, with the days around it, and once unless it moves', () => {
  const { told } = played(rising(55, 1, 0.03));
  const [first] = told;
  // 1 + 0.03·60 is 2.8: the sixtieth day.
  expect(dayOf(first?.ahead.p50At)).toBeGreaterThan(54);
  expect(dayOf(first?.ahead.p50At)).toBeLessThan(66);
  expect(dayOf(first?.ahead.at)).toBeGreaterThan(20);
  expect(first?.ahead).toMatchObject({
    quantity: 'overall',
    limitMmS: 2.8,
    source: 'invented maker; entered by Ada-Invented',
  });
  expect(first?.ahead.p10At).toBeLessThan(first?.ahead.p50At ?? 0);
  expect(told.length).toBeLessThan(8);
});

test('a level that stays says nothing, and neither does one without a limit', () => {
  expect(played(rising(40, 1, 0)).told).toEqual([]);
  expect(played(rising(40, 1, 0.03), {}).told).toEqual([]);
});

test('without a limit the boundary of zones next above counts', () => {
  const zones = { abMmS: 1.4, bcMmS: 2.2, cdMmS: 4.5, source: 'invented table', generic: true };
  expect(played(rising(30, 1, 0.03), { zones }).told[0]?.ahead.limitMmS).toBe(2.2);
});

test('what was said is taken back once the level does not rise any more', () => {
  const { told } = played([...rising(45, 1, 0.03), ...Array.from({ length: 30 }, () => 1.2)]);
  expect(told[0]?.ahead.p50At).toBeDefined();
  expect(told.at(-1)?.ahead.p50At).toBeUndefined();
});

test('what was said of a limit that is taken away is taken back at once; of one that was reached it stays', () => {
  const away = played(rising(45, 1, 0.03), undefined, { day: 40, declared: {} }).told.at(-1);
  expect(dayOf(away?.ahead.at)).toBeLessThan(42);
  expect(away?.ahead).toMatchObject({ limitMmS: 2.8 });
  expect(away?.ahead.p50At).toBeUndefined();
  expect(played(rising(70, 1, 0.03)).told.at(-1)?.ahead.p50At).toBeDefined();
});

test('the fold of what was recorded is the floor that decided it, a copy half-way through as well', () => {
  const { floor, steps } = played(rising(40, 1, 0.04));
  let again = emptyFloor('test');
  steps.forEach(([entry, outcomes], index) => {
    if (index === Math.floor(steps.length / 2)) again = structuredClone(copyOfFloor(again));
    evolve(again, entry, outcomes);
  });
  expect(again).toEqual(floor);
});
