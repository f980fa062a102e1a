// The fold: an entry and what was made of it, into the floor. It owns the floor and changes it.
import type { ActEntry, DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { stampOf } from './clock.ts';
import { speedIsOver } from './decide.ts';
import type { BenchState, Floor } from './floor.ts';
import { foldBirth, foldDeviceState, foldLane, foldRejected } from './fold-device.ts';
import { foldSlow } from './fold-entry.ts';
import { foldOutcome } from './fold-outcome.ts';
import { baseLayer, type Layer } from './layer.ts';
import { foldWatches, newWatch } from './limit-rule.ts';
import { NOTICES_PER_HOLD_MAX } from './limits.ts';
import { readingOf } from './reading.ts';
import { learn } from './response.ts';
import { foldCounts } from './state-rule.ts';

export function evolve(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): Floor {
  if (entry.kind === 'summary') foldReading(floor, entry);
  else foldOther(floor, entry);
  floor.position = entry.position;
  floor.at = entry.at;
  if (outcomes.length === 1 && outcomes[0]?.kind === 'reading-features') return floor;
  const layer = baseLayer(floor);
  for (const outcome of outcomes) foldOutcome(layer, entry, outcome);
  return floor;
}

function foldOther(floor: Floor, entry: Exclude<Entry, EntryOf<'summary'>>): void {
  const layer = baseLayer(floor);
  switch (entry.kind) {
    case 'build':
    case 'load':
    case 'machine':
    case 'result':
      foldSlow(layer, entry, stampOf(entry, floor.devices.get(entry.device)));
      break;
    case 'spindle-declared': {
      foldSlow(layer, entry, undefined);
      const spindle = floor.spindles.get(entry.data.spindleId);
      // New limits are watched anew: a count against another limit says nothing of this one.
      if (spindle !== undefined) spindle.live.watches = entry.data.limits.map(newWatch);
      break;
    }
    case 'notice-try':
      foldNotice(floor, entry);
      break;
    case 'rejected':
      foldRejected(floor, entry);
      break;
    case 'birth':
    case 'state':
    case 'proof':
    case 'wave':
    case 'life':
    case 'query':
    case 'hold-act':
    case 'tick':
    case 'retried':
  }
  if ('device' in entry && entry.kind !== 'rejected') foldDevice(floor, layer, entry as DeviceEntry);
}

function foldDevice(floor: Floor, layer: Layer, entry: DeviceEntry): void {
  foldLane(floor, entry);
  if (entry.kind === 'birth') foldBirth(floor, entry);
  if (entry.kind === 'state') foldDeviceState(floor, entry);
  if (entry.kind === 'result' || entry.kind === 'proof') foldBench(layer, entry);
}

function newBench(bench: string): BenchState {
  return {
    bench,
    state: 'reporting',
    lastResultAt: undefined,
    benchGmm: undefined,
    proofAt: undefined,
    proofWithin: undefined,
  };
}

function foldBench(layer: Layer, entry: EntryOf<'result'> | EntryOf<'proof'>): void {
  const bench = layer.bench(entry.device) ?? newBench(entry.device);
  if (entry.kind === 'proof') {
    const { planes, expected, toleranceGmm } = entry.data;
    const within = planes.every(
      (plane, index) => Math.abs(plane.residualGmm - (expected[index]?.residualGmm ?? 0)) <= toleranceGmm,
    );
    layer.putBench({ ...bench, proofAt: entry.at, proofWithin: within });
    return;
  }
  const measurement = layer
    .assembly(entry.data.assemblyId)
    ?.measurements.find((one) => one.position === entry.position);
  layer.putBench({ ...bench, lastResultAt: entry.at, benchGmm: measurement?.planes[0]?.benchGmm ?? bench.benchGmm });
}

function foldNotice(floor: Floor, { data, at }: Extract<ActEntry, { kind: 'notice-try' }>): void {
  const { noticeId, holdId, channel, to, outcome, attempt, detail } = data;
  const known = floor.notices.get(holdId) ?? [];
  const notice = { noticeId, channel, to, outcome, attempt, at, detail };
  floor.notices.set(holdId, [...known, notice].slice(-NOTICES_PER_HOLD_MAX));
}

/** Changes the spindle's live state in place: nothing is allocated for a reading but what it teaches. */
function foldReading(floor: Floor, entry: EntryOf<'summary'>): void {
  const reading = readingOf(floor, entry);
  const { spindle, features, late, odd, same, measuredAt } = reading;
  const { data } = entry;
  if (!floor.spindles.has(spindle.spindleId)) floor.spindles.set(spindle.spindleId, spindle);
  foldLane(floor, entry);
  floor.readings += 1;
  if (late) return;
  const { live, loaded } = spindle;
  foldCounts(reading, odd !== undefined, same);
  foldWatches(entry, reading);
  if (features.comparable && loaded !== undefined && data.synchronousMmS !== undefined) {
    learn(live, loaded, {
      speedBin: features.speedBin,
      speedRpm: data.speedRpm,
      synchronousMmS: data.synchronousMmS,
      at: measuredAt,
    });
  }
  live.speedOverInRow = features.comparable && speedIsOver(entry, spindle) ? live.speedOverInRow + 1 : 0;
  live.sensor = entry.device;
  live.lastReadingAt = entry.at;
  live.lastPosition = entry.position;
  live.speedRpm = data.speedRpm;
  live.overallMmS = data.overallMmS;
  live.synchronousMmS = data.synchronousMmS;
  live.accelerationRmsMS2 = data.accelerationRmsMS2;
  live.expectedMmS = features.expectedMmS;
  live.comparable = features.comparable;
  live.notComparable = features.notComparable;
}
