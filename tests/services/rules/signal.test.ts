// Rule (f): silence, a lost connection, and signals that cannot be true are states of their own: never a hold, no release.
import { expect, test } from 'vitest';
import { emptyFloor } from '../../../services/rules/index.ts';
import { STUCK_READINGS_WITH_ACCELERATION } from '../../../services/rules/limits.ts';
import { foldSignal, oddityOf, toldBy } from '../../../services/rules/signal.ts';
import { silentAfterMs } from '../../../services/rules/state-rule.ts';
import { play } from './play.ts';

test('silence is three declared intervals, never under 30 s, seen when the clock goes on', () => {
  play(`
    06:00 birth   sensor-S-1 every 20 s
    07:00 reading S-1 overall 1 1x 0.5
    07:00:55 tick
    07:01:01 tick                              => state S-1 silent
    07:05 tick
    07:06 reading S-1 overall 1 1x 0.6         => state S-1 reporting
  `);
  expect(silentAfterMs(undefined)).toBe(900_000);
});

test('a spindle that never reported is not silent', () => {
  play(`
    07:00 load A-1 in S-1 at 18000 rpm
    day 3 07:00 tick
  `);
});

test('a sensor whose clock was set back is not silent: its readings tell old times, until its clock is certain', () => {
  const { floor } = play(`
    06:00 birth   sensor-S-1 every 20 s told 06:00
    07:00 reading S-1 overall 1 1x 0.5 told 07:00
    07:00:20 reading S-1 overall 1 1x 0.5 told 06:45:20
    07:00:40 reading S-1 overall 1 1x 0.6 told 06:45:40
    07:01:00 reading S-1 overall 1 1x 0.5 told 06:46:00 => not comparable: late
    07:01:02 tick                                       => state S-1 mistimed
    07:01:10 tick
    07:01:20 reading S-1 overall 1 1x 0.6 told 06:46:20 => not comparable: late => remark S-1: the clock of sensor-S-1 was set back by 15 min…
    07:01:40 reading S-1 overall 1 1x 0.5 told 06:46:40 => state S-1 reporting
  `);
  expect(floor.spindles.get('S-1')?.stateWhy).toBe('its readings tell of now again');
});

test('a clock that is set back and then wanders stays doubtful for as long as it does, and is silent when nothing comes', () => {
  const { floor } = play(`
    06:00 birth   sensor-S-1 every 20 s told 06:00
    07:00 reading S-1 overall 1 1x 0.5 told 07:00
    07:01 reading S-1 overall 1 1x 0.5 told 06:40
    07:02 reading S-1 overall 1 1x 0.5 told 06:41:10
    07:02:10 tick
    07:03 reading S-1 overall 1 1x 0.5 told 06:42:20
    07:03:10 tick                              => state S-1 mistimed
    07:04 reading S-1 overall 1 1x 0.5 told 06:43:30
    07:05 reading S-1 overall 1 1x 0.5 told 06:44:40
    07:05:10 tick
    07:06:10 tick                              => state S-1 silent
  `);
  expect(floor.spindles.get('S-1')?.stateWhy).toBe(
    'no reading heard from its sensor since 24 November 2026, 07:05 UTC',
  );
});

test('the will says offline; a reading, not a connection, says that there is data again', () => {
  play(`
    06:00 birth   sensor-S-1 every 1 s
    07:00 reading S-1 overall 1 1x 0.5
    07:01 lost    sensor-S-1                   => state S-1 offline
    07:02 tick
    07:03 back    sensor-S-1
    07:04 reading S-1 overall 1 1x 0.6         => state S-1 reporting
  `);
});

test('a fault that the sensor tells counts at once, what only looks odd after three in a row', () => {
  play(`
    07:00 reading S-1 overall 1 1x 0.5
    07:01 reading S-1 overall 1 1x 0.6 fault clipped         => state S-1 implausible
    07:02 reading S-1 overall 1 1x 0.5 ×2 every 1 s
    07:03 reading S-1 overall 1 1x 0.6                       => state S-1 reporting
    07:10 reading S-1 overall 1 1x 2 ×2 every 1 s
    07:11 reading S-1 overall 1 1x 0.7
    07:12 reading S-1 overall 1 1x 2 ×2 every 1 s
    07:13 reading S-1 overall 1 1x 2.1                       => state S-1 implausible
  `);
});

