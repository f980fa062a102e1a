// A spindle's beginning, and the folds of what its machine control says: loads, unloads, machine states.
import type { ActEntry, EntryOf } from '../../shared/entries.ts';
import { newAssembly } from './assembly-state.ts';
import { authorsAfter } from './authors.ts';
import { happenedBefore } from './clock.ts';
import type { AssemblyState, LoadedState, LoadRecordState, SpindleLive, SpindleState, Stamp } from './floor.ts';
import type { Layer } from './layer.ts';
import { LOADS_PER_ASSEMBLY_MAX, LOADS_PER_SPINDLE_MAX, SPEED_TOLERANCE_SHARE, UNBOUNDED_RPM } from './limits.ts';
import { withFigures } from './pairing.ts';

function newLive(): SpindleLive {
  return {
    sensor: undefined,
    lastReadingAt: undefined,
    lastComparableAt: undefined,
    lastLateAt: undefined,
    lateInRow: 0,
    lastPosition: 0,
    speedRpm: 0,
    overallMmS: 0,
    synchronousMmS: undefined,
    expectedMmS: undefined,
    comparable: false,
    notComparable: undefined,
    oddInRow: { told: 0, beyond: 0, 'part-over-whole': 0, standing: 0, turning: 0 },
    lastOdd: undefined,
    soundInRow: 0,
    sameInRow: 0,
    inMotion: { overallMmS: undefined, synchronousMmS: undefined, accelerationRmsMS2: undefined },
    speedOverInRow: 0,
    heardFrom: undefined,
    doubt: undefined,
    trial: undefined,
    watches: [],
    bins: new Map(),
    turnedAt: undefined,
    turnedMs: 0,
    restedAtTurnedMs: undefined,
    severityBin: undefined,
    severityChanges: [],
  };
}

export function newSpindle(spindleId: string): SpindleState {
  return {
    spindleId,
    declaration: undefined,
    loadOrdinal: 0,
    loaded: undefined,
    lastChange: undefined,
    loads: [],
    machine: undefined,
    state: 'reporting',
    stateWhy: '',
    gate: undefined,
    onHold: false,
    work: [],
    tuned: undefined,
    live: newLive(),
  };
}

export const spindleOrNew = (layer: Layer, id: string): SpindleState => layer.spindle(id) ?? newSpindle(id);
export const assemblyOrNew = (layer: Layer, id: string): AssemblyState => layer.assembly(id) ?? newAssembly(id);

/** Whether a load message tells of something that happened before what is already known: kept, but superseded. */
export function isSuperseded(spindle: SpindleState | undefined, stamp: Stamp): boolean {
  return spindle?.lastChange !== undefined && happenedBefore(stamp, spindle.lastChange);
}

function endedRecord(loads: readonly LoadRecordState[], spindleId: string, until: number): readonly LoadRecordState[] {
  const last = loads.findLastIndex((load) => load.spindleId === spindleId && load.until === undefined);
  return last < 0 ? loads : loads.map((load, index) => (index === last ? { ...load, until } : load));
}

/** Takes what is loaded out of a spindle. */
export function foldUnload(layer: Layer, spindleId: string, stamp: Stamp): void {
  const spindle = spindleOrNew(layer, spindleId);
  const { loaded } = spindle;
  const loads = endedRecord(spindle.loads, spindleId, stamp.measuredAt);
  layer.putSpindle({ ...spindle, loaded: undefined, lastChange: stamp, loads, gate: undefined });
  if (loaded === undefined) return;
  const assembly = layer.assembly(loaded.assemblyId);
  if (assembly === undefined || assembly.loadedIn !== spindleId) return;
  layer.putAssembly({
    ...assembly,
    loadedIn: undefined,
    loads: endedRecord(assembly.loads, spindleId, stamp.measuredAt),
  });
  refreshOnHold(layer, spindleId);
}

/** A load that arrived after what followed it: on record, without effect on what is loaded. */
function foldSuperseded(layer: Layer, entry: EntryOf<'load'>, stamp: Stamp): void {
  const { assemblyId, spindleId, buildId, action } = entry.data;
  if (action !== 'load' || assemblyId === undefined) return;
  const spindle = spindleOrNew(layer, spindleId);
  const record: LoadRecordState = {
    spindleId,
    ordinal: 0,
    assemblyId,
    buildId,
    at: stamp.measuredAt,
    until: stamp.measuredAt,
    position: entry.position,
  };
  const index = spindle.loads.findIndex((load) => load.at > record.at);
  const loads = index < 0 ? [...spindle.loads, record] : spindle.loads.toSpliced(index, 0, record);
  layer.putSpindle({ ...spindle, loads: loads.slice(-LOADS_PER_SPINDLE_MAX) });
}

