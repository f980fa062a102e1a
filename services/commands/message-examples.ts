// One example of each message, with invented names: shown in the message reference, and read by intake in its test.
import { deviceSource } from '../../shared/envelope.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import { MESSAGE_TYPES, WAVE_SAMPLES_MIN } from '../../shared/messages/index.ts';
import type { InChannel } from '../../shared/topics.ts';

export interface MessageExample {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly id: string;
  readonly data: object;
  readonly sequence?: string;
}

const PLANT = 'north-1';
const TIME = '2026-11-24T07:31:05.120Z';
const BOOT = 'b7f3';

/** As few samples as a window may have: one line at 200 Hz. */
const SHORT_WINDOW = Buffer.from(
  Int16Array.from({ length: WAVE_SAMPLES_MIN }, (_, n) => Math.round(1000 * Math.sin((2 * Math.PI * n) / 128))).buffer,
).toString('base64');

export const EXAMPLES: Record<InChannel, MessageExample> = {
  birth: {
    device: 'sensor-7',
    kind: 'sensor',
    id: '01JDF6Q1B2C3D4E5F6G7H8J9K0',
    data: { kind: 'sensor', serial: 'VS-000417', firmware: '2.4.1', serves: ['S-07'], intervalS: 1 },
  },
  state: {
    device: 'sensor-7',
    kind: 'sensor',
    id: '01JDF6Q1B2C3D4E5F6G7H8J9K1',
    data: { online: true, reason: 'connected' },
  },
  build: {
    device: 'bench-2',
    kind: 'bench',
    id: 'build-A-1042-3',
    data: {
      assemblyId: 'A-1042',
      buildId: 'A-1042-3',
      massKg: 2.64,
      serviceSpeedRpm: 12_000,
      gradeMmS: 6.3,
      interface: 'HSK-A63',
      parts: [
        { role: 'holder', name: 'Shrink-fit holder 12x120', serial: 'H-5521', massKg: 2.1, markedMaxSpeedRpm: 25_000 },
        { role: 'cutter', name: 'End mill D12 Z4', markedMaxSpeedRpm: 22_000 },
      ],
      features: [
        {
          kind: 'radial-holes',
          featureId: 'balancing-holes',
          radiusMm: 31,
          densityGCm3: 7.85,
          depthMaxMm: 8,
          diametersMm: [4, 5],
          keepClear: [{ fromDeg: 345, toDeg: 15, why: 'drive slot' }],
          source: "holder maker's sheet of 2026 (invented)",
        },
      ],
      change: 'new cutter',
    },
  },
  result: {
    device: 'bench-2',
    kind: 'bench',
    id: 'run-2026-11-24-0047',
    data: {
      assemblyId: 'A-1042',
      buildId: 'A-1042-3',
      stage: 'after-correction',
      frame: 'machine',
      readings: [
        { indexDeg: 0, planes: [{ amountGmm: 2.9, angleDeg: 31 }] },
        { indexDeg: 180, planes: [{ amountGmm: 2.1, angleDeg: 205 }] },
      ],
      measuredAtRpm: 1100,
      error: { smallestAchievableGmm: 0.5, scaleErrorPercent: 3, angleErrorDeg: 2 },
    },
  },
  correction: {
    device: 'bench-2',
    kind: 'bench',
    id: 'correction-2026-11-24-0012',
    data: {
      assemblyId: 'A-1042',
      buildId: 'A-1042-3',
      steps: [{ featureId: 'balancing-holes', angleDeg: 31, diameterMm: 5, depthMm: 3.4 }],
    },
  },
  test: {
    device: 'bench-2',
    kind: 'bench',
    id: 'test-2026-11-24-1',
    data: {
      test: 'minimum-achievable',
      testId: 'U-2026-11',
      rotorSerial: 'PR-17',
      claimedGmm: 0.3,
      testMassGmm: 3,
      readings: [
        { angleDeg: 0, amountGmm: 3.05 },
        { angleDeg: 30, amountGmm: 2.96 },
      ],
    },
  },
  proof: {
    device: 'bench-2',
    kind: 'bench',
    id: 'proof-2026-11-24',
    data: {
      rotorSerial: 'PR-17',
      planes: [{ name: 'A', residualGmm: 50.6, angleDeg: 91 }],
      expected: [{ name: 'A', residualGmm: 50, angleDeg: 90 }],
      toleranceGmm: 2,
      calibratedUntil: '2027-06-30T00:00:00Z',
    },
  },
  summary: {
    device: 'sensor-7',
    kind: 'sensor',
    id: 's-b7f3-4711',
    sequence: '4711',
    data: {
      speedRpm: 11_988,
      overallMmS: 1.42,
      synchronousMmS: 0.87,
      synchronousPhaseDeg: 112.5,
      cutting: false,
      steady: true,
    },
  },
  wave: {
    device: 'sensor-7',
    kind: 'sensor',
    id: 'w-b7f3-4712',
    sequence: '4712',
    data: {
      channel: 'radial',
      sampleRateHz: 25_600,
      encoding: 'int16',
      scaleMS2: 0.0048,
      samples: SHORT_WINDOW,
      speedRpm: 11_988,
    },
  },
  machine: {
    device: 'machine-3',
    kind: 'machine',
    id: 'm-21c0-902',
    sequence: '902',
    data: {
      spindleId: 'S-07',
      programmedSpeedRpm: 12_000,
      actualSpeedRpm: 11_988,
      overridePercent: 100,
      cutting: true,
    },
  },
  load: {
    device: 'machine-3',
    kind: 'machine',
    id: 'load-2026-11-24-0131',
    data: { spindleId: 'S-07', action: 'load', assemblyId: 'A-1042', buildId: 'A-1042-3', programmedSpeedRpm: 12_000 },
  },
  life: {
    device: 'machine-3',
    kind: 'machine',
    id: 'life-2026-11-24-0012',
    data: { spindleId: 'S-07', assemblyId: 'A-1042', buildId: 'A-1042-3', lifeMin: 412, ended: 'worn' },
  },
  query: {
    device: 'machine-3',
    kind: 'machine',
    id: 'ask-2026-11-24-0131',
    data: { spindleId: 'S-07', assemblyId: 'A-1042', speedRpm: 12_000 },
  },
};

export function exampleMessage(channel: InChannel, { device, id, data, sequence }: MessageExample): object {
  return {
    specversion: '1.0',
    id,
    source: deviceSource(PLANT, device),
    type: MESSAGE_TYPES[channel],
    time: TIME,
    ...(sequence === undefined ? {} : { bootid: BOOT, sequence }),
    data,
  };
}