test('more than a housing can bear counts at once; a speed told wrongly says nothing of the signal', () => {
  play(`
    07:00 reading S-1 overall 1 1x 0.5
    07:01 reading S-1 overall 900                            => not comparable: sensor-fault => state S-1 implausible
    07:02 reading S-1 overall 1 1x 0.5 ×2 every 1 s
    07:03 reading S-1 overall 1 1x 0.6                       => state S-1 reporting
    07:04 reading S-1 overall 1 fault wrong-speed            => not comparable: wrong-speed
  `);
});

test('who found what is wrong with a signal is told in words', () => {
  const data = { speedRpm: 9000, overallMmS: 1, fault: 'flat' as const };
  expect(oddityOf(data, toldBy({ id: 'made-of-wave-7' }))?.why).toBe(
    'the raw window shows of the signal: it is a flat line',
  );
  expect(oddityOf(data, toldBy({ id: 'b-7' }))?.why).toBe('the sensor says of its signal: it is a flat line');
});

test('a slow spindle’s sensor is not accused: its whole leaves 1× out, unless its declared band reaches lower', () => {
  play(`
    07:00 reading S-1 overall 0.9 1x 2 at 580 rpm ×6 every 1 s
  `);
  const data = { speedRpm: 580, overallMmS: 0.9, synchronousMmS: 2 };
  expect(oddityOf(data, 'sensor', [2, 1000])?.kind).toBe('part-over-whole');
});

test('readings below the band say nothing of a part that was above the whole', () => {
  play(`
    07:00 reading S-1 overall 1 1x 2 ×2 every 1 s
    07:00:10 reading S-1 overall 1 1x 2                      => state S-1 implausible
    07:01 reading S-1 overall 0.9 1x 0.5 at 580 rpm ×9 every 1 s
    07:02 reading S-1 overall 1 1x 0.5 ×2 every 1 s
    07:03 reading S-1 overall 1 1x 0.6                       => state S-1 reporting
  `);
});

test('a sensor that hums shows it standing: readings in motion between say nothing of it, and do not clear it', () => {
  play(`
    07:00 reading S-1 overall 3 at 0 rpm ×2 every 1 min
    07:05 reading S-1 overall 4 1x 0.5 ×9 every 1 min
    07:20 reading S-1 overall 3.1 at 0 rpm                => state S-1 implausible
    07:25 reading S-1 overall 4 1x 0.5 ×9 every 1 min
    07:40 reading S-1 overall 0.1 at 0 rpm ×2 every 1 min
    07:45 reading S-1 overall 1 1x 0.5 ×9 every 1 min
    08:00 reading S-1 overall 0.1 at 0 rpm                => state S-1 reporting
  `);
});

test('a sound reading standing ends the count of odd ones; one taken while it ran down does not count', () => {
  play(`
    07:00 reading S-1 overall 3 at 0 rpm ×2 every 1 min
    07:03 reading S-1 overall 0.1 at 0 rpm
    07:04 reading S-1 overall 3 at 0 rpm ×2 every 1 min
    07:06 reading S-1 overall 3 at 0 rpm unsteady ×9 every 1 s
  `);
});

test('a whole that is told too low shows out of the cut only: readings in the cut, or standing, do not begin anew', () => {
  play(`
    07:00 reading S-1 overall 0.4 1x 0.8 ×2 every 1 min
    07:05 reading S-1 overall 1.4 1x 0.8 cutting ×9 every 1 min
    07:15 machine S-1 cutting
    07:16 reading S-1 overall 1.4 1x 0.8 ×9 every 1 min
    07:26 machine S-1 not cutting
    07:27 reading S-1 overall 0.1 at 0 rpm ×3 every 1 min
    07:30 reading S-1 overall 0.4 1x 0.8                  => state S-1 implausible
  `);
});

test('a whole that holds its part, out of the cut, ends the count', () => {
  play(`
    07:00 reading S-1 overall 0.4 1x 0.8 ×2 every 1 min
    07:03 reading S-1 overall 1.4 1x 0.8
    07:04 reading S-1 overall 0.4 1x 0.8 ×2 every 1 min
  `);
});

test('while a signal is not believed its readings are not compared', () => {
  play(`
    06:59 reading S-1 overall 1 1x 0.4
    07:00 reading S-1 overall 1 1x 0.6 fault dropout   => not comparable: sensor-fault => state S-1 implausible
    07:01 reading S-1 overall 1 1x 0.5                 => not comparable: sensor-fault
  `);
});

