// The folds of entries that come seldom: the same into a layer, to decide, or into the floor, to keep.
import type { DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import { instantOf } from '../../shared/time.ts';
import { withBuild, withResult } from './assembly-state.ts';
import {
  foldCalibration,
  foldCheck,
  foldDoubtLifted,
  foldOverdue,
  doubtOf,
  proofSays,
  testSays,
} from './bench-doubt.ts';
import { newBench, withProof, withResultOf, withTest } from './bench-state.ts';
import { stampOf } from './clock.ts';
import { personStamp, withCorrection, type CorrectionEntry } from './correction-state.ts';
import type { BenchState, Stamp } from './floor.ts';
import type { Layer } from './layer.ts';
import { foldWorkPlanned } from './planned-work.ts';
import { assemblyOrNew, foldLoad, foldMachine, foldSpindleDeclared, refreshPairing } from './spindle-state.ts';

/** Entries that change more than a reading does. */
export type SlowEntry = Exclude<Entry, EntryOf<'summary'>>;

/** The lane of the device is folded after this: what the entry itself tells of the clock does not judge it. */
export function stampIn(layer: Layer, entry: DeviceEntry): Stamp {
  return stampOf(entry, layer.floor.devices.get(entry.device));
}

const benchOrNew = (layer: Layer, bench: string): BenchState => layer.bench(bench) ?? newBench(bench);

export function foldSlow(layer: Layer, entry: SlowEntry): void {
  switch (entry.kind) {
    case 'build':
      foldBuild(layer, entry);
      return;
    case 'result':
      foldResult(layer, entry);
      return;
    case 'correction':
      foldCorrection(layer, entry, stampIn(layer, entry));
      return;
    case 'correction-recorded':
      foldCorrection(layer, entry, personStamp(entry));
      return;
    case 'proof':
      foldProof(layer, entry);
      return;
    case 'test':
      foldTest(layer, entry);
      return;
    case 'birth':
      foldBenchBirth(layer, entry);
      return;
    case 'doubt-lifted': {
      const bench = layer.bench(entry.data.benchId);
      if (bench !== undefined) foldDoubtLifted(layer, bench);
      return;
    }
    case 'tick':
      for (const bench of layer.floor.benches.values()) foldOverdue(layer, bench, entry);
      return;
    case 'load':
      foldLoad(layer, entry, stampIn(layer, entry));
      return;
    case 'machine':
      foldMachine(layer, entry);
      return;
    case 'spindle-declared':
    case 'reference-declared':
    case 'work-planned':
    case 'answering-declared':
      foldDeclared(layer, entry);
      return;
    case 'state':
    case 'wave':
    case 'life':
    case 'query':
    case 'hold-act':
    case 'ask-wave':
    case 'rules-declared':
    case 'rates-declared':
    case 'notice-try':
    case 'rejected':
    case 'retried':
    case 'analysed':
  }
}

type DeclaredEntry = Extract<
  SlowEntry,
  { kind: 'spindle-declared' | 'reference-declared' | 'work-planned' | 'answering-declared' }
>;

/** What people declare of the plant: a later declaration replaces the earlier. */
function foldDeclared(layer: Layer, entry: DeclaredEntry): void {
  switch (entry.kind) {
    case 'spindle-declared':
      foldSpindleDeclared(layer, entry);
      return;
    case 'reference-declared':
      layer.putReference({ ...entry.data, by: entry.actor.name, at: entry.at, position: entry.position });
      return;
    case 'work-planned':
      foldWorkPlanned(layer, entry);
      return;
    case 'answering-declared':
      layer.putAnswering({ ...entry.data, by: entry.actor.name, at: entry.at, position: entry.position });
  }
}

function foldBuild(layer: Layer, entry: EntryOf<'build'>): void {
  const assembly = assemblyOrNew(layer, entry.data.assemblyId);
  layer.putAssembly(withBuild(assembly, entry, stampIn(layer, entry), layer.floor.reference?.interfaces));
  refreshPairing(layer, entry.data.assemblyId);
}

function foldCorrection(layer: Layer, entry: CorrectionEntry, stamp: Stamp): void {
  layer.putAssembly(withCorrection(assemblyOrNew(layer, entry.data.assemblyId), entry, stamp));
  refreshPairing(layer, entry.data.assemblyId);
}

function foldTest(layer: Layer, entry: EntryOf<'test'>): void {
  const said = testSays(entry.data);
  const bench = withTest(benchOrNew(layer, entry.device), entry);
  if (said === undefined) layer.putBench(bench);
  else foldCheck(layer, bench, checkOf(layer, entry), said);
}

function foldResult(layer: Layer, entry: EntryOf<'result'>): void {
  const stamp = stampIn(layer, entry);
  const bench = benchOrNew(layer, entry.device);
  const circumstances = {
    interfaces: layer.floor.reference?.interfaces ?? [],
    inDoubt: doubtOf(bench, stamp),
  };
  const assembly = withResult(assemblyOrNew(layer, entry.data.assemblyId), entry, stamp, circumstances);
  layer.putAssembly(assembly);
  refreshPairing(layer, entry.data.assemblyId);
  const measured = assembly.measurements.find((one) => one.position === entry.position);
  layer.putBench(withResultOf(bench, entry.at, measured));
}

function checkOf(layer: Layer, entry: DeviceEntry): { at: number; position: number; stamp: Stamp } {
  return { at: entry.at, position: entry.position, stamp: stampIn(layer, entry) };
}

function foldProof(layer: Layer, entry: EntryOf<'proof'>): void {
  const check = checkOf(layer, entry);
  foldCheck(layer, withProof(benchOrNew(layer, entry.device), entry), check, proofSays(entry.data));
  foldCalibrationTold(layer, entry, entry.data.calibratedUntil);
}

/** A bench is known from its birth, so that one that was never checked is seen. */
function foldBenchBirth(layer: Layer, entry: EntryOf<'birth'>): void {
  if (entry.data.kind !== 'bench') return;
  layer.putBench(benchOrNew(layer, entry.device));
  foldCalibrationTold(layer, entry, entry.data.calibratedUntil);
}

function foldCalibrationTold(layer: Layer, entry: DeviceEntry, told: string | undefined): void {
  const until = told === undefined ? undefined : instantOf(told);
  if (until !== undefined) foldCalibration(layer, benchOrNew(layer, entry.device), until, checkOf(layer, entry));
}