/** A load or unload. An assembly is in one place: loaded here, it is no longer where it was. */
export function foldLoad(layer: Layer, entry: EntryOf<'load'>, stamp: Stamp): void {
  const { spindleId, action, assemblyId, buildId, programmedSpeedRpm } = entry.data;
  if (isSuperseded(layer.spindle(spindleId), stamp)) return foldSuperseded(layer, entry, stamp);
  const elsewhere = assemblyId === undefined ? undefined : layer.assembly(assemblyId)?.loadedIn;
  foldUnload(layer, spindleId, stamp);
  if (action === 'unload' || assemblyId === undefined) return;
  if (elsewhere !== undefined && elsewhere !== spindleId) foldUnload(layer, elsewhere, stamp);
  const spindle = spindleOrNew(layer, spindleId);
  const assembly = assemblyOrNew(layer, assemblyId);
  const ordinal = spindle.loadOrdinal + 1;
  const loaded: LoadedState = {
    assemblyId,
    buildId,
    at: stamp.measuredAt,
    position: entry.position,
    ordinal,
    device: entry.device,
    waivers: [],
    residualGmm: undefined,
    speedBoundRpm: UNBOUNDED_RPM,
  };
  const { position } = entry;
  const record: LoadRecordState = {
    spindleId,
    ordinal,
    assemblyId,
    buildId,
    at: loaded.at,
    until: undefined,
    position,
  };
  layer.putAssembly({
    ...assembly,
    loadedIn: spindleId,
    loads: [...assembly.loads, record].slice(-LOADS_PER_ASSEMBLY_MAX),
  });
  layer.putSpindle({
    ...spindle,
    loadOrdinal: ordinal,
    loaded: withFigures(loaded, assembly),
    loads: [...spindle.loads, record].slice(-LOADS_PER_SPINDLE_MAX),
    // The speed of the program before says nothing of this assembly.
    machine: {
      ...(spindle.machine ?? noFacts(entry.at)),
      at: entry.at,
      programmedSpeedRpm,
      programmedSince: entry.at,
      actualSpeedRpm: undefined,
      actualSince: undefined,
      actualAt: undefined,
    },
  });
  refreshOnHold(layer, spindleId);
}

function noFacts(at: number): NonNullable<SpindleState['machine']> {
  return {
    at,
    programmedSpeedRpm: undefined,
    actualSpeedRpm: undefined,
    overridePercent: undefined,
    cutting: undefined,
  };
}

/** What a machine state leaves out stays as it was. */
export function foldMachine(layer: Layer, entry: EntryOf<'machine'>): void {
  const spindle = spindleOrNew(layer, entry.data.spindleId);
  const before = spindle.machine ?? noFacts(entry.at);
  const { programmedSpeedRpm, actualSpeedRpm, overridePercent, cutting } = entry.data;
  const isSameProgram = programmedSpeedRpm === undefined || programmedSpeedRpm === before.programmedSpeedRpm;
  layer.putSpindle({
    ...spindle,
    machine: {
      at: entry.at,
      programmedSpeedRpm: programmedSpeedRpm ?? before.programmedSpeedRpm,
      actualSpeedRpm: actualSpeedRpm ?? before.actualSpeedRpm,
      overridePercent: overridePercent ?? before.overridePercent,
      cutting: cutting ?? before.cutting,
      programmedSince: isSameProgram ? before.programmedSince : entry.at,
      actualSince: isSameSpeed(before.actualSpeedRpm, actualSpeedRpm) ? before.actualSince : entry.at,
      actualAt: actualSpeedRpm === undefined ? before.actualAt : entry.at,
    },
  });
}

/** Whether an actual speed that is told is the one before but for its wander; what is left out stays as it was. */
function isSameSpeed(before: number | undefined, told: number | undefined): boolean {
  return told === undefined || (before !== undefined && Math.abs(told - before) <= before * SPEED_TOLERANCE_SHARE);
}

export function foldSpindleDeclared(layer: Layer, entry: Extract<ActEntry, { kind: 'spindle-declared' }>): void {
  const { spindleId, machine, cell, interface: taper, maxSpeedRpm, limits, zones } = entry.data;
  const { bearings, velocityBandHz, envelopeBandHz, measuredChannel } = entry.data;
  const spindle = spindleOrNew(layer, spindleId);
  layer.putSpindle({
    ...spindle,
    declaration: {
      machine,
      cell,
      interface: taper,
      maxSpeedRpm,
      limits,
      zones,
      ...authorsAfter(spindle.declaration, { limits, zones }, entry.actor.name),
      measuring: { bearings, velocityBandHz, envelopeBandHz, measuredChannel },
      by: entry.actor.name,
      at: entry.at,
      position: entry.position,
    },
  });
}

/** Brings the pairing's figures up to date after its assembly changed. */
export function refreshPairing(layer: Layer, assemblyId: string): void {
  const assembly = layer.assembly(assemblyId);
  const spindle = assembly?.loadedIn === undefined ? undefined : layer.spindle(assembly.loadedIn);
  if (spindle?.loaded?.assemblyId !== assemblyId) return;
  layer.putSpindle({ ...spindle, loaded: withFigures(spindle.loaded, assembly) });
}

/** Whether anything of a spindle is on hold, after its holds or what is loaded changed. */
export function refreshOnHold(layer: Layer, spindleId: string): void {
  const spindle = layer.spindle(spindleId);
  if (spindle === undefined) return;
  const { loaded } = spindle;
  const onHold =
    layer.openHolds({ kind: 'spindle', id: spindleId }).length > 0 ||
    (loaded !== undefined && layer.openHolds({ kind: 'assembly', id: loaded.assemblyId }).length > 0);
  layer.putSpindle({ ...spindle, onHold });
}
