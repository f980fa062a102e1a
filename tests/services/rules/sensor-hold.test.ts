// Rule (i): a sensor that cannot be believed for a quarter of an hour is on hold; nothing about it ends by its speaking well alone.
import { expect, test } from 'vitest';
import { play } from './play.ts';

test('five odd readings over a quarter of an hour are a hold on the spindle, with the readings as evidence', () => {
  const { floor } = play(`
    07:00 reading S-1 overall 2 1x 1 ×3 every 1 min
    07:10 reading S-1 overall 2 1x 1 fault clipped            => state S-1 implausible
    07:11 reading S-1 overall 2 1x 1 fault clipped ×13 every 1 min
    07:25 reading S-1 overall 2 1x 1 fault clipped            => hold S-1 sensor-cannot-judge
    07:26 reading S-1 overall 2 1x 1 fault clipped ×30 every 1 min
  `);
  const [hold] = floor.holds.values();
  expect(hold?.evidence).toMatchObject({ device: 'sensor-S-1', positions: [4, 5, 6, 7, 8, 9, 10, 18] });
  expect(hold?.evidence.clauses).toMatchObject([{ measured: 15, limit: 5, times: 15 }]);
});

test('few readings, a passing fault, and a device that is cut off raise nothing', () => {
  play(`
    06:59 reading S-1 overall 2 1x 1
    07:00 reading S-1 overall 2 1x 1 fault clipped            => state S-1 implausible
    07:20 reading S-1 overall 2 1x 1 fault clipped ×3 every 1 min
    07:30 reading S-1 overall 2 1x 1 ×3 every 1 min           => state S-1 reporting
    07:59 reading S-2 overall 2 1x 1
    08:00 reading S-2 overall 2 1x 1 fault clipped            => state S-2 implausible
    08:05 lost    sensor-S-2                                  => state S-2 offline
    10:00 reading S-2 overall 2 1x 1 fault clipped ×9 every 1 min   => state S-2 implausible
    10:09 lost    sensor-S-2                                  => state S-2 offline
    18:00 tick                                                => state S-1 silent
  `);
});

test('it speaks well again: the hold stays until somebody has checked it', () => {
  play(`
    07:00 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
    07:20 reading S-1 overall 2 1x 1 ×30 every 1 min          => state S-1 reporting
    08:00 take    S-1 as maintenance                          => taken S-1 sensor-cannot-judge
    08:10 check   S-1 "the plug was wet" as maintenance       => checked S-1 sensor-cannot-judge => released S-1 sensor-cannot-judge
  `);
});

test('checked first, it ends with the readings that are sound again; a check alone ends nothing, nor does silence', () => {
  play(`
    07:00 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
    07:20 check   S-1 "screwed on again" as maintenance       => checked S-1 sensor-cannot-judge
    09:00 tick                                                => state S-1 silent
    day 2 09:00 tick
    day 2 10:00 reading S-1 overall 2 1x 1                    => state S-1 reporting => released S-1 sensor-cannot-judge
  `);
});

test('another sensor ends it by itself once it is believed', () => {
  play(`
    07:00 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
    08:00 reading S-1 overall 2 1x 1 by sensor-new ×2 every 1 min
    08:02 reading S-1 overall 2 1x 1 by sensor-new            => state S-1 reporting => released S-1 sensor-cannot-judge
  `);
});

test('let go on or void, the same stay raises nothing again; after it was sound, a new one does', () => {
  play(`
    07:00 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
    07:20 void    S-1 "a test of the sensor"                  => void S-1 sensor-cannot-judge
    07:21 reading S-1 overall 2 1x 1 fault clipped ×30 every 1 min
    08:00 reading S-1 overall 2 1x 1 ×3 every 1 min           => state S-1 reporting
    08:10 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
  `);
});

test('the gate asks nothing of a sensor: what is balanced is not held back by it', () => {
  play(`
    06:00 declare S-1
    06:05 build   A-1
    06:10 result  A-1 0.5 g·mm
    06:20 load    A-1 in S-1 at 18000 rpm
    07:00 reading S-1 overall 2 1x 1 fault clipped ×17 every 1 min   => state S-1 implausible => hold S-1 sensor-cannot-judge
    07:20 ask     A-1 in S-1                                  => gate A-1 in S-1: NO OBJECTION, within
  `);
});
