// What the tool room does by chance: corrections of every kind, checks that pass and miss, a person who lifts a doubt.
import fc from 'fast-check';
import { CorrectionFeature } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { MIDNIGHT } from './story-data.ts';

export const SCREWS: readonly CorrectionFeature[] = [
  { kind: 'set-screws', featureId: 'screws', radiusMm: 20, holesDeg: [0, 90, 180, 270], stock: [{ massG: 0.2 }] },
  { kind: 'rings', featureId: 'rings', eachGmm: [3, 3], graduationDeg: 5 },
].map((feature) => CorrectionFeature.parse(feature));

const ENGINEER = { name: 'Ada', roles: ['engineer'] };
const bench = fc.constantFrom('bench-1', 'bench-1', 'bench-2');

/** Objects as JSON makes them. */
const PLAIN = { noNullPrototype: true } as const;

const step = fc.oneof(
  fc.record(
    {
      featureId: fc.constantFrom('screws', 'nowhere'),
      angleDeg: fc.constantFrom(0, 90),
      massG: fc.constantFrom(0, 0.05, 0.2),
    },
    PLAIN,
  ),
  fc.record(
    { featureId: fc.constant('rings'), ring: fc.constantFrom(1, 2), angleDeg: fc.constantFrom(10, 170) },
    PLAIN,
  ),
);
const correction = fc.record(
  {
    assemblyId: fc.constantFrom('A-1', 'A-2', 'A-3'),
    buildId: fc.constantFrom('b1', 'b2', 'b3'),
    steps: fc.array(step, { minLength: 1, maxLength: 3 }),
    insteadOf: fc.integer({ min: 1, max: 20 }),
  },
  { ...PLAIN, requiredKeys: ['assemblyId', 'buildId', 'steps'] },
);

const plane = (residualGmm: number, angleDeg: number) => ({ name: 'A', residualGmm, angleDeg });
const proof = fc
  .record({ device: bench, angleDeg: fc.constantFrom(0, 1, 20), hours: fc.constantFrom(undefined, 1, 1000) })
  .map(({ device, angleDeg, hours }) => ({
    kind: 'proof',
    device,
    data: {
      rotorSerial: 'P-1',
      planes: [plane(50, angleDeg)],
      expected: [plane(50, 0)],
      toleranceGmm: 2,
      ...(hours === undefined ? {} : { calibratedUntil: rfc3339Of(MIDNIGHT + hours * 3_600_000) }),
    },
  }));
const benchTest = fc.record({ device: bench, amount: fc.constantFrom(3, 3, 9) }).map(({ device, amount }) => ({
  kind: 'test',
  device,
  data: {
    test: 'minimum-achievable',
    testId: `T-${amount}`,
    rotorSerial: 'P-1',
    claimedGmm: 0.3,
    testMassGmm: 3,
    readings: Array.from({ length: 12 }, (_, nth) => ({ angleDeg: nth * 30, amountGmm: nth < 3 ? amount : 3 })),
  },
}));
const reference = fc.constantFrom(1, 3).map((highUm) => ({
  kind: 'reference-declared',
  actor: ENGINEER,
  data: {
    interfaces: [{ interfaceKind: 'hsk', lowUm: 1, highUm, source: 'our own trials (invented)' }],
    densities: [],
    grades: [],
  },
}));

/** All but position, time and id. */
export const toolRoomDrafts: fc.Arbitrary<Record<string, unknown>> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({ device: bench, data: correction }).map((one) => ({ kind: 'correction', ...one })),
  },
  { weight: 1, arbitrary: correction.map((data) => ({ kind: 'correction-recorded', actor: ENGINEER, data })) },
  { weight: 3, arbitrary: proof },
  { weight: 1, arbitrary: benchTest },
  { weight: 1, arbitrary: reference },
  {
    weight: 1,
    arbitrary: bench.map((benchId) => ({
      kind: 'doubt-lifted',
      actor: ENGINEER,
      data: { benchId, note: 'the rotor was dirty' },
    })),
  },
);
