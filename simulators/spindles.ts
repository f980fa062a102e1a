// The twelve invented spindles: what the engineer declared of each, and the physics that only the simulator knows.
import type { SpindleDeclared, VibrationLimit } from '../shared/acts.ts';
import type { ZoneTable } from '../shared/zones.ts';
import { bearingsOf, FLAW_OF_ONE_SPINDLE, FLAWED_SPINDLE, type BearingFlaw } from './bearings.ts';
import { rotating, type Rotating, type SpindleMode } from './physics.ts';
import { prngOf, type Prng } from './prng.ts';

export const LIMIT_SOURCE = 'invented for the demonstration';
const LIMIT_DATE = '2026-01-01T00:00:00.000Z';

/** Of no standard and no maker: numbers that look like such a table. */
const ZONES: ZoneTable = {
  abMmS: 1.4,
  bcMmS: 2.8,
  cdMmS: 4.5,
  source: LIMIT_SOURCE,
  sourceDate: LIMIT_DATE,
  generic: true,
};

/** Which assemblies fit and how well they find their seat again. */
export const INTERFACES = {
  'HSK-A63': { clampingUm: 0.7, highUm: 3, declaredUm: 2 },
  'HSK-A100': { clampingUm: 0.9, highUm: 3, declaredUm: 2 },
  'HSK-E50': { clampingUm: 0.6, highUm: 3, declaredUm: 2 },
} as const;
export type InterfaceName = keyof typeof INTERFACES;

export interface SimulatedSpindle {
  readonly index: number;
  readonly declared: SpindleDeclared;
  readonly interface: InterfaceName;
  readonly maxSpeedRpm: number;
  readonly machineDevice: string;
  readonly sensorDevice: string;
  readonly mode: SpindleMode;
  readonly ownGmm: Rotating;
  readonly sensor: SensorNature;
  readonly bearing: BearingNature;
  /** What is wrong with one of its bearings all the time. */
  readonly flaw?: BearingFlaw;
}

/** What the sensor adds of its own: gain, resolution, noise, and whether it sees the tacho mark. */
export interface SensorNature {
  readonly gain: number;
  readonly stepMmS: number;
  readonly tacho: boolean;
  /** Sends its raw windows in CBOR, not in JSON. */
  readonly compact: boolean;
}

/** What the bearings and the drive give off whatever is clamped. */
export interface BearingNature {
  /** Broadband velocity at 10,000 rpm, mm/s RMS. */
  readonly floorMmS: number;
  /** Second order as a share of the first, and what is there without any. */
  readonly secondShare: number;
  readonly secondMmS: number;
  /** Acceleration at 10,000 rpm, m/s² RMS. */
  readonly accelerationMS2: number;
}

interface Cell {
  readonly cell: string;
  readonly machines: readonly { readonly machine: string; readonly device: string; readonly spindles: number }[];
  readonly interface: InterfaceName;
  readonly maxSpeedRpm: number;
  readonly stiffnessNUm: readonly [number, number];
  readonly naturalHz: readonly [number, number];
  readonly ownGmm: readonly [number, number];
  readonly bearingPitchMm: number;
}

const CELLS: readonly Cell[] = [
  {
    cell: 'Cell 1',
    machines: [1, 2, 3, 4].map((n) => ({ machine: `Mill 1${n} (invented)`, device: `control-1${n}`, spindles: 1 })),
    interface: 'HSK-A63',
    maxSpeedRpm: 15_000,
    stiffnessNUm: [9, 13],
    naturalHz: [360, 640],
    ownGmm: [0.6, 1.8],
    bearingPitchMm: 88,
  },
  {
    cell: 'Cell 2',
    machines: [1, 2].map((n) => ({ machine: `Twin mill 2${n} (invented)`, device: `control-2${n}`, spindles: 2 })),
    interface: 'HSK-A63',
    maxSpeedRpm: 12_000,
    stiffnessNUm: [9.5, 14],
    naturalHz: [360, 600],
    ownGmm: [0.8, 2.2],
    bearingPitchMm: 92,
  },
  {
    cell: 'Cell 3',
    machines: [{ machine: 'Boring mill 31 (invented)', device: 'control-31', spindles: 2 }],
    interface: 'HSK-A100',
    maxSpeedRpm: 8000,
    stiffnessNUm: [8, 11],
    naturalHz: [200, 320],
    ownGmm: [4, 8],
    bearingPitchMm: 120,
  },
  {
    cell: 'Cell 3',
    machines: [{ machine: 'Fine mill 32 (invented)', device: 'control-32', spindles: 2 }],
    interface: 'HSK-E50',
    maxSpeedRpm: 18_000,
    stiffnessNUm: [8, 11],
    naturalHz: [480, 760],
    ownGmm: [0.2, 0.6],
    bearingPitchMm: 64,
  },
];

