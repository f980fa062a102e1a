// Everything an entry can be, for properties that hold for all of it: odd numbers, odd texts, all that is optional absent.
import * as fc from 'fast-check';
import type { Draft, Entry, EntryKind } from '../../../shared/entries.ts';
import { NOT_COMPARABLE_REASONS, type Outcome } from '../../../shared/outcomes.ts';
import { SIGNAL_FAULTS } from '../../../shared/messages/index.ts';
import type { MachineState, Summary } from '../../../shared/messages/index.ts';

const at = fc.oneof(
  fc.integer({ min: 0, max: 2 ** 42 }),
  fc.integer({ min: 1_795_000_000_000, max: 1_795_000_100_000 }),
  fc.double({ min: 0, max: 2 ** 42, noNaN: true }),
);
const time = fc.oneof(at, fc.constantFrom(0, -0, -1, 4_291_747_200_000, 2 ** 52, 0.1, -(2 ** 51) - 1));
const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 64 }),
  fc.constantFrom('', '\ud800', '"\\\u0000', '漢字 🌀'),
);
const device = fc.constantFrom('sensor-1', 'sensor-2', 'Q', 'x'.repeat(40));
const bootId = fc.oneof(fc.constantFrom('b1', 'b2', '0'), anyText);
const sequence = fc.oneof(fc.nat({ max: 1000 }), fc.constantFrom(0, -0, 999_999_999_999_999, 2 ** 53 - 1, 0.5));
const quantity = fc.oneof(
  fc.double({ min: 0, max: 1e6, noNaN: true }),
  fc.integer({ min: 0, max: 30_000 }).map((n) => n / 1000),
  fc.constantFrom(0, -0, 1, 12_000, 1e-45, 1e-300, 3.4e38, -3600),
);

const summaryData: fc.Arbitrary<Summary> = fc.record(
  {
    spindleId: fc.constantFrom('S-1', 'S-2'),
    speedRpm: quantity,
    overallMmS: quantity,
    synchronousMmS: quantity,
    synchronousPhaseDeg: quantity,
    secondOrderMmS: quantity,
    accelerationRmsMS2: quantity,
    accelerationPeakMS2: quantity,
    kurtosis: quantity,
    envelopeMS2: quantity,
    cutting: fc.boolean(),
    steady: fc.boolean(),
    fault: fc.constantFrom(...SIGNAL_FAULTS),
  },
  { requiredKeys: ['speedRpm', 'overallMmS'] },
);

const machineData: fc.Arbitrary<MachineState> = fc.record(
  {
    spindleId: fc.constantFrom('S-1', 'S-2'),
    programmedSpeedRpm: quantity,
    actualSpeedRpm: quantity,
    overridePercent: quantity,
    cutting: fc.boolean(),
  },
  { requiredKeys: ['spindleId'] },
);

const plane = fc.record({ name: anyText, residualGmm: quantity, angleDeg: quantity });

const correctionStep = fc.record({ featureId: anyText, angleDeg: quantity, depthMm: quantity });

/** The data of each kind that is not kept in columns; its texts and numbers are what could go wrong. */
const DATA = {
  birth: fc.record({
    kind: fc.constant('sensor'),
    serial: anyText,
    channels: fc.array(fc.record({ name: anyText, unit: anyText })),
  }),
  state: fc.record({ online: fc.boolean() }),
  build: fc.record({
    assemblyId: anyText,
    buildId: anyText,
    massKg: quantity,
    parts: fc.array(fc.record({ name: anyText })),
  }),
  result: fc.record({ assemblyId: anyText, buildId: anyText, planes: fc.array(plane, { maxLength: 2 }) }),
  proof: fc.record({ rotorSerial: anyText, planes: fc.array(plane), toleranceGmm: quantity }),
  wave: fc.record({ channel: anyText, sampleRateHz: quantity, samples: fc.base64String(), tachoS: fc.array(quantity) }),
  load: fc.record({ spindleId: anyText, action: fc.constantFrom('load', 'unload'), assemblyId: anyText }),
  life: fc.record({ spindleId: anyText, lifeMin: quantity, ended: fc.constant('worn') }),
  query: fc.record({ spindleId: anyText, assemblyId: anyText, speedRpm: quantity }),
  'hold-act': fc.record({ act: fc.constant('take'), holdId: anyText, note: anyText }),
  'spindle-declared': fc.record({
    spindleId: anyText,
    machine: anyText,
    limits: fc.array(fc.record({ limitMmS: quantity })),
  }),
  'notice-try': fc.record({ noticeId: anyText, attempt: fc.nat(), detail: anyText }),
  correction: fc.record({ assemblyId: anyText, buildId: anyText, steps: fc.array(correctionStep) }),
  'correction-recorded': fc.record({ assemblyId: anyText, buildId: anyText, steps: fc.array(correctionStep) }),
  test: fc.record({ test: fc.constant('minimum-achievable'), testId: anyText, claimedGmm: quantity }),
  'doubt-lifted': fc.record({ benchId: anyText, note: anyText }),
  'rules-declared': fc.record({ why: anyText, rules: fc.record({ version: fc.nat(), name: anyText }) }),
  'ask-wave': fc.record({ spindleId: anyText, channel: anyText }),
  'work-planned': fc.record({ spindleId: anyText, workId: anyText, note: anyText, calledOff: fc.boolean() }),
  'answering-declared': fc.record({ deviationNames: fc.constantFrom(1, 2), note: anyText }),
  'rates-declared': fc.record({ currency: anyText, spindleHour: fc.record({ amount: quantity }) }),
  'reference-declared': fc.record({ densities: fc.array(fc.record({ material: anyText, densityGCm3: quantity })) }),
} as const;

