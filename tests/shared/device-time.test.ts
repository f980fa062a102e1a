import { describe, expect, it } from 'vitest';
import { CLOCK_AHEAD_TOLD_MS, CLOCK_PLAUSIBLE_MS, clockAheadMsOf, deviceTimeOf } from '../../shared/device-time.ts';

const AT = Date.UTC(2026, 10, 29);

describe('the time that a device gives', () => {
  it.each(['0001-01-01T00:00:00Z', '1970-01-01T00:00:00Z', '2099-01-01T00:00:00Z'])(
    'is not used where its clock was never set: %s',
    (text) => expect(deviceTimeOf(AT, Date.parse(text))).toBe(AT),
  );

  it('is used as far as a clock may be off, and the arrival where there is none', () => {
    expect(deviceTimeOf(AT, AT - CLOCK_PLAUSIBLE_MS)).toBe(AT - CLOCK_PLAUSIBLE_MS);
    expect(deviceTimeOf(AT, AT - 1000)).toBe(AT - 1000);
    expect(deviceTimeOf(AT, undefined)).toBe(AT);
  });

  it('is never after the arrival: nothing is measured after it came, however far ahead its clock is', () => {
    const ahead = [1, 1000, 86_400_000, CLOCK_PLAUSIBLE_MS];
    expect(ahead.map((aheadMs) => deviceTimeOf(AT, AT + aheadMs))).toEqual(ahead.map(() => AT));
  });

  it('is told to be ahead where that is more than ordinary clocks differ by', () => {
    expect(clockAheadMsOf(AT, AT + CLOCK_AHEAD_TOLD_MS)).toBeUndefined();
    expect(clockAheadMsOf(AT, AT + CLOCK_AHEAD_TOLD_MS + 1)).toBe(CLOCK_AHEAD_TOLD_MS + 1);
    expect(clockAheadMsOf(AT, AT - 1000)).toBeUndefined();
    expect(clockAheadMsOf(AT, undefined)).toBeUndefined();
  });
});
