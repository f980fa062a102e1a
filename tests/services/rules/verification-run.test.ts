// After a repair: the hold ends with a run of an assembly that is known to be good, and not before.
import { expect, test } from 'vitest';
import { play } from './play.ts';

const HELD = `
    06:00 limit   S-1 overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000
    06:05 build   A-1
    06:06 build   A-2
    06:07 build   A-3
    06:10 result  A-1 0.5 g·mm
    06:11 result  A-2 0.5 g·mm
    06:30 load    A-1 in S-1 at 18000 rpm
    07:00 reading S-1 overall 5 1x 1 ×6 every 20 s            => hold S-1 overall-over-limit
    07:30 release S-1 "drawbar spring changed" as maintenance => checked S-1 overall-over-limit`;

test('a load after the release, within and measured, ten readings over five minutes: released', () => {
  const { floor } = play(`${HELD}
    07:35 ask     A-2 in S-1                                  => gate A-2 in S-1: NO OBJECTION, within
    07:40 load    A-2 in S-1 at 18000 rpm
    07:45 reading S-1 overall 2 1x 1 ×9 every 40 s
    07:51 reading S-1 overall 2 1x 1                          => released S-1 overall-over-limit
  `);
  const [hold] = floor.holds.values();
  expect(hold?.steps.map(({ state, awaits }) => [state, awaits])).toEqual([
    ['raised', undefined],
    ['checked', 'verification-run'],
    ['released', undefined],
  ]);
  expect(hold?.steps.at(-1)).toMatchObject({ by: 'sensor-S-1', note: 'another assembly ran in S-1 as expected' });
  expect(floor.spindles.get('S-1')?.live.trial).toMatchObject({ readings: 10, passed: true });
});

test('not with what was in it before, nor with an assembly that was not measured, nor in the cut, nor ten at once', () => {
  play(`${HELD}
    07:35 reading S-1 overall 2 1x 1 ×20 every 1 min
    08:00 load    A-3 in S-1 at 18000 rpm                     => hold A-3 not-measured-since-build
    08:05 reading S-1 overall 2 1x 1 ×20 every 1 min
    08:30 load    A-2 in S-1 at 18000 rpm                     => released A-3 not-measured-since-build
    08:35 reading S-1 overall 2 1x 1 cutting ×20 every 1 min
    09:00 reading S-1 overall 2 1x 1 ×60 every 1 s
    09:02 tick
    12:00 tick                                                => state S-1 silent
    day 9 12:00 tick
  `);
});

test('a reading above the limit begins the run anew; a stay above it takes the release back', () => {
  const { floor } = play(`${HELD}
    07:40 load    A-2 in S-1 at 18000 rpm
    07:45 reading S-1 overall 2 1x 1 ×9 every 40 s
    07:51 reading S-1 overall 5 1x 1
    07:52 reading S-1 overall 2 1x 1 ×9 every 40 s
    08:00 reading S-1 overall 5 1x 1 ×6 every 20 s            => raised S-1 overall-over-limit => again S-1 overall-over-limit
    08:05 reading S-1 overall 2 1x 1 ×60 every 1 min
    09:10 ask     A-2 in S-1                                  => gate A-2 in S-1: HOLD BACK, spindle-on-hold
    09:20 release S-1 "bearing changed" as maintenance        => checked S-1 overall-over-limit
    09:30 load    A-1 in S-1 at 18000 rpm
    09:40 reading S-1 overall 2 1x 1 ×10 every 1 min          => released S-1 overall-over-limit
  `);
  expect([...floor.holds.values()][0]?.steps.map(({ state }) => state)).toEqual([
    'raised',
    'checked',
    'raised',
    'checked',
    'released',
  ]);
});
