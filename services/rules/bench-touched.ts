// What a bench in doubt touches: assemblies whose measurement in force is one of its doubtful results, and where they run.
import type { Layer } from './layer.ts';
import { pairingOf } from './pairing.ts';

export interface Touched {
  readonly assemblies: readonly string[];
  readonly spindles: readonly string[];
}

export function touchedBy(layer: Pick<Layer, 'floor' | 'assembly' | 'spindle'>, bench: string): Touched {
  const assemblies: string[] = [];
  const spindles: string[] = [];
  for (const assemblyId of layer.floor.assemblies.keys()) {
    const assembly = layer.assembly(assemblyId);
    if (assembly === undefined) continue;
    const { loadedIn } = assembly;
    const said = loadedIn === undefined ? undefined : layer.spindle(loadedIn)?.loaded?.buildId;
    const { measurement } = pairingOf(assembly, said);
    if (measurement?.bench !== bench || measurement.inDoubt === undefined) continue;
    assemblies.push(assemblyId);
    if (loadedIn !== undefined) spindles.push(loadedIn);
  }
  return { assemblies: assemblies.toSorted(), spindles: spindles.toSorted() };
}
