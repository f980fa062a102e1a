// The check compiled from a zod schema says yes exactly where zod does: on good messages, and on messages with one thing wrong.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { CHANNEL_SCHEMAS } from '../../../services/intake/schemas.ts';

const odd = fc.oneof(
  fc.constantFrom(
    undefined,
    null,
    '',
    'NaN',
    -1,
    0,
    1e308,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    true,
    [],
    {},
    '2026-01-01T00:00:00Z',
    '1.0',
    'x'.repeat(300),
  ),
  fc.double(),
  fc.string(),
  fc.integer(),
);
const time = fc
  .date({ min: new Date('1970-01-01T00:00:00Z'), max: new Date('2106-01-01T00:00:00Z'), noInvalidDate: true })
  .map((date) => date.toISOString());

const summaryData = fc.record(
  {
    spindleId: fc.constantFrom('S-01', 'x', 'with space', ''),
    speedRpm: fc.double({ min: 0, max: 500_000, noNaN: true }),
    overallMmS: fc.double({ min: 0, max: 100, noNaN: true }),
    synchronousMmS: fc.double({ min: 0, max: 100, noNaN: true }),
    synchronousPhaseDeg: fc.double({ min: -360, max: 720, noNaN: true }),
    kurtosis: fc.double({ min: 0, max: 100, noNaN: true }),
    cutting: fc.boolean(),
    fault: fc.constantFrom('clipped', 'flat', 'none'),
    extra: fc.integer(),
  },
  { requiredKeys: ['speedRpm', 'overallMmS'] },
);
const machineData = fc.record(
  {
    spindleId: fc.constantFrom('S-01', 'S 1'),
    programmedSpeedRpm: fc.integer({ min: -1, max: 600_000 }),
    cutting: fc.boolean(),
  },
  { requiredKeys: ['spindleId'] },
);

test.each([
  ['summary', summaryData],
  ['machine', machineData],
] as const)('%s', (channel, data) => {
  const schema = CHANNEL_SCHEMAS[channel];
  const message = fc.record(
    {
      specversion: fc.constant('1.0'),
      id: fc.string({ minLength: 1, maxLength: 70 }),
      source: fc.constant('/plant/p/device/d'),
      type: fc.constant(schema.type),
      time,
      sequence: fc.nat().map(String),
      bootid: fc.string({ maxLength: 45 }),
      data: data as fc.Arbitrary<unknown>,
    },
    { requiredKeys: ['specversion', 'id', 'source', 'type', 'data'] },
  );
  const spoiled = fc
    .tuple(message, fc.constantFrom('specversion', 'id', 'time', 'sequence', 'bootid', 'uptimems', 'data'), odd)
    .map(([good, field, value]) => ({ ...good, [field]: value }));
  fc.assert(
    fc.property(fc.oneof(message, spoiled), (candidate) => {
      // What arrives has been through JSON: no undefined, no NaN.
      const value: unknown = JSON.parse(JSON.stringify(candidate));
      expect(schema.quick?.(value)).toBe(schema.whole.safeParse(value).success);
    }),
    { numRuns: 2000 },
  );
});
