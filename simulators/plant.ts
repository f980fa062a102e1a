// The invented plant: twelve spindles in three cells, two benches, forty assemblies, and the devices that speak for them.
import type { SpindleDeclared } from '../shared/acts.ts';
import type { DeviceKind } from '../shared/ids.ts';
import { makeAssemblies, type SimulatedAssembly } from './assemblies.ts';
import { makeSpindles, type SimulatedSpindle } from './spindles.ts';
import { makeBenches, type SimulatedBench } from './bench.ts';

export const PLANT_ID = 'demo';
export const PLANT_NAME = 'Quillmoor Works (invented)';
/** Time zone in which the plant reads its clocks. */
export const PLANT_ZONE = 'UTC';
/** Who declared the spindles and their limits. */
export const PLANT_ENGINEER = 'invented-engineer';

/** A device with a credential of its own, and what it speaks for. */
export interface PlantDevice {
  readonly device: string;
  readonly kind: DeviceKind;
  /** Spindles of a sensor, a control or a lamp; empty for a bench. */
  readonly serves: readonly string[];
}

export interface Plant {
  readonly seed: number;
  readonly plantId: string;
  readonly spindles: readonly SimulatedSpindle[];
  readonly assemblies: readonly SimulatedAssembly[];
  readonly benches: readonly SimulatedBench[];
  readonly devices: readonly PlantDevice[];
}

/** What the rest of the demo may know of the plant; its physics stays with the simulator. */
export interface DemoPlant {
  readonly plantId: string;
  readonly name: string;
  readonly zone: string;
  readonly spindles: readonly SpindleDeclared[];
  readonly devices: readonly PlantDevice[];
  readonly assemblies: readonly {
    readonly assemblyId: string;
    readonly interface: string;
    readonly massKg: number;
    readonly serviceSpeedRpm: number;
    readonly gradeMmS: number;
  }[];
}

/** @param places which of the twelve spindles it has; all where left out. */
export function makePlant(seed: number, plantId: string = PLANT_ID, places?: readonly number[]): Plant {
  const all = makeSpindles(seed);
  const spindles =
    places === undefined
      ? all
      : all.filter((one) => places.includes(one.index)).map((spindle, index) => ({ ...spindle, index }));
  const benches = makeBenches(seed);
  const devices = devicesOf(spindles, benches);
  return { seed, plantId, spindles, assemblies: makeAssemblies(seed), benches, devices };
}

export function demoPlant(seed: number): DemoPlant {
  const plant = makePlant(seed);
  return {
    plantId: plant.plantId,
    name: PLANT_NAME,
    zone: PLANT_ZONE,
    spindles: plant.spindles.map((spindle) => spindle.declared),
    devices: plant.devices,
    assemblies: plant.assemblies.map(({ assemblyId, interface: interfaceName, massKg, serviceSpeedRpm, gradeMmS }) => ({
      assemblyId,
      interface: interfaceName,
      massKg,
      serviceSpeedRpm,
      gradeMmS,
    })),
  };
}

function devicesOf(spindles: readonly SimulatedSpindle[], benches: readonly SimulatedBench[]): readonly PlantDevice[] {
  const served = (device: (spindle: SimulatedSpindle) => string): Map<string, string[]> => {
    const byDevice = new Map<string, string[]>();
    for (const spindle of spindles) {
      byDevice.set(device(spindle), [...(byDevice.get(device(spindle)) ?? []), spindle.declared.spindleId]);
    }
    return byDevice;
  };
  const rows = (kind: DeviceKind, byDevice: Map<string, string[]>): PlantDevice[] =>
    [...byDevice].map(([device, serves]) => ({ device, kind, serves }));
  return [
    ...benches.map(({ device }): PlantDevice => ({ device, kind: 'bench', serves: [] })),
    ...rows(
      'machine',
      served((spindle) => spindle.machineDevice),
    ),
    ...rows(
      'sensor',
      served((spindle) => spindle.sensorDevice),
    ),
    ...rows(
      'reader',
      served((spindle) => `lamp-${spindle.declared.cell.slice(-1)}`),
    ),
  ];
}