const actor = fc.record({ name: device, roles: fc.subarray(['engineer', 'service']) });

function fieldsOf(kind: EntryKind): fc.Arbitrary<object> {
  const sent = { device, id: anyText, time, bootId, sequence };
  switch (kind) {
    case 'summary':
      return fc.record({ ...sent, data: summaryData }, { requiredKeys: ['device', 'id', 'data'] });
    case 'machine':
      return fc.record({ ...sent, data: machineData }, { requiredKeys: ['device', 'id', 'data'] });
    case 'tick':
      return fc.record({});
    case 'rejected':
      return fc.record({ device, channel: anyText, problem: anyText, bytes: fc.nat() });
    case 'retried':
      return fc.record({ rejected: fc.nat(), actor });
    case 'analysed':
      return fc.record({
        wave: fc.nat(),
        device,
        spindleId: anyText,
        outcome: fc.record({ kind: fc.constantFrom('skipped', 'failed'), why: anyText }),
      });
    case 'hold-act':
    case 'spindle-declared':
    case 'notice-try':
    case 'correction-recorded':
    case 'doubt-lifted':
    case 'reference-declared':
    case 'rates-declared':
    case 'ask-wave':
    case 'work-planned':
    case 'answering-declared':
    case 'rules-declared':
      return fc.record({ id: anyText, actor, data: DATA[kind] });
    case 'birth':
    case 'state':
    case 'build':
    case 'result':
    case 'correction':
    case 'proof':
    case 'test':
    case 'wave':
    case 'load':
    case 'life':
    case 'query':
      return fc.record({ ...sent, data: DATA[kind] }, { requiredKeys: ['device', 'id', 'data'] });
  }
}

export const ENTRY_KINDS = [
  'summary',
  'machine',
  'tick',
  'rejected',
  'retried',
  'analysed',
  'birth',
  'state',
  'build',
  'result',
  'correction',
  'proof',
  'test',
  'wave',
  'load',
  'life',
  'query',
  'hold-act',
  'spindle-declared',
  'notice-try',
  'correction-recorded',
  'doubt-lifted',
  'reference-declared',
  'rates-declared',
  'rules-declared',
  'work-planned',
  'answering-declared',
] as const satisfies readonly EntryKind[];

/** Readings as often as all the rest. */
export const anyDraft: fc.Arbitrary<Draft> = fc
  .constantFrom<EntryKind>(
    ...ENTRY_KINDS,
    ...Array<'summary'>(9).fill('summary'),
    ...Array<'machine'>(6).fill('machine'),
  )
  .chain((kind) =>
    fc.record({ at, fields: fieldsOf(kind) }).map(({ at, fields }) => ({ at, kind, ...fields }) as Draft),
  );

const exact = fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.constantFrom(0, -0, 0.5, 0.1));

const features = fc.record(
  {
    speedBin: fc.nat({ max: 500 }),
    loadOrdinal: fc.nat(),
    comparable: fc.boolean(),
    notComparable: fc.constantFrom(...NOT_COMPARABLE_REASONS),
    residualGmm: exact,
    expectedMmS: exact,
  },
  { requiredKeys: ['speedBin', 'loadOrdinal', 'comparable'], noNullPrototype: true },
);

/** What rules might make of a batch: up to two outcomes for each of some entries. */
export function anyOutcomes(entries: readonly Entry[]): fc.Arbitrary<readonly Outcome[]> {
  const one = fc
    .record({ place: fc.nat({ max: Math.max(0, entries.length - 1) }), features, remark: anyText, plain: fc.boolean() })
    .map(({ place, plain, features: made, remark }): Outcome => {
      const cause = entries[place]?.position ?? 1;
      return plain
        ? { cause, kind: 'reading-features', features: made }
        : { cause, kind: 'remarked', subject: { kind: 'plant', id: 'demo' }, remark };
    });
  return fc.array(one, { maxLength: entries.length === 0 ? 0 : 40 });
}
