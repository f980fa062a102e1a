// Rule (j): who is told when nobody answers, how soon, and what stands still while work is planned.
import { expect, test } from 'vitest';
import { play } from './play.ts';

const RUNS = `
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:05 build   A-1
    06:10 result  A-1 0.5 g·mm
    06:30 load    A-1 in S-1 at 18000 rpm`;

test('a spindle that turns at 1.6 times its limit: told after a quarter of an hour, then the next ones after an hour', () => {
  const { floor } = play(`${RUNS}
    07:00 reading S-1 overall 7.2 1x 1 ×6 every 20 s          => hold S-1 overall-over-limit
    07:10 tick
    07:16 reading S-1 overall 7.2 1x 1
    07:17 tick                                                => told S-1 level 1, at-once, maintenance tool-room
    07:18 tick
    07:59 reading S-1 overall 7.2 1x 1
    08:02 tick                                                => told S-1 level 2, at-once, engineer
    09:30 tick                                                => state S-1 silent
    day 20 09:30 tick
  `);
  expect([...floor.holds.values()][0]).toMatchObject({ state: 'raised', escalations: [{ level: 1 }, { level: 2 }] });
});

test('an answer stops it: whoever has it is asked no more', () => {
  play(`${RUNS}
    07:00 reading S-1 overall 7.2 1x 1 ×6 every 20 s          => hold S-1 overall-over-limit
    07:10 take    S-1 as maintenance                          => taken S-1 overall-over-limit
    07:40 reading S-1 overall 7.2 1x 1
    07:41 tick
    20:00 tick                                                => state S-1 silent
  `);
});

test('what is in no spindle waits until it is planned, what stands still for the shift', () => {
  play(`
    06:05 build   A-1
    06:10 result  A-1 4 g·mm                                  => hold A-1 residual-exceeds
    10:00 tick
    day 2 06:11 tick                                          => told A-1 level 1, when-planned, maintenance tool-room
    day 2 07:00 load    A-1 in S-1 at 18000 rpm               => hold S-1 held-assembly-loaded
    day 2 09:01 tick                                          => told A-1 level 2, this-shift, engineer => told S-1 level 1, this-shift, maintenance tool-room
  `);
});

test('above a marked maximum it is at once, whatever turns', () => {
  play(`
    06:05 build   A-1 marked 12000
    06:10 result  A-1 0.1 g·mm
    06:30 load    A-1 in S-1 at 18000 rpm                     => hold A-1 speed-above-marked
    06:46 tick                                                => told A-1 level 1, at-once, maintenance tool-room
  `);
});

test('the plant’s own levels count from their declaration on', () => {
  play(`
    06:05 build   A-1
    06:10 result  A-1 4 g·mm                                  => hold A-1 residual-exceeds
    06:12 answering two names, after 5 to admin
    06:14 tick
    06:16 tick                                                => told A-1 level 1, when-planned, admin
    09:00 tick
  `);
});

test('while work is planned nobody is told, and the time of it does not count', () => {
  play(`${RUNS}
    06:40 work    S-1 W-1 from 07:05 until 08:05 "drawbar force measured"
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s            => hold S-1 overall-over-limit
    07:30 tick                                                => state S-1 silent
    09:05 tick
    10:00 tick
    10:03 tick                                                => told S-1 level 1, this-shift, maintenance tool-room
  `);
});

test('work that lies in the past is not taken, and what waited has waited', () => {
  const { floor } = play(`${RUNS}
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s            => hold S-1 overall-over-limit
    07:30 tick                                                => state S-1 silent
    08:30 work    S-1 W-1 from 07:05 until 08:05 "drawbar"    => remark S-1: Ada-Invented declared work on S-1 from 2026-11-24T07:05:00.000Z until 2026-11-24T08:05:00.000Z: drawbar; not taken: it lies in the past
    09:05 tick                                                => told S-1 level 1, this-shift, maintenance tool-room
  `);
  expect(floor.spindles.get('S-1')?.work).toEqual([]);
});

test('readings of planned work are marked, raise nothing and teach nothing; a marked maximum counts all the same', () => {
  const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:05 build   A-1 marked 15000
    06:10 result  A-1 0.1 g·mm
    06:20 work    S-1 W-1 from 07:00 until 08:00 "bearing changed"
    06:30 load    A-1 in S-1 at 12000 rpm
    06:50 reading S-1 overall 1 1x 0.5 at 12000 rpm           => comparable
    07:00 reading S-1 overall 9 1x 5 at 12000 rpm ×9 every 1 min    => not comparable: planned-work
    07:20 reading S-1 overall 9 1x 5 at 17000 rpm ×2 every 20 s     => hold A-1 speed-above-marked
    08:00 reading S-1 overall 9 1x 5 at 12000 rpm             => not comparable: on-hold
  `);
  expect(floor.spindles.get('S-1')?.live.bins.size).toBe(1);
});

test('work that is called off before it began is gone; later it ends with the word', () => {
  const { floor } = play(`
    06:00 work    S-1 W-1 from 07:00 until 08:00 "bearing changed"    => remark S-1: Ada-Invented declared work on S-1 from 2026-11-24T07:00:00.000Z until 2026-11-24T08:00:00.000Z: bearing changed
    06:10 work    S-1 W-1 from 07:00 until 08:00 "no time" called off
    06:20 work    S-1 W-2 from 06:00 until 12:00 "drawbar"
    07:00 work    S-1 W-2 from 06:00 until 12:00 "done" called off    => remark S-1: Ada-Invented called off the work on S-1: done
    07:10 reading S-1 overall 1 1x 0.5
  `);
  expect(floor.spindles.get('S-1')?.work).toMatchObject([{ workId: 'W-2', until: Date.UTC(2026, 10, 24, 7) }]);
});

test('of twenty windows that are still to come none goes; one that has ended makes room', () => {
  const lines = Array.from(
    { length: 20 },
    (_, nth) => `06:${10 + nth} work S-1 W-${nth} from day 2 0${nth % 10}:00 until day 2 1${nth % 10}:30 "x"`,
  );
  const { floor } = play(`
    ${lines.join('\n')}
    06:40 work    S-1 W-99 from day 3 06:00 until day 3 07:00 "one more"   => remark S-1: Ada-Invented declared work on S-1 …
    day 3 05:00 work    S-1 W-98 from day 3 06:00 until day 3 07:00 "one more"
  `);
  const ids = floor.spindles.get('S-1')?.work.map(({ workId }) => workId);
  expect(ids).toHaveLength(20);
  expect(ids).not.toContain('W-99');
  expect(ids).toContain('W-98');
});
