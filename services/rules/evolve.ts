// The fold: an entry and what was made of it, into the floor. It owns the floor and changes it.
import type { DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { measuredAtOf } from './clock.ts';
import type { Floor } from './floor.ts';
import { foldBirth, foldDeviceState, foldLane, foldRejected, laneOf } from './fold-device.ts';
import { foldSlow, type SlowEntry } from './fold-entry.ts';
import { loadedBefore, foldLiveAfterLoad, foldLiveAfterOutcome, foldLiveAfterDeclared } from './fold-live.ts';
import { foldHeadroom, headroomOfReading } from './headroom.ts';
import { foldNotice } from './fold-notice.ts';
import { foldOutcome } from './fold-outcome.ts';
import { addSpindle, foldReading } from './fold-reading.ts';
import { baseLayer } from './layer.ts';
import { foldRelating, relateReading } from './relating/index.ts';
import { foldRules, foldTuning } from './tuning.ts';
import { foldAnalysed, foldAsked, foldWave } from './window-state.ts';

const NOWHERE: readonly string[] = [];

/** Takes an entry with its recorded outcomes; returns the floor it was given, changed. */
export function evolve(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): Floor {
  floor.position = entry.position;
  floor.at = entry.at;
  if (entry.kind === 'summary') {
    evolveReading(floor, entry, outcomes);
    return floor;
  }
  foldOther(floor, entry);
  if (outcomes.length > 0) foldOutcomes(floor, outcomes);
  foldRelating(floor, entry, outcomes);
  foldHeadroom(floor, entry, outcomes);
  if ('device' in entry && entry.kind !== 'analysed') foldDevice(floor, entry);
  return floor;
}

/** Most of what comes: the lane, the spindle and what is remembered of it are each looked up once. */
function evolveReading(floor: Floor, entry: EntryOf<'summary'>, outcomes: readonly Outcome[]): void {
  floor.readings += 1;
  const lane = laneOf(floor, entry.device);
  const { spindleId } = entry.data;
  const first = outcomes[0];
  if (spindleId !== undefined && first?.kind === 'reading-features') {
    const { features } = first;
    const measuredAt = measuredAtOf(entry.at, entry.time, lane);
    let spindle = floor.spindles.get(spindleId) ?? addSpindle(floor, spindleId);
    foldReading(floor, spindle, entry, outcomes, features, measuredAt);
    if (outcomes.length > 1) {
      foldOutcomes(floor, outcomes);
      spindle = floor.spindles.get(spindleId) ?? spindle;
    }
    relateReading(floor, spindle, entry, features, measuredAt);
    if (outcomes.length > 1) foldRelating(floor, entry, outcomes);
    headroomOfReading(floor, spindle, entry, features);
  } else if (outcomes.length > 1) {
    foldOutcomes(floor, outcomes);
    foldRelating(floor, entry, outcomes);
  }
  // A reading's features alone tell nothing of an override.
  if (outcomes.length > 1) foldHeadroom(floor, entry, outcomes);
  foldLane(lane, entry);
}

function foldOther(floor: Floor, entry: SlowEntry): void {
  const places = entry.kind === 'load' ? loadedBefore(floor, entry) : undefined;
  foldBearable(floor, entry);
  if (places !== undefined) foldLiveAfterLoad(floor, places);
  if (entry.kind === 'spindle-declared') foldLiveAfterDeclared(floor, entry.data.spindleId);
  if (entry.kind === 'rules-declared') foldRules(floor, entry);
  else foldTuning(floor, entry, places?.map(({ spindleId }) => spindleId) ?? NOWHERE);
  if (entry.kind === 'notice-try') foldNotice(floor, entry);
  if (entry.kind === 'wave') foldWave(floor, entry);
  if (entry.kind === 'analysed') foldAnalysed(floor, entry);
}

/**
 * What no fold can bear changes nothing but the lane of its device: it is on record with the remark of the one who decided,
 * and the same entry must not stop each start for ever. A fold that fails fails alike in every replay.
 */
function foldBearable(floor: Floor, entry: SlowEntry): void {
  try {
    foldSlow(baseLayer(floor), entry);
  } catch (failure) {
    if (!(failure instanceof Error)) throw failure;
  }
}

function foldOutcomes(floor: Floor, outcomes: readonly Outcome[]): void {
  const layer = baseLayer(floor);
  for (const outcome of outcomes) {
    foldOutcome(layer, outcome);
    foldLiveAfterOutcome(floor, outcome);
    if (outcome.kind === 'wave-asked') foldAsked(floor, outcome);
  }
}

function foldDevice(floor: Floor, entry: DeviceEntry | Extract<Entry, { kind: 'rejected' }>): void {
  if (entry.kind === 'rejected') return foldRejected(floor, entry);
  foldLane(laneOf(floor, entry.device), entry);
  if (entry.kind === 'birth') foldBirth(floor, entry);
  if (entry.kind === 'state') foldDeviceState(floor, entry);
}
