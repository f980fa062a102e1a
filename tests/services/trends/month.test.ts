// A plant's month counted by hand: a story of a few days, and what the month says of it.
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';

import { Trends } from '../../../services/trends/index.ts';
import { MonthTables, MONTHS_SCHEMA } from '../../../services/trends/month-tables.ts';
import type { StepKept } from '../../../services/trends/happenings.ts';
import { monthCounted, type HoldKept, type MonthRows } from '../../../services/trends/month-count.ts';
import { monthSpan } from '../../../shared/month-span.ts';
import { MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { makeFolder } from '../../environment/folder.ts';
import { play, type Played } from '../rules/play.ts';
import { newJournal } from './plant.ts';

const MINUTE = MILLISECONDS_A_MINUTE;
const HOUR = MILLISECONDS_AN_HOUR;
/** The stories begin on 24 November. */
const NOVEMBER = monthSpan('2026-11', 'UTC')!;
const DECEMBER = monthSpan('2026-12', 'UTC')!;
const DAY_1 = Date.UTC(2026, 10, 24);

function tablesOf(...stories: readonly Played[]): MonthTables {
  const database = new Database(':memory:');
  database.exec(MONTHS_SCHEMA);
  const tables = new MonthTables(database);
  for (const story of stories) tables.take(story);
  return tables;
}

const counted = (tables: MonthTables, span = NOVEMBER) => monthCounted(tables.rows(span.from, span.to), span);

const HELD = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000
    06:01 limit   S-2 overall 4.5 from 1000 to 24000
    06:05 build   A-1
    06:06 build   A-2
    06:10 result  A-1 0.5 g·mm
    06:11 result  A-2 0.5 g·mm
    06:30 load    A-1 in S-1 at 18000 rpm
    06:31 load    A-2 in S-2 at 18000 rpm
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s            => hold S-1 overall-over-limit
    07:20 take    S-1 as maintenance named Ben-Invented       => taken S-1 overall-over-limit
    07:30 release S-1 "bearing changed" as maintenance named Ben-Invented found bearing  => checked S-1 overall-over-limit
    07:35 build   A-5
    07:36 result  A-5 0.5 g·mm
    07:40 load    A-5 in S-1 at 18000 rpm
    07:45 reading S-1 overall 2 1x 1 ×9 every 40 s
    07:51 reading S-1 overall 2 1x 1                          => released S-1 overall-over-limit
    08:00 reading S-2 overall 5 1x 1 ×6 every 20 s            => hold S-2 overall-over-limit
    08:11 void    S-2 "sensor was touched"                    => void S-2 overall-over-limit
    11:00 build   A-3
    11:10 result  A-3 4 g·mm                                  => hold A-3 residual-exceeds
    11:30 deviate A-3 "last part of the lot"                  => taken A-3 residual-exceeds
    11:40 confirm A-3 as maintenance named Ben-Invented "roughing only"  => released A-3 residual-exceeds by deviation
    12:00 build   A-4
    12:10 result  A-4 4 g·mm                                  => hold A-4 residual-exceeds
`);

const S1_HELD = 49 * MINUTE + 40_000;

test('holds by reason, the times they took, deviations and voids with their names, and who was held most', () => {
  const { holds, deviations, voids, mostHeld } = counted(tablesOf(HELD));
  expect(holds).toMatchObject({ openBefore: 0, raised: 4, ended: 3, open: 1 });
  expect(holds.byReason).toEqual([
    { reason: 'residual-exceeds', raised: 2, ended: 1, open: 1 },
    { reason: 'overall-over-limit', raised: 2, ended: 2, open: 0 },
  ]);
  expect(holds.byCause).toEqual([{ cause: 'none', raised: 4, ended: 3, open: 1 }]);
  // S-1 is raised by its fifth reading, 07:01:20, and taken at 07:20; A-3: 11:10 to 11:30.
  const [s1Taken, a3Taken] = [18 * MINUTE + 40_000, 20 * MINUTE];
  expect(holds.toTake).toMatchObject({ of: 2, longestMs: a3Taken, medianMs: (s1Taken + a3Taken) / 2 });
  // S-1: 07:01:20 to 07:51; S-2: 08:01:20 to 08:11; A-3: 11:10 to 11:40.
  expect(holds.toEnd).toMatchObject({ of: 3, medianMs: 30 * MINUTE, longestMs: S1_HELD });
  expect(deviations.rows).toMatchObject([
    {
      by: 'Ben-Invented',
      askedBy: 'Ada-Invented',
      note: 'last part of the lot; roughing only',
      subject: { id: 'A-3' },
    },
  ]);
  expect(voids).toMatchObject({ of: 1, rows: [{ by: 'Ada-Invented', note: 'sensor was touched' }] });
  expect(mostHeld).toEqual({
    of: 2,
    rows: [
      { spindleId: 'S-1', holds: 1, heldMs: S1_HELD },
      { spindleId: 'S-2', holds: 1, heldMs: 9 * MINUTE + 40_000 },
    ],
  });
});

test('what people put on record of the holds that ended, and limits with who declared them', () => {
  const { truth, limits, knownFrom } = counted(tablesOf(HELD));
  expect(truth).toEqual({ of: 3, confirmed: 1, nothingFound: 0, inError: 1, unsaid: 1, named: { of: 0, right: 0 } });
  expect(limits.of).toBe(2);
  expect(limits.rows).toMatchObject([
    { what: 'limits', spindleId: 'S-1', by: 'Ada-Invented', before: 0, after: 2 },
    { what: 'limits', spindleId: 'S-2', before: 0, after: 1 },
  ]);
  expect(knownFrom).toBe(DAY_1 + 6 * HOUR);
});

test('the next month begins with what stands, and knows nothing else of this one', () => {
  const { holds, deviations, mostHeld, truth } = counted(tablesOf(HELD), DECEMBER);
  expect(holds).toMatchObject({ openBefore: 1, raised: 0, ended: 0, open: 1, toTake: { of: 0 }, toEnd: { of: 0 } });
  expect(deviations.of + mostHeld.of + truth.of).toBe(0);
  expect(counted(tablesOf(HELD), monthSpan('2026-10', 'UTC')).holds).toMatchObject({ raised: 0, open: 0 });
});

test('the same stretch read again after a stop changes nothing', () => {
  expect(counted(tablesOf(HELD, HELD))).toEqual(counted(tablesOf(HELD)));
});

const BALANCED = play(`
    06:00 build   A-1 screws at 20 mm
    06:01 build   A-2 screws at 20 mm
    06:02 build   A-3 screws at 20 mm
    06:10 result  A-1 4 g·mm                                  => hold A-1 residual-exceeds
    06:11 result  A-2 4 g·mm                                  => hold A-2 residual-exceeds
    06:12 result  A-3 4 g·mm                                  => hold A-3 residual-exceeds
    07:00 record  A-1 screw 90° 0.2 g
    07:01 record  A-1 screw 180° 0.2 g
    07:10 result  A-1 0.5 g·mm                                => released A-1 residual-exceeds
    07:20 record  A-2 screw 90° 0.2 g
    07:30 result  A-2 3 g·mm                                  => again A-2 residual-exceeds
    07:40 record  A-2 screw 180° 0.2 g
    07:50 result  A-2 0.5 g·mm                                => released A-2 residual-exceeds
    08:00 record  A-3 screw 90° 0.2 g
    09:00 proof   reads 12 expected 12 ± 2
    10:00 proof   reads 50 expected 12 ± 2                    => hold bench-1 bench-in-doubt
    10:05 proof   reads 50 expected 12 ± 2                    => again bench-1 bench-in-doubt
    11:00 proof   reads 12 expected 12 ± 2                    => released bench-1 bench-in-doubt
    12:00 test    T-1 half
    12:30 test    T-1
`);

test('assemblies corrected, how often at first try, and checks of benches; a test that was sent twice is one', () => {
  const { corrections, checks } = counted(tablesOf(BALANCED));
  // A-1 twice without a measurement between is one try, A-2 needed two, A-3 was not measured since.
  expect(corrections).toEqual({ assemblies: 3, tries: 4, first: { of: 3, within: 1, exceeds: 1, unknown: 1 } });
  expect(checks).toEqual([{ bench: 'bench-1', passed: 3, failed: 2 }]);
});

const SILENT = play(`
    06:00 birth   sensor-S-1 every 60 s
    06:01 reading S-1 overall 2 1x 1
    06:59 tick                                                => state S-1 silent
    08:59 reading S-1 overall 2 1x 1                          => state S-1 reporting
    day 7 22:00 reading S-1 overall 2 1x 1
    day 7 23:00 tick                                          => state S-1 silent
    day 8 02:00 reading S-1 overall 2 1x 1                    => state S-1 reporting
    day 8 03:00 limit   S-1 overall 4.5 from 1000 to 24000
    day 8 04:00 limit   S-1 overall 4.5 from 1000 to 24000
    day 8 05:00 limit   S-1 overall 5 from 1000 to 24000
    day 8 06:00 tune    readings 3
`);

test('silence up to the end of the month belongs to it, and what is after to the next one', () => {
  const tables = tablesOf(SILENT);
  expect(counted(tables).silent).toEqual({ of: 1, ms: 3 * HOUR, rows: [{ spindleId: 'S-1', times: 2, ms: 3 * HOUR }] });
  expect(counted(tables, DECEMBER).silent).toMatchObject({ of: 1, ms: 2 * HOUR });
});

test('a declaration that changes no limit is none of limits; rules stand beside them', () => {
  const { limits } = counted(tablesOf(SILENT), DECEMBER);
  expect(limits.rows.map(({ what, before, after, why }) => [what, before, after, why])).toEqual([
    ['limits', 0, 1, undefined],
    ['limits', 1, 1, undefined],
    ['rules', undefined, undefined, 'tried'],
  ]);
});

const NOTHING: MonthRows = {
  knownFrom: DAY_1,
  holds: [],
  states: [],
  ahead: [],
  checks: [],
  tries: [],
  limits: [],
  rules: [],
};
const november = (day: number): number => Date.UTC(2026, 10, day);

function told(spindleId: string, day: number, p50Day: number | undefined): MonthRows['ahead'][number] {
  const at = november(day);
  const limit = {
    speedBin: 1,
    speedRpm: 18_000,
    quantity: 'overall',
    levelMmS: 2,
    limitMmS: 2.8,
    source: 'maker',
  } as const;
  const ahead = { at, ...limit, ...(p50Day === undefined ? {} : { p50At: november(p50Day) }) };
  return { kind: 'ahead', position: day, at, spindleId, ahead };
}

function heldOn(spindleId: string, day: number, more: Partial<HoldKept> = {}): HoldKept {
  const [at, subject] = [november(day), { kind: 'spindle', id: spindleId } as const];
  const steps = [{ state: 'raised', at, by: 'sensor', cause: day } as const];
  return { holdId: `H-${day}-1`, subject, reason: 'overall-over-limit', raisedAt: at, steps, ...more };
}

test('forecasts whose day came: reached, moved, taken back, not reached; what is to come later is none of them', () => {
  const ahead = [
    told('S-1', -20, 10),
    told('S-2', 3, 12),
    told('S-2', 8, 40),
    told('S-3', 3, 14),
    told('S-3', 9, undefined),
    told('S-4', 3, 16),
    told('S-5', 3, 28),
    told('S-6', 3, 45),
  ];
  const { of, rows, ...counts } = monthCounted(
    { ...NOTHING, ahead, holds: [heldOn('S-1', 11)] },
    { from: november(1), to: november(20) },
  ).ahead;
  expect({ of, ...counts }).toEqual({ of: 4, reached: 1, moved: 1, takenBack: 1, notReached: 1 });
  expect(rows.map(({ spindleId, became }) => [spindleId, became])).toEqual([
    ['S-1', 'reached'],
    ['S-2', 'moved'],
    ['S-3', 'taken-back'],
    ['S-4', 'not-reached'],
  ]);
});

test('how right the rules were: causes that were named, of those where a person found one', () => {
  const ended = (day: number, named: HoldKept['named'], found: StepKept['found']): HoldKept => {
    const hold = heldOn('S-1', day, named === undefined ? {} : { named });
    const step = { state: 'released', at: november(day + 1), by: 'Ben', cause: day + 1 } as const;
    return { ...hold, steps: [...hold.steps, found === undefined ? step : { ...step, found }] };
  };
  const holds = [
    ended(2, 'bearing', 'bearing'),
    ended(4, 'clamping', 'drawbar'),
    ended(6, undefined, 'bearing'),
    ended(8, 'spindle', 'nothing'),
    ended(10, 'spindle', undefined),
  ];
  const { truth, holds: counts } = monthCounted({ ...NOTHING, holds }, NOVEMBER);
  expect(truth).toMatchObject({ of: 5, confirmed: 3, nothingFound: 1, unsaid: 1, named: { of: 2, right: 1 } });
  expect(counts.byCause.map(({ cause, raised }) => [cause, raised])).toEqual([
    ['spindle', 2],
    ['clamping', 1],
    ['bearing', 1],
    ['none', 1],
  ]);
});

test('a hold that went on as another is one: raised with the first, ended with the last, the time to an answer whole', () => {
  const first = heldOn('S-1', 2);
  const second = heldOn('A-1', 3, { named: 'clamping' });
  const movedTo = second.holdId;
  const on = { state: 'released', at: november(3), by: 'counterpoise', cause: 3, movedTo } as const;
  const taken = { state: 'taken', at: november(4), by: 'Ben', cause: 4 } as const;
  const ended = { state: 'released', at: november(6), by: 'Ben', cause: 6 } as const;
  const holds = [
    { ...first, steps: [...first.steps, on] },
    { ...second, steps: [...second.steps, taken, ended] },
  ];
  const counts = monthCounted({ ...NOTHING, holds }, NOVEMBER).holds;
  expect(counts).toMatchObject({ raised: 1, ended: 1, open: 0 });
  expect(counts.toTake).toMatchObject({ of: 1, longestMs: november(4) - first.raisedAt, longestHoldId: movedTo });
  expect(counts.toEnd).toMatchObject({ of: 1, longestMs: november(6) - first.raisedAt });
  // Before it went on it stood by itself.
  const before = { from: NOVEMBER.from, to: november(3) };
  expect(monthCounted({ ...NOTHING, holds: [holds[0]!] }, before).holds).toMatchObject({ raised: 1, open: 1 });
});

test('read from a journal, stopped and read on, it is the same month', async () => {
  const folder = makeFolder('months');
  const journal = await newJournal();
  const store = (entries: Played['entries']) =>
    journal.append(
      entries.map(({ position: _position, ...draft }) => ({ draft })),
      (kept) => HELD.outcomes.filter(({ cause }) => kept.some(({ position }) => position === cause)),
    );
  const half = Math.floor(HELD.entries.length / 2);
  const file = join(folder.path, 'trends.sqlite');
  await store(HELD.entries.slice(0, half));
  const first = await Trends.open(journal, file);
  await first.catchUp();
  expect(first.month(NOVEMBER).holds.raised).toBeLessThan(4);
  await first.close();
  await store(HELD.entries.slice(half));
  const second = await Trends.open(journal, file);
  await second.catchUp();
  expect(second.month(NOVEMBER)).toEqual(counted(tablesOf(HELD)));
  await second.close();
  await journal.close();
  folder.remove();
});
