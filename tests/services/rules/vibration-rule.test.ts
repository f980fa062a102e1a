// Rule (e): over the limit in force, for long enough to mean it, on readings that can be judged.
import { expect, test } from 'vitest';
import { play } from './play.ts';

const LIMITS = '06:00 limit S-1 overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000';

test('a stay above the limit is a hold once five readings span a minute', () => {
  const { floor } = play(`
    ${LIMITS}
    07:00:00 reading S-1 overall 5.0 1x 1.0
    07:00:10 reading S-1 overall 5.1 1x 1.0
    07:00:20 reading S-1 overall 5.2 1x 1.0
    07:00:30 reading S-1 overall 5.0 1x 1.1
    07:00:40 reading S-1 overall 5.3 1x 1.0     # five, but 40 s only
    07:01:05 reading S-1 overall 5.4 1x 1.0     => hold S-1 overall-over-limit
    07:01:15 reading S-1 overall 5.5 1x 1.0
  `);
  const [hold] = floor.holds.values();
  expect(hold?.evidence.clauses).toEqual([
    {
      what: 'overall vibration velocity, RMS',
      measured: 5.4,
      limit: 4.5,
      unit: 'mm/s',
      source: 'machine maker (invented); entered by Ada-Invented',
      times: 6,
    },
  ]);
  expect(hold?.evidence.positions).toEqual([1, 2, 3, 4, 5, 6, 7]);
  expect(hold?.conditions).toEqual([{ kind: 'verification-run', spindleId: 'S-1' }]);
});

test('one knock raises nothing, nor do knocks far apart', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 9.0 1x 1.0
    07:01 reading S-1 overall 2.0 1x 1.0
    07:02 reading S-1 overall 9.1 1x 1.0
    08:30 reading S-1 overall 9.2 1x 1.0
    10:00 reading S-1 overall 9.3 1x 1.0
    11:30 reading S-1 overall 9.4 1x 1.0
    13:00 reading S-1 overall 9.5 1x 1.0
  `);
});

test('a value that hovers on the limit for a day gives one hold', () => {
  const lines = Array.from({ length: 24 * 6 }, (_, nth) => {
    const at = `${String(Math.floor(nth / 6)).padStart(2, '0')}:${String((nth % 6) * 10).padStart(2, '0')}`;
    // 4.2 … 4.8 mm/s around 4.5; never below 90 % of it.
    const value = (4.5 + 0.3 * Math.sin(nth * 0.7)).toFixed(3);
    return `day 2 ${at} reading S-1 overall ${value} 1x 1.0`;
  });
  const fifthOver = lines.filter((line) => Number(/overall ([\d.]+)/.exec(line)?.[1]) > 4.5)[4] ?? '';
  const { floor } = play(
    `${LIMITS}\n${lines.join('\n')}`.replace(fifthOver, `${fifthOver} => hold S-1 overall-over-limit`),
  );
  expect(floor.holds.size).toBe(1);
  expect([...floor.holds.values()][0]?.dependents).toEqual([]);
});

test('a second stay while the hold is open stands under it', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s       => hold S-1 overall-over-limit
    07:10 reading S-1 overall 2 1x 1 ×3 every 20 s
    07:20 reading S-1 overall 5 1x 1 ×6 every 20 s       => again S-1 overall-over-limit
  `);
});

test('quiet readings, silence and time release nothing', () => {
  const { floor } = play(`
    ${LIMITS}
    06:10 birth   sensor-S-1 every 10 s
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s       => hold S-1 overall-over-limit
    07:10 reading S-1 overall 1 1x 0.5 ×90 every 20 s
    09:00 tick                                           => state S-1 silent
    day 30 09:00 tick                                    => told S-1 level 1, when-planned, maintenance tool-room
  `);
  expect([...floor.holds.values()][0]?.state).toBe('raised');
});

test('only a named maintenance release and a run after it end it; the limit is watched anew from the release on', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s                => hold S-1 overall-over-limit
    07:05 take    S-1 as maintenance                              => taken S-1 overall-over-limit
    07:06 take    S-1 as operator                                 => refused: taking a hold needs one of the roles tool-room, maintenance, engineer, admin
    07:20 check   S-1 "drawbar force was low, cleaned" as maintenance   => checked S-1 overall-over-limit
    07:21 take    S-1 as maintenance                              => refused: taking a hold is not possible once it is checked; …
    07:25 release S-1 "verification run" as tool-room             => refused: releasing a hold needs one of the roles maintenance, engineer
    07:30 release S-1 "verification run quiet" as maintenance     => checked S-1 overall-over-limit
    07:31 release S-1 "again" as maintenance                      => refused: maintenance has released it already; …
    07:40 reading S-1 overall 5 1x 1 ×6 every 20 s                => raised S-1 overall-over-limit => again S-1 overall-over-limit
  `);
});

test('after a deviation the same stay raises nothing; after it was below, a new one does', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s       => hold S-1 overall-over-limit
    07:09 deviate S-1 "finish the lot" as engineer       => taken S-1 overall-over-limit
    07:10 confirm S-1 as engineer named Ben-Invented     => released S-1 overall-over-limit by deviation
    07:20 reading S-1 overall 5 1x 1 ×30 every 20 s
    07:40 reading S-1 overall 2 1x 1
    07:41 reading S-1 overall 5 1x 1 ×6 every 20 s       => hold S-1 overall-over-limit
  `);
});

