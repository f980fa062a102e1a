// What is in force for an assembly, for those who show it: seen with the build that its load named, or the newest.
import { measurementInForce, buildInForce } from './assembly-state.ts';
import type { AssemblyState, MeasurementState } from './floor.ts';
import { balancedUpToRpm, pairingOf } from './pairing.ts';

export function measurementInForceOf(assembly: AssemblyState, saidBuildId?: string): MeasurementState | undefined {
  return measurementInForce(assembly, buildInForce(assembly, saidBuildId));
}

export function balancedUpToRpmOf(assembly: AssemblyState, saidBuildId?: string): number | undefined {
  return balancedUpToRpm(pairingOf(assembly, saidBuildId));
}
