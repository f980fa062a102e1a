// The device's lane: gaps, clock offset, lateness, and a clock that is set back.
import { expect, test } from 'vitest';
import { lowest } from '../../../shared/statistics/index.ts';
import { isLate, orderOf } from '../../../services/rules/clock.ts';
import type { DeviceState, Stamp } from '../../../services/rules/floor.ts';
import type { Floor } from '../../../services/rules/index.ts';
import { play } from './play.ts';

const lane = (floor: Floor, device: string): DeviceState => {
  const found = floor.devices.get(device);
  if (found === undefined) throw new Error(`no lane of ${device}`);
  return found;
};

test('missing numbers are gaps; what comes after all fills them; a new start begins anew', () => {
  const { floor } = play(`
    07:00 reading S-1 overall 1 boot b sequence 1
    07:01 reading S-1 overall 1.1 boot b sequence 2
    07:02 reading S-1 overall 1.2 boot b sequence 6
    07:03 reading S-1 overall 1.3 boot b sequence 4
    07:04 reading S-1 overall 1.4 boot c sequence 1
  `);
  expect(lane(floor, 'sensor-S-1')).toMatchObject({ sequenceGaps: 2, messages: 5, bootId: 'c', lastSequence: 1 });
});

test('the offset is the lower envelope of arrival less device time', () => {
  const { floor } = play(`
    07:00:00 reading S-1 overall 1 told 06:59:50
    07:00:20 reading S-1 overall 1.1 told 07:00:13
    07:00:40 reading S-1 overall 1.2 told 07:00:20
  `);
  expect(lowest(lane(floor, 'sensor-S-1').clock)).toBe(7000);
});

test('a clock set back two hours is told from a spool within some readings', () => {
  const { floor } = play(`
    06:00 birth   sensor-S-1 every 20 s told 06:00
    07:00 reading S-1 overall 1 told 07:00
    07:01:00 reading S-1 overall 1.1 told 05:01:00    => not comparable: late
    07:01:20 reading S-1 overall 1.2 told 05:01:20    => not comparable: late
    07:01:40 reading S-1 overall 1.3 told 05:01:40    => not comparable: late
    07:02:00 reading S-1 overall 1.4 told 05:02:00    => not comparable: late => remark S-1: the clock of sensor-S-1 was set back by 2 h: what it told since was taken for old; from now on it counts by the new setting
    07:02:20 reading S-1 overall 1.5 told 05:02:20    => not comparable: nothing-loaded
  `);
  expect(isLate(floor.at, floor.at - 2 * 3_600_000, lane(floor, 'sensor-S-1'))).toBe(false);
});

test('a spool of two hours stays late, however long it takes to empty', () => {
  play(`
    06:00 birth   sensor-S-1 every 20 s told 06:00
    07:00 reading S-1 overall 1 told 07:00
    09:00:00 reading S-1 overall 1.1 told 07:00:20    => not comparable: late
    09:00:10 reading S-1 overall 1.2 told 07:05:40    => not comparable: late
    09:00:30 reading S-1 overall 1.3 told 07:20:00    => not comparable: late
    09:01:10 reading S-1 overall 1.3 told 07:40:00    => not comparable: late
    09:01:40 reading S-1 overall 1.4 told 09:01:40    => not comparable: nothing-loaded
  `);
});

const stamp = (device: string, fields: Partial<Stamp>): Stamp => ({
  device,
  measuredAt: 0,
  waited: false,
  time: undefined,
  bootId: undefined,
  sequence: undefined,
  ...fields,
});

const KNOWN = stamp('bench-1', { measuredAt: 1_000_000, time: 1_000_000, bootId: 'b', sequence: 5 });
const TEN_MINUTES_BEFORE = 1_000_000 - 600_000;

test.each([
  ['a lower number of one start', stamp('bench-1', { measuredAt: 2e6, time: 2e6, bootId: 'b', sequence: 4 }), 'before'],
  ['a higher number, whatever the clock says', stamp('bench-1', { time: 5, bootId: 'b', sequence: 6 }), 'after'],
  ['an earlier time alone', stamp('bench-1', { measuredAt: 500, time: 500 }), 'doubtful'],
  ['an earlier time in another start', stamp('bench-1', { time: 500, bootId: 'c', sequence: 1 }), 'doubtful'],
  // The corrected time alone changed, because a faster message came meanwhile.
  ['a later time of an earlier instant', stamp('bench-1', { measuredAt: 900, time: 1_500_000 }), 'after'],
  ['no time', stamp('bench-1', { measuredAt: 5000 }), 'after'],
  ['another device, cut off', stamp('bench-2', { measuredAt: TEN_MINUTES_BEFORE - 1, waited: true }), 'before'],
  ['another device, heard meanwhile', stamp('bench-2', { measuredAt: TEN_MINUTES_BEFORE - 1 }), 'doubtful'],
  ['another device, ten minutes', stamp('bench-2', { measuredAt: TEN_MINUTES_BEFORE, waited: true }), 'after'],
] as const)('what arrives after it and bears %s happened %s', (_, arrived, order) => {
  expect(orderOf(arrived, KNOWN)).toBe(order);
});
