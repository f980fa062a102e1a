import { describe, expect, it } from 'vitest';
import { CLOCK_PLAUSIBLE_MS, deviceTimeOf } from '../../shared/device-time.ts';

const AT = Date.UTC(2026, 10, 29);

describe('the time that a device gives', () => {
  it.each(['0001-01-01T00:00:00Z', '1970-01-01T00:00:00Z', '2099-01-01T00:00:00Z'])(
    'is not used where its clock was never set: %s',
    (text) => expect(deviceTimeOf(AT, Date.parse(text))).toBe(AT),
  );

  it('is used as far as a clock may be off, and the arrival where there is none', () => {
    expect(deviceTimeOf(AT, AT - CLOCK_PLAUSIBLE_MS)).toBe(AT - CLOCK_PLAUSIBLE_MS);
    expect(deviceTimeOf(AT, AT + 1000)).toBe(AT + 1000);
    expect(deviceTimeOf(AT, undefined)).toBe(AT);
  });
});
