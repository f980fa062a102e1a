// The folds of entries that come seldom: the same into a layer, to decide, or into the floor, to keep.
import type { DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import { withBuild, withResult } from './assembly-state.ts';
import { stampOf } from './clock.ts';
import type { Stamp } from './floor.ts';
import { newBench } from './fold-outcome.ts';
import type { Layer } from './layer.ts';
import { assemblyOrNew, foldLoad, foldMachine, foldSpindleDeclared, refreshPairing } from './spindle-state.ts';

/** Entries that change more than a reading does. */
export type SlowEntry = Exclude<Entry, EntryOf<'summary'>>;

/** The lane of the device is folded after this: what the entry itself tells of the clock does not judge it. */
export function stampIn(layer: Layer, entry: DeviceEntry): Stamp {
  return stampOf(entry, layer.floor.devices.get(entry.device));
}

export function foldSlow(layer: Layer, entry: SlowEntry): void {
  switch (entry.kind) {
    case 'build':
      layer.putAssembly(withBuild(assemblyOrNew(layer, entry.data.assemblyId), entry, stampIn(layer, entry)));
      refreshPairing(layer, entry.data.assemblyId);
      return;
    case 'result':
      layer.putAssembly(withResult(assemblyOrNew(layer, entry.data.assemblyId), entry, stampIn(layer, entry)));
      refreshPairing(layer, entry.data.assemblyId);
      foldBenchResult(layer, entry);
      return;
    case 'proof':
      layer.putBench({
        ...(layer.bench(entry.device) ?? newBench(entry.device)),
        proofAt: entry.at,
        proofWithin: proofMisses(entry) === undefined,
      });
      return;
    case 'load':
      foldLoad(layer, entry, stampIn(layer, entry));
      return;
    case 'machine':
      foldMachine(layer, entry);
      return;
    case 'spindle-declared':
      foldSpindleDeclared(layer, entry);
      return;
    case 'birth':
    case 'state':
    case 'wave':
    case 'life':
    case 'query':
    case 'hold-act':
    case 'notice-try':
    case 'correction':
    case 'test':
    case 'correction-recorded':
    case 'doubt-lifted':
    case 'reference-declared':
    case 'tick':
    case 'rejected':
    case 'retried':
  }
}

/** What the bench's spindle and adapter add by themselves, where index readings told it. */
function foldBenchResult(layer: Layer, entry: EntryOf<'result'>): void {
  const bench = layer.bench(entry.device) ?? newBench(entry.device);
  const measured = layer.assembly(entry.data.assemblyId)?.measurements.find((m) => m.position === entry.position);
  layer.putBench({ ...bench, lastResultAt: entry.at, benchGmm: measured?.planes[0]?.benchGmm ?? bench.benchGmm });
}

/** The plane of a proving-rotor check that is further from what is expected than allowed (ISO 21940-21); its excess in g·mm. */
export function proofMisses({
  data,
}: EntryOf<'proof'>): { readonly plane: string; readonly byGmm: number } | undefined {
  for (const [index, plane] of data.planes.entries()) {
    const expected = data.expected[index];
    const byGmm = Math.abs(plane.residualGmm - (expected?.residualGmm ?? 0));
    if (byGmm > data.toleranceGmm) return { plane: plane.name, byGmm };
  }
  return undefined;
}