/** Where the ranges meet: no program of this plant, turned down or not, runs within 2 % of it. */
const RANGES_MEET_RPM = 8250;
/** Actual speeds wander about the programmed one, also about the highest: the last range reaches a little beyond it. */
const BEYOND_MAX_SHARE = 1.02;

export function makeSpindles(seed: number): readonly SimulatedSpindle[] {
  const places = CELLS.flatMap((cell) =>
    cell.machines.flatMap((machine) => Array.from({ length: machine.spindles }, () => ({ cell, machine }))),
  );
  return places.map(({ cell, machine }, index) => {
    const number = String(index + 1).padStart(2, '0');
    const prng = prngOf(seed, 'spindle', index);
    return {
      index,
      declared: {
        spindleId: `S-${number}`,
        machine: machine.machine,
        cell: cell.cell,
        interface: cell.interface,
        maxSpeedRpm: cell.maxSpeedRpm,
        limits: limitsFor(cell.maxSpeedRpm),
        zones: ZONES,
        bearings: [...bearingsOf(cell.bearingPitchMm)],
        measuredChannel: 'radial-x',
      },
      interface: cell.interface,
      maxSpeedRpm: cell.maxSpeedRpm,
      machineDevice: machine.device,
      sensorDevice: `sensor-${number}`,
      ...natureOf(cell, prng, index),
      ...(index === FLAWED_SPINDLE ? { flaw: FLAW_OF_ONE_SPINDLE } : {}),
    };
  });
}

function natureOf(
  cell: Cell,
  prng: Prng,
  index: number,
): Pick<SimulatedSpindle, 'mode' | 'ownGmm' | 'sensor' | 'bearing'> {
  return {
    mode: {
      stiffnessNUm: prng.between(...cell.stiffnessNUm),
      naturalHz: prng.between(...cell.naturalHz),
      dampingRatio: prng.between(0.05, 0.11),
      sensorDeg: prng.pick([0, 90, 180, 270]),
    },
    ownGmm: rotating(prng.between(...cell.ownGmm), prng.between(0, 360)),
    sensor: {
      gain: prng.between(0.97, 1.03),
      stepMmS: 0.005,
      tacho: cell.interface !== 'HSK-E50',
      compact: index % 2 === 1,
    },
    bearing: {
      floorMmS: prng.between(0.14, 0.26),
      secondShare: prng.between(0.06, 0.18),
      secondMmS: prng.between(0.02, 0.07),
      accelerationMS2: prng.between(2.5, 6),
    },
  };
}

function limitsFor(maxSpeedRpm: number): VibrationLimit[] {
  const endRpm = Math.round(maxSpeedRpm * BEYOND_MAX_SHARE);
  const ranges = [
    { fromSpeedRpm: 1, toSpeedRpm: Math.min(RANGES_MEET_RPM, endRpm), overall: 2.2, synchronous: 1.8 },
    { fromSpeedRpm: RANGES_MEET_RPM, toSpeedRpm: endRpm, overall: 2.8, synchronous: 2.2 },
  ].filter((range) => range.fromSpeedRpm < range.toSpeedRpm);
  return ranges.flatMap(({ fromSpeedRpm, toSpeedRpm, ...limits }) =>
    (['overall', 'synchronous'] as const).map((quantity) => ({
      quantity,
      fromSpeedRpm,
      toSpeedRpm,
      limitMmS: limits[quantity],
      source: LIMIT_SOURCE,
      sourceDate: LIMIT_DATE,
    })),
  );
}
