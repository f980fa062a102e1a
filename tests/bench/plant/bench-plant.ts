// An invented plant for the benches: spindles with limits and a learned response, each with a measured assembly loaded,
// so that the rules have all of their work to do for every reading.
import { ACT_TYPES } from '../../../shared/acts.ts';
import { deviceSource, personSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { MILLISECONDS_A_MINUTE, rfc3339Of } from '../../../shared/time.ts';
import { actTopic, inTopic, type InChannel } from '../../../shared/topics.ts';
import { TIME_MARK } from '../mqtt-load.ts';

export const BENCH_PLANT = 'bench';
export const READER = 'reader-1';
const ENGINEER = 'bench-engineer';
export const TOOL_ROOM = 'bench-1';
const SPEED_RPM = 18_000;
/** Assemblies that every spindle has had: enough for its response line. */
const ASSEMBLIES = 4;
const READINGS_PER_LOAD = 4;

const four = (number: number): string => String(number).padStart(4, '0');
export const spindleOf = (number: number): string => `S-${four(number)}`;
export const sensorOf = (number: number): string => `sensor-${four(number)}`;
export const machineOf = (number: number): string => `machine-${four(number)}`;
/** A floor of many spindles shows a line for each cell. */
const SPINDLES_PER_CELL = 20;
const cellOf = (number: number): string => `invented cell ${Math.ceil(number / SPINDLES_PER_CELL)}`;
export const assemblyOf = (number: number, which: number): string => `A-${four(number)}-${which}`;
/** Measured far over what it may keep, so that loading it is held; one for each machine that the benches speak for. */
export const heldAssemblyOf = (number: number): string => `H-${four(number)}`;

export interface BenchDevice {
  readonly device: string;
  readonly kind: 'bench' | 'sensor' | 'machine' | 'reader';
  readonly serves: readonly string[];
}

/** Machine controls that the benches speak for; more spindles than these have sensors only. */
export const MACHINES_MAX = 50;

export function benchDevices(spindles: number): readonly BenchDevice[] {
  const devices: BenchDevice[] = [
    { device: READER, kind: 'reader', serves: ['*'] },
    { device: TOOL_ROOM, kind: 'bench', serves: [] },
  ];
  for (let number = 1; number <= spindles; number += 1) {
    devices.push({ device: sensorOf(number), kind: 'sensor', serves: [spindleOf(number)] });
    if (number > MACHINES_MAX) continue;
    devices.push({ device: machineOf(number), kind: 'machine', serves: [spindleOf(number)] });
  }
  return devices;
}

/** Its past as recorded lines, for `counterpoise import`; one spindle after another within the last hours. */
export function* benchRecording(spindles: number, until: number): Iterable<string> {
  let at = until - spindles * ASSEMBLIES * (READINGS_PER_LOAD + 3) - MILLISECONDS_A_MINUTE;
  let number = 0;
  const line = (device: string, channel: InChannel, data: Record<string, unknown>): string => {
    at += 1;
    number += 1;
    const envelope = {
      specversion: '1.0',
      id: `past-${number}`,
      source: deviceSource(BENCH_PLANT, device),
      type: MESSAGE_TYPES[channel],
      time: rfc3339Of(at),
      data,
    };
    return JSON.stringify({ topic: inTopic(BENCH_PLANT, device, channel), at: rfc3339Of(at), envelope });
  };
  for (let spindle = 1; spindle <= spindles; spindle += 1) {
    yield declaration(spindle, at);
    yield line(sensorOf(spindle), 'birth', { kind: 'sensor', intervalS: 1, serves: [spindleOf(spindle)] });
    for (const message of pastOf(spindle)) yield line(message.device, message.channel, message.data);
  }
}

interface PastMessage {
  readonly device: string;
  readonly channel: InChannel;
  readonly data: Record<string, unknown>;
}

function* pastOf(spindle: number): Iterable<PastMessage> {
  for (let which = 1; which <= ASSEMBLIES; which += 1) {
    const assemblyId = assemblyOf(spindle, which);
    const residualGmm = 0.3 * which;
    yield* measured(assemblyId, residualGmm);
    yield {
      device: machineOf(spindle),
      channel: 'load',
      data: { spindleId: spindleOf(spindle), action: 'load', assemblyId, programmedSpeedRpm: SPEED_RPM },
    };
    for (let reading = 0; reading < READINGS_PER_LOAD; reading += 1) {
      const synchronousMmS = 0.2 + residualGmm * 0.3 + reading * 0.001;
      const data = { speedRpm: SPEED_RPM, overallMmS: synchronousMmS * 1.6, synchronousMmS, steady: true };
      yield { device: sensorOf(spindle), channel: 'summary', data: { ...data, cutting: false } };
    }
  }
  if (spindle <= MACHINES_MAX) yield* measured(heldAssemblyOf(spindle), 9);
}

function* measured(assemblyId: string, residualGmm: number): Iterable<PastMessage> {
  const buildId = `B-${assemblyId}`;
  const build = {
    assemblyId,
    buildId,
    massKg: 1.2,
    serviceSpeedRpm: SPEED_RPM,
    gradeMmS: 2.5,
    parts: [{ role: 'holder', name: 'invented holder', markedMaxSpeedRpm: 25_000 }],
  };
  yield { device: TOOL_ROOM, channel: 'build', data: build };
  const planes = [{ name: 'A', residualGmm, angleDeg: 40 }];
  const result = { assemblyId, buildId, planes, error: { smallestAchievableGmm: 0.1 } };
  yield { device: TOOL_ROOM, channel: 'result', data: result };
}

function declaration(spindle: number, at: number): string {
  const source = 'invented for the bench';
  const limits = (['overall', 'synchronous'] as const).flatMap((quantity) =>
    [
      [500, 12_000],
      [12_000, 24_000],
    ].map(([fromSpeedRpm, toSpeedRpm]) => ({
      quantity,
      fromSpeedRpm,
      toSpeedRpm,
      limitMmS: quantity === 'overall' ? 4.5 : 2.8,
      source,
    })),
  );
  const spindleId = spindleOf(spindle);
  const data = {
    spindleId,
    machine: `invented machine ${spindle}`,
    cell: cellOf(spindle),
    maxSpeedRpm: 24_000,
    limits,
  };
  const envelope = {
    specversion: '1.0',
    id: `declared-${spindle}`,
    source: personSource(BENCH_PLANT, ENGINEER),
    type: ACT_TYPES['spindle-declared'],
    roles: 'engineer',
    data,
  };
  return JSON.stringify({ topic: actTopic(BENCH_PLANT, ENGINEER), at: rfc3339Of(at), envelope });
}

/** What a sensor sends, about 400 bytes: its number, the time and its values are new in each message. */
export function summaryTemplate(sensor: number, boot: string): string {
  return JSON.stringify({
    specversion: '1.0',
    id: `${boot}-~~~~~~~~~~`,
    source: deviceSource(BENCH_PLANT, sensorOf(sensor)),
    type: MESSAGE_TYPES.summary,
    time: TIME_MARK,
    bootid: boot,
    sequence: '~~~~~~~~~~',
    data: {
      speedRpm: SPEED_RPM,
      overallMmS: '0.8~~~',
      synchronousMmS: '0.5~~~',
      accelerationRmsMS2: '3.1~~',
      kurtosis: '3.0~~',
      cutting: false,
      steady: true,
    },
    // Values are numbers: the quotation marks around the digits go.
  }).replaceAll(/"(\d\.\d~+)"/g, '$1');
}