test('where the 1× part makes the overall value, there is one hold: for the 1×', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 5 1x 4.6 ×6 every 20 s     => hold S-1 synchronous-over-limit => again S-1 synchronous-over-limit
  `);
});

test('heavy cutting, running up, a speed told wrongly, standstill and a sick sensor are no excess', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 9 1x 1 cutting ×30 every 20 s
    07:15 reading S-1 overall 9 1x 1 unsteady ×30 every 20 s
    07:30 reading S-1 overall 9 1x 1 fault speed-unsteady ×10 every 20 s
    07:35 reading S-1 overall 9 1x 1 fault wrong-speed ×10 every 20 s
    07:40 reading S-1 overall 0.2 at 0 rpm ×30 every 20 s
    08:00 reading S-1 overall 9 1x 1 fault clipped ×30 every 20 s     => state S-1 implausible
  `);
});

test('the machine control says that it cuts where the sensor does not know', () => {
  play(`
    ${LIMITS}
    07:00 machine S-1 programmed 18000 cutting
    07:01 reading S-1 overall 9 1x 1 ×30 every 20 s
    07:20 machine S-1 not cutting
    07:21 reading S-1 overall 9 1x 1 ×6 every 20 s       => hold S-1 overall-over-limit
  `);
});

test('a limit is for its speeds; each range counts by itself', () => {
  play(`
    06:00 limit S-1 overall 4.5 from 1000 to 12000 and overall 9 from 12001 to 24000
    07:00 reading S-1 overall 6 1x 1 at 18000 rpm ×30 every 20 s
    07:20 reading S-1 overall 6 1x 1 at 8000 rpm ×3 every 20 s
    07:21 reading S-1 overall 6 1x 1 at 18000 rpm ×3 every 20 s
    07:23 reading S-1 overall 6 1x 1 at 8000 rpm ×3 every 20 s     => hold S-1 overall-over-limit
    07:25 reading S-1 overall 6 1x 1 at 30000 rpm ×30 every 20 s
  `);
});

test('where two ranges meet the lower limit counts, and only that one, in whichever order they were declared', () => {
  for (const ranges of [
    'overall 4.5 from 1000 to 8000 and overall 9 from 8000 to 24000',
    'overall 9 from 8000 to 24000 and overall 4.5 from 1000 to 8000',
  ]) {
    const { floor } = play(`
      06:00 limit S-1 ${ranges}
      07:00 reading S-1 overall 6 1x 1 at 8001 rpm ×6 every 20 s
      07:10 reading S-1 overall 6 1x 1 at 8000 rpm ×6 every 20 s     => hold S-1 overall-over-limit
    `);
    const [hold] = floor.holds.values();
    expect(hold?.evidence.clauses).toMatchObject([{ limit: 4.5 }]);
    expect(
      floor.spindles
        .get('S-1')
        ?.live.watches.map(({ count }) => count)
        .toSorted(),
    ).toEqual([0, 6]);
  }
});

test('limits hold for a spindle that nobody loads by message', () => {
  play(`
    ${LIMITS}
    07:00 reading S-1 overall 5 ×6 every 20 s       => hold S-1 overall-over-limit
    07:10 reading S-1 overall 5                     => not comparable: nothing-loaded
  `);
});

test('without a limit nothing is raised', () => {
  play(`
    07:00 reading S-1 overall 50 1x 40 ×60 every 20 s
  `);
});

test('late vibration is kept, marked, and raises nothing', () => {
  const { floor } = play(`
    ${LIMITS}
    06:30 birth   sensor-S-1 every 20 s told 06:30
    09:00 reading S-1 overall 9 1x 1 told 07:00 ×30 every 1 s     => not comparable: late
    09:10 reading S-1 overall 1 1x 0.5 told 09:10                 => not comparable: cold     # two hours after the last that is known of
  `);
  expect(floor.devices.get('sensor-S-1')?.late).toBe(30);
});

test('a spool that comes within ten minutes counts by when it was measured', () => {
  play(`
    ${LIMITS}
    06:30 birth sensor-S-1 every 20 s told 06:30
    07:06:00 reading S-1 overall 9 1x 1 told 07:00:00
    07:06:00 reading S-1 overall 9.1 1x 1 told 07:00:20
    07:06:00 reading S-1 overall 9.2 1x 1 told 07:00:40
    07:06:01 reading S-1 overall 9.3 1x 1 told 07:00:50
    07:06:01 reading S-1 overall 9.4 1x 1 told 07:01:00     => hold S-1 overall-over-limit
  `);
});

test('a clock two days ahead is measured at its birth and is not late', () => {
  const { floor } = play(`
    ${LIMITS}
    06:30 birth   sensor-S-1 every 20 s told day 3 06:30
    07:00:00 reading S-1 overall 9 1x 1 told day 3 07:00:00
    07:00:20 reading S-1 overall 9.1 1x 1 told day 3 07:00:20
    07:00:40 reading S-1 overall 9.2 1x 1 told day 3 07:00:40
    07:01:00 reading S-1 overall 9.3 1x 1 told day 3 07:01:00
    07:01:20 reading S-1 overall 9.4 1x 1 told day 3 07:01:20   => hold S-1 overall-over-limit
  `);
  expect(floor.devices.get('sensor-S-1')?.late).toBe(0);
});

test('times of 1970 and 2106 are remarked once and not used', () => {
  play(`
    ${LIMITS}
    07:00:00 reading S-1 overall 9 1x 1 told ms 1000            => remark S-1: the clock of sensor-S-1 is not set: it says 1970-01-01T00:00:01.000Z; its times are not used
    07:00:20 reading S-1 overall 9.1 1x 1 told ms 21000
    07:00:40 reading S-1 overall 9.2 1x 1 told ms 4291747200000
    07:01:00 reading S-1 overall 9.3 1x 1 told ms 61000
    07:01:20 reading S-1 overall 9.4 1x 1 told ms 81000         => hold S-1 overall-over-limit
  `);
});
