// A small invented plant for the trials: who sends what, in phases whose order decides the holds, whatever the order within.
import { ACT_TYPES } from '../../shared/acts.ts';
import { deviceSource, personSource } from '../../shared/envelope.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import { MESSAGE_TYPES } from '../../shared/messages/index.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { actTopic, inTopic, type InChannel } from '../../shared/topics.ts';

export const TRIAL_PLANT = 'trial';
const BENCHES = 4;
const SPINDLES = 8;
const ASSEMBLIES_PER_BENCH = 5;
const RECORDERS = 2;
export const WINDOWS_PER_RECORDER = 15;
const WINDOW_SAMPLES = 2048;
export const READINGS_PER_SENSOR = 300;

export interface TrialMessage {
  readonly topic: string;
  readonly payload: string;
  /** What makes it one message: its id, or boot and sequence. */
  readonly key: string;
  /** Of a raw window, in base64. */
  readonly samples?: string;
}

export interface Stream {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves: readonly string[];
  readonly messages: readonly TrialMessage[];
}

/** A phase starts when every stream of the one before it is acknowledged. */
export type Phase = readonly Stream[];

const spindleId = (number: number): string => `S-${number + 1}`;
const assemblyId = (bench: number, number: number): string => `A-${bench + 1}-${number + 1}`;

/** 22 devices: 4 benches, 8 machine controls, 8 sensors, and 2 that send raw windows of spindles of their own. */
export function trialPhases(): readonly Phase[] {
  const at = Date.now();
  return [benches(at), machines(at), [...sensors(at), ...recorders(at)]];
}

/** The spindles as recorded lines, for `counterpoise import`. */
export function declarationLines(): string {
  const lines = Array.from({ length: SPINDLES }, (_, number) => {
    const data = {
      spindleId: spindleId(number),
      machine: `invented machine ${number + 1}`,
      cell: 'trial',
      maxSpeedRpm: 24_000,
      limits: [],
    };
    const envelope = {
      specversion: '1.0',
      id: `declared-${number}`,
      source: personSource(TRIAL_PLANT, 'trial-engineer'),
      type: ACT_TYPES['spindle-declared'],
      roles: 'engineer',
      data,
    };
    return JSON.stringify({ topic: actTopic(TRIAL_PLANT, 'trial-engineer'), at: rfc3339Of(Date.now()), envelope });
  });
  return `${lines.join('\n')}\n`;
}

function benches(at: number): Phase {
  return Array.from({ length: BENCHES }, (_, bench) => {
    const device = `bench-${bench + 1}`;
    const messages: TrialMessage[] = [];
    for (let number = 0; number < ASSEMBLIES_PER_BENCH; number += 1) {
      const about = { assemblyId: assemblyId(bench, number), buildId: `B-${bench + 1}-${number + 1}` };
      const build = {
        ...about,
        massKg: 1.2,
        serviceSpeedRpm: 18_000,
        gradeMmS: 2.5,
        parts: [{ role: 'holder', name: 'invented holder', markedMaxSpeedRpm: 25_000 }],
      };
      messages.push(message(device, 'build', build, at));
      // Every third is far above the 1.59 g·mm that it may keep; the last of a bench is never measured.
      if (number === ASSEMBLIES_PER_BENCH - 1) continue;
      const residualGmm = number % 3 === 1 ? 6 : 0.4;
      const planes = [{ name: 'A', residualGmm, angleDeg: 40 }];
      messages.push(message(device, 'result', { ...about, planes, error: { smallestAchievableGmm: 0.1 } }, at));
      // Repeats of the same measurement under new ids: work for the journal, no change to the holds.
      for (let again = 0; again < 20; again += 1) {
        messages.push(
          message(device, 'result', { ...about, planes, error: { smallestAchievableGmm: 0.1 } }, at, `again-${again}`),
        );
      }
    }
    return { device, kind: 'bench', serves: [], messages };
  });
}

function machines(at: number): Phase {
  return Array.from({ length: SPINDLES }, (_, number) => {
    const device = `machine-${number + 1}`;
    const id = spindleId(number);
    const loaded = assemblyId(number % BENCHES, Math.floor(number / BENCHES) * 2 + (number % 3));
    const messages: TrialMessage[] = [
      message(device, 'load', { spindleId: id, action: 'load', assemblyId: loaded, programmedSpeedRpm: 18_000 }, at),
    ];
    for (let state = 0; state < 60; state += 1) {
      messages.push(
        frequent(
          device,
          'machine',
          { spindleId: id, programmedSpeedRpm: 18_000, actualSpeedRpm: 18_000, cutting: false },
          at,
          state,
        ),
      );
    }
    return { device, kind: 'machine', serves: [id], messages };
  });
}

function sensors(at: number): Phase {
  return Array.from({ length: SPINDLES }, (_, number) => {
    const device = `sensor-${number + 1}`;
    const messages = Array.from({ length: READINGS_PER_SENSOR }, (_unused, reading) =>
      frequent(
        device,
        'summary',
        {
          speedRpm: 18_000,
          overallMmS: 0.8 + reading / 1000,
          synchronousMmS: 0.4 + reading / 2000,
          cutting: false,
          steady: true,
        },
        at,
        reading,
      ),
    );
    return { device, kind: 'sensor', serves: [spindleId(number)], messages };
  });
}

/** Each window another: a line at 200 Hz of its own height and phase. */
function recorders(at: number): Phase {
  return Array.from({ length: RECORDERS }, (_, number) => {
    const device = `recorder-${number + 1}`;
    const messages = Array.from({ length: WINDOWS_PER_RECORDER }, (_unused, window) => {
      const counts = Int16Array.from({ length: WINDOW_SAMPLES }, (_count, n) =>
        Math.round((3000 + 100 * window) * Math.sin((2 * Math.PI * 200 * n) / 8192 + number)),
      );
      const samples = Buffer.from(counts.buffer).toString('base64');
      const about = { channel: 'radial-x', sampleRateHz: 8192, encoding: 'int16', scaleMS2: 0.001, speedRpm: 12_000 };
      return { ...frequent(device, 'wave', { ...about, samples }, at, window), samples };
    });
    return { device, kind: 'sensor', serves: [`W-${number + 1}`], messages };
  });
}

function message(
  device: string,
  channel: InChannel,
  data: Record<string, unknown>,
  at: number,
  more = '',
): TrialMessage {
  const name = [device, channel, data['buildId'] ?? data['spindleId'], more].filter((part) => part !== '').join('-');
  return sealed(device, channel, { id: name, data }, at, `${device} ${name}`);
}

function frequent(
  device: string,
  channel: InChannel,
  data: Record<string, unknown>,
  at: number,
  sequence: number,
): TrialMessage {
  const id = `boot-${sequence}`;
  return sealed(device, channel, { id, bootid: 'boot', sequence: String(sequence), data }, at, `${device} ${id}`);
}

function sealed(
  device: string,
  channel: InChannel,
  own: Record<string, unknown>,
  at: number,
  key: string,
): TrialMessage {
  const envelope = {
    specversion: '1.0',
    source: deviceSource(TRIAL_PLANT, device),
    type: MESSAGE_TYPES[channel],
    time: rfc3339Of(at),
    ...own,
  };
  return { topic: inTopic(TRIAL_PLANT, device, channel), payload: JSON.stringify(envelope), key };
}
