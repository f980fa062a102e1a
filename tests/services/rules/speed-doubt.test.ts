// Readings whose speed contradicts the control: a matter of the sensor. 1.3 g·mm ± 0.05 keeps G 2.5 up to 21,221 rpm (ISO 21940-11).
import { expect, test } from 'vitest';
import { copyOfFloor, hasDoubtedSpeed } from '../../../services/rules/index.ts';
import { play } from './play.ts';

const BUILT = `
    07:00 build   A-1 marked 22,000
    07:10 result  A-1 1.3 ± 0.05 g·mm`;
const DOUBTED = (told: string, said: string): string =>
  `remark S-1: sensor-S-1 tells ${told} rpm, the control ${said} rpm, in …`;

test('what the control says of the actual speed stands against a sensor that tells another one', () => {
  const { floor } = play(`${BUILT}
    07:20 load    A-1 in S-1 at 18000 rpm
    07:21 machine S-1 actual 18010
    07:22 reading S-1 overall 1 1x 0.5 at 24000 rpm ×4 every 20 s
    07:23:20 reading S-1 overall 1 1x 0.5 at 24000 rpm      => ${DOUBTED('24,000', '18,010')}
    07:23:40 reading S-1 overall 1 1x 0.5 at 24000 rpm ×20 every 20 s
  `);
  expect(floor.holds.size).toBe(0);
  const spindle = floor.spindles.get('S-1');
  expect(spindle?.live.speedDoubt?.readings).toBe(25);
  expect(spindle !== undefined && hasDoubtedSpeed(spindle)).toBe(true);
  expect(copyOfFloor(floor).spindles.get('S-1')?.live).toEqual(floor.spindles.get('S-1')?.live);
});

test("the control's own speeds hold it all the same", () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1 at 18000 rpm
    07:21 machine S-1 actual 18010
    07:22 reading S-1 overall 1 1x 0.5 at 24000 rpm ×3 every 10 s
    07:23 machine S-1 actual 24000                         => hold A-1 speed-above-marked
  `);
});

test('where it says nothing of a spindle, readings count', () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1
    07:22 reading S-1 overall 1 1x 0.5 at 24000 rpm
    07:23 reading S-1 overall 1.1 1x 0.5 at 24000 rpm      => hold A-1 speed-above-marked
  `);
});

test('nor does what it said too long ago, or before it was given another program', () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1 at 18000 rpm
    07:21 machine S-1 actual 18000
    07:40 reading S-1 overall 1 1x 0.5 at 24000 rpm
    07:41 reading S-1 overall 1.1 1x 0.5 at 24000 rpm      => hold A-1 speed-above-marked
    08:00 unload  S-1                                      => released A-1 speed-above-marked
    08:01 load    A-1 in S-1 at 18000 rpm
    08:02 machine S-1 actual 18000
    08:03 machine S-1 programmed 20000
    08:04 reading S-1 overall 1.2 1x 0.5 at 22500 rpm
    08:05 reading S-1 overall 1.3 1x 0.5 at 22500 rpm      => hold A-1 speed-above-marked
  `);
});

test('a program may be turned up by an override that nobody tells, not beyond what is usual; one that is told counts', () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1 at 15000 rpm
    07:21 reading S-1 overall 1 1x 0.5 at 24000 rpm ×4 every 20 s
    07:22:20 reading S-1 overall 1.1 1x 0.5 at 24000 rpm   => ${DOUBTED('24,000', 'is programmed to 15,000')}
    07:30 machine S-1 override 160
    07:31 reading S-1 overall 1.2 1x 0.5 at 15000 rpm ×3 every 20 s
    07:33 reading S-1 overall 1.3 1x 0.5 at 24000 rpm
    07:34 reading S-1 overall 1.4 1x 0.5 at 24000 rpm      => hold A-1 speed-above-marked
  `);
});

test('once it is doubted it stays so until it agrees; it is remarked once a day', () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1 at 20000 rpm
    07:21 reading S-1 overall 1 1x 0.5 at 30000 rpm ×5 every 10 s
    07:22 reading S-1 overall 1.1 1x 0.5 at 30000 rpm      => ${DOUBTED('30,000', 'is programmed to 20,000')}
    07:23 reading S-1 overall 1.2 1x 0.5 at 23000 rpm ×9 every 10 s    # as by an override, were it believed
    07:50 reading S-1 overall 1.3 1x 0.5 at 23000 rpm ×9 every 10 s    # nor is the control's word too old
    08:00 machine S-1 programmed 20000
    08:01 reading S-1 overall 1.4 1x 0.5 at 20000 rpm ×3 every 10 s
    08:02 reading S-1 overall 1.5 1x 0.5 at 30000 rpm ×9 every 10 s
    08:04 reading S-1 overall 1.6 1x 0.5 at 20000 rpm ×3 every 10 s
    08:05 reading S-1 overall 1.7 1x 0.5 at 23000 rpm
    08:06 reading S-1 overall 1.8 1x 0.5 at 23000 rpm      => hold A-1 speed-above-marked
  `);
});

test('another sensor is believed anew', () => {
  play(`${BUILT}
    07:20 load    A-1 in S-1 at 20000 rpm
    07:21 reading S-1 overall 1 1x 0.5 at 30000 rpm ×5 every 10 s
    07:22 reading S-1 overall 1.1 1x 0.5 at 30000 rpm      => ${DOUBTED('30,000', 'is programmed to 20,000')}
    07:23 reading S-1 overall 1.2 1x 0.5 at 23000 rpm by sensor-new
    07:24 reading S-1 overall 1.3 1x 0.5 at 23000 rpm by sensor-new    => hold A-1 speed-above-marked
  `);
});

test('running up, standing and a slower speed than programmed say nothing against a sensor', () => {
  const { floor } = play(`${BUILT}
    07:20 load    A-1 in S-1 at 18000 rpm
    07:21 reading S-1 overall 1 1x 0.5 at 9000 rpm ×20 every 10 s
    07:25 reading S-1 overall 1 1x 0.5 at 24000 rpm unsteady ×20 every 10 s
    07:30 reading S-1 overall 0.1 at 0 rpm ×20 every 10 s
  `);
  expect(floor.spindles.get('S-1')?.live.speedDoubt).toBeUndefined();
});