test('the same numbers to the last digit twenty times are stuck', () => {
  play(`
    07:00 reading S-1 overall 1.25 1x 0.5 stuck ×19 every 10 s
    07:05 reading S-1 overall 1.25 1x 0.5 stuck              => state S-1 stuck
    07:06 reading S-1 overall 1.26 1x 0.5                    => state S-1 reporting
  `);
});

test('with the acceleration told as well twelve are enough, and standing between does not begin anew', () => {
  play(`
    07:00 reading S-1 overall 1.25 1x 0.5 acceleration 3.07 stuck ×6 every 10 s
    07:02 reading S-1 overall 0.62 at 0 rpm ×4 every 10 s
    07:05 reading S-1 overall 1.25 1x 0.5 acceleration 3.07 stuck ×5 every 10 s
    07:06 reading S-1 overall 1.25 1x 0.5 acceleration 3.07 stuck   => state S-1 stuck
    07:07 reading S-1 overall 0.62 at 0 rpm
    07:08 reading S-1 overall 1.25 1x 0.5 acceleration 3.08         => state S-1 reporting
  `);
});

/** Mulberry32 (public domain) into Box and Muller's transform: the same draws on every machine. */
function gaussians(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Told in steps of twice the scatter: the coarsest for which twelve readings were chosen. */
test('an honest sensor that tells three figures coarsely is not called stuck in a million readings', () => {
  const scatter = gaussians(1);
  const step = (mean: number): number => Math.round(mean + 0.5 * scatter());
  const floor = emptyFloor('test');
  play('07:00 reading S-1 overall 40 1x 20', floor);
  const spindle = floor.spindles.get('S-1');
  if (spindle === undefined) throw new Error('a reading makes its spindle');
  let longest = 0;
  for (let nth = 0; nth < 1_000_000; nth += 1) {
    foldSignal(spindle, {
      speedRpm: 18_000,
      overallMmS: step(40),
      synchronousMmS: step(20),
      accelerationRmsMS2: step(30),
    });
    longest = Math.max(longest, spindle.live.sameInRow + 1);
  }
  expect(longest).toBeLessThan(STUCK_READINGS_WITH_ACCELERATION);
});

test('a sensor that tells the overall value only, in steps, repeats itself honestly', () => {
  play(`
    07:00 reading S-1 overall 1.2 stuck ×119 every 10 s
    07:20 reading S-1 overall 1.2 stuck                      => state S-1 stuck
  `);
});

test.each([
  ['standstill', { speedRpm: 0, overallMmS: 2 }, 'vibration at standstill'],
  ['a neighbour at standstill', { speedRpm: 0, overallMmS: 0.4 }, undefined],
  ['nothing at speed', { speedRpm: 9000, overallMmS: 0 }, 'no vibration at all while turning'],
  [
    'a part larger than the whole',
    { speedRpm: 9000, overallMmS: 1, synchronousMmS: 1.2 },
    'the 1× part is more than the whole',
  ],
  ['a part below the band of the whole', { speedRpm: 580, overallMmS: 0.877, synchronousMmS: 1.996 }, undefined],
  ['a part on its lower end', { speedRpm: 600, overallMmS: 1.41, synchronousMmS: 2 }, undefined],
  ['a part near its upper end', { speedRpm: 45_000, overallMmS: 1.84, synchronousMmS: 2 }, undefined],
  ['a part above it', { speedRpm: 72_000, overallMmS: 0.2, synchronousMmS: 2 }, undefined],
  ['a pure 1×', { speedRpm: 9000, overallMmS: 1, synchronousMmS: 1.02 }, undefined],
  [
    'more than a housing can bear',
    { speedRpm: 9000, overallMmS: 501 },
    'a velocity of more than 500 mm/s is none that a housing can have',
  ],
  ['a lot', { speedRpm: 9000, overallMmS: 499 }, undefined],
  ['another speed than told', { speedRpm: 9000, overallMmS: 1, fault: 'wrong-speed' as const }, undefined],
  ['told to stand, and turning', { speedRpm: 0, overallMmS: 3, fault: 'wrong-speed' as const }, undefined],
  ['running up', { speedRpm: 9000, overallMmS: 1, fault: 'speed-unsteady' as const }, undefined],
])('%s', (_, data, words) => {
  expect(oddityOf(data)?.why).toBe(words);
});
