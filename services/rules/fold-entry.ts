// The folds of entries that change assemblies, pairings and machines: the same into a layer (to decide) or the floor.
import type { Entry } from '../../shared/entries.ts';
import { withBuild, withResult } from './assembly-state.ts';
import type { Stamp } from './floor.ts';
import type { Layer } from './layer.ts';
import { assemblyOrNew, foldLoad, foldMachine, foldSpindleDeclared, refreshPairing } from './spindle-state.ts';

export function foldSlow(layer: Layer, entry: Entry, stamp: Stamp | undefined): void {
  switch (entry.kind) {
    case 'build':
    case 'result': {
      if (stamp === undefined) return;
      const assembly = assemblyOrNew(layer, entry.data.assemblyId);
      layer.putAssembly(
        entry.kind === 'build' ? withBuild(assembly, entry, stamp) : withResult(assembly, entry, stamp),
      );
      refreshPairing(layer, entry.data.assemblyId);
      return;
    }
    case 'load':
      if (stamp !== undefined) foldLoad(layer, entry, stamp);
      return;
    case 'machine':
      foldMachine(layer, entry);
      return;
    case 'spindle-declared':
      foldSpindleDeclared(layer, entry);
      return;
    case 'birth':
    case 'state':
    case 'proof':
    case 'summary':
    case 'wave':
    case 'life':
    case 'query':
    case 'hold-act':
    case 'notice-try':
    case 'tick':
    case 'rejected':
    case 'retried':
  }
}
