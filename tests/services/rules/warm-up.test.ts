// A spindle that has just begun to turn after a rest: limits are judged, nothing is learned.
import { expect, test } from 'vitest';
import { isCold, takeTurning } from '../../../services/rules/warm-up.ts';
import { REST_MS, WARM_UP_MS } from '../../../services/rules/limits.ts';
import { play } from './play.ts';

const SETUP = `
  06:00 build   A-1 1.2 kg 18,000 rpm G16
  06:01 result  A-1 1 g·mm
  06:05 load    A-1 in S-1 at 18000 rpm`;

test('after a night it is cold for ten minutes of turning, and standing does not warm it', () => {
  play(`
    ${SETUP}
    06:06 reading S-1 overall 2 1x 1                        => comparable
    20:00 reading S-1 overall 2 1x 1                        => not comparable: cold
    20:05 reading S-1 overall 2 1x 1                        => not comparable: cold
    20:06 reading S-1 overall 0.1 1x 0 at 0 rpm ×5 every 20 s => not comparable: standstill
    20:09 reading S-1 overall 2.1 1x 1                      => not comparable: cold
    20:11 reading S-1 overall 2.2 1x 1                      => comparable
  `);
});

test('a tool change is no rest, and cutting warms too', () => {
  play(`
    ${SETUP}
    06:06 reading S-1 overall 2 1x 1               => comparable
    07:50 reading S-1 overall 2.1 1x 1             => comparable
    18:00 reading S-1 overall 4 1x 1 cutting       => not comparable: cutting
    18:12 reading S-1 overall 2 1x 1               => comparable
  `);
});

test('readings that come late say that it turned meanwhile', () => {
  play(`
    ${SETUP}
    06:06 reading S-1 overall 2 1x 1 told 06:06            => comparable
    12:00 reading S-1 overall 2.1 1x 1 told 07:30          => not comparable: late
    12:00:01 reading S-1 overall 2.2 1x 1 told 09:20       => not comparable: late
    12:00:02 reading S-1 overall 2.1 1x 1 told 11:10       => not comparable: late
    12:00:20 reading S-1 overall 2 1x 1 told 12:00:20      => comparable
  `);
});

test('a cold spindle over its limit is held all the same, and no mark is made of what it said', () => {
  const { floor } = play(`
    05:00 limit S-1 overall 4.5 from 1000 to 24000
    ${SETUP}
    06:06 reading S-1 overall 2 1x 1 ×4 every 20 s
    20:00 reading S-1 overall 5 1x 1 ×5 every 20 s => hold S-1 overall-over-limit
  `);
  const [bin] = floor.spindles.get('S-1')?.live.bins.values() ?? [];
  expect(bin?.severity?.readings).toBe(4);
});

test('with a reading an hour it is warm with the next one', () => {
  const live = {
    turnedAt: undefined as number | undefined,
    turnedMs: 0,
    restedAtTurnedMs: undefined as number | undefined,
  };
  expect(isCold(live, 0)).toBe(false);
  takeTurning(live, 0);
  expect(isCold(live, REST_MS)).toBe(true);
  takeTurning(live, REST_MS);
  const later = REST_MS + 3_600_000;
  expect(isCold(live, REST_MS + WARM_UP_MS - 1)).toBe(true);
  expect(isCold(live, later)).toBe(false);
});
