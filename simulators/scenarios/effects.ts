// What a fault does to the plant of a long scenario, load by load, what it would be without it, and how it is put right.
import type { Turning } from './fault-kinds.ts';
import type { Clamped } from './clamping.ts';
import { refresh } from './clamping.ts';
import type { ScenarioAssembly, ScenarioBench, ScenarioSpindle } from './drawn-plant.ts';
import { NOTHING, type Rotating } from '../physics.ts';
import type { Stage } from './stage.ts';
import { measureAgain } from './tool-room-work.ts';

export interface Effect {
  affects(spindle: ScenarioSpindle, clamped: Clamped): boolean;
  /** What would turn if this one were not. */
  without(turning: Turning, clamped: Clamped): Turning;
  /** Just before something is clamped: what grows from load to load. */
  beforeClamp(spindle: ScenarioSpindle): void;
  /** Put right. */
  undo(stage: Stage): void;
}

const NOTHING_DONE = (): void => undefined;
const SAME = (turning: Turning): Turning => turning;
export const SILENT: Effect = {
  affects: () => false,
  without: SAME,
  beforeClamp: NOTHING_DONE,
  undo: NOTHING_DONE,
};

export function assemblyChanged(assembly: ScenarioAssembly, to: Rotating): Effect {
  const { residual: before, build } = assembly;
  assembly.residual = to;
  // Nobody knows that it would have to be built anew.
  assembly.loadsLeft = Infinity;
  return {
    ...SILENT,
    affects: (_, clamped) => clamped.assembly === assembly && assembly.build === build,
    without: (turning) => ({ ...turning, residualX: before.x, residualY: before.y }),
    undo: (stage) => {
      assembly.loadsLeft = LOADS_AFTER_REPAIR;
      if (assembly.place !== 'tool-room') measureAgain(stage, assembly);
    },
  };
}

/** What is in the spindle turns on with what it has become. */
export function seenAtOnce(spindle: ScenarioSpindle): void {
  if (spindle.clamped !== undefined) refresh(spindle, spindle.clamped);
}

/** The cutter has some of its life left. */
const LOADS_AFTER_REPAIR = 10;

export function chipIn(clamped: Clamped, spindle: ScenarioSpindle, stray: Rotating): Effect {
  clamped.strayGmm = stray;
  refresh(spindle, clamped);
  return {
    ...SILENT,
    affects: (_, other) => other === clamped,
    without: (turning) => ({ ...turning, strayGmm: 0 }),
    undo: () => {
      // Taken out, it stays as it was: nobody turns it again.
      if (spindle.clamped !== clamped) return;
      clamped.strayGmm = NOTHING;
      refresh(spindle, clamped);
    },
  };
}

export function drawbarFalls(spindle: ScenarioSpindle, toUm: number, rampLoads: number): Effect {
  const from = spindle.usualClampingUm;
  let loads = 0;
  return {
    ...SILENT,
    affects: (other) => other === spindle,
    without: (turning) => ({ ...turning, clampingGmm: (turning.clampingGmm / spindle.clampingUm) * from }),
    beforeClamp: (other) => {
      if (other !== spindle) return;
      loads += 1;
      const share = grown(loads, rampLoads);
      spindle.clampingUm = Math.sqrt(from * from + share * (toUm * toUm - from * from));
    },
    undo: () => {
      spindle.clampingUm = from;
    },
  };
}

export function ownPartGrows(spindle: ScenarioSpindle, to: Rotating, rampLoads: number): Effect {
  const from = spindle.own;
  const take = (share: number): void => {
    spindle.own = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
    if (spindle.clamped !== undefined) refresh(spindle, spindle.clamped);
  };
  let loads = 0;
  if (rampLoads === 0) take(1);
  return {
    ...SILENT,
    affects: (other) => other === spindle,
    without: (turning) => ({ ...turning, ownX: from.x, ownY: from.y }),
    beforeClamp: (other) => {
      if (other !== spindle || rampLoads === 0) return;
      loads += 1;
      take(grown(loads, rampLoads));
    },
    undo: () => take(0),
  };
}

export function raceGrows(spindle: ScenarioSpindle, factor: number, rampLoads: number): Effect {
  let loads = 0;
  return {
    ...SILENT,
    affects: (other) => other === spindle,
    without: (turning) => ({ ...turning, logFloor: 0 }),
    beforeClamp: (other) => {
      if (other !== spindle) return;
      loads += 1;
      spindle.floorFactor = factor ** grown(loads, rampLoads);
    },
    undo: () => {
      spindle.floorFactor = 1;
    },
  };
}

const grown = (loads: number, rampLoads: number): number => (rampLoads === 0 ? 1 : Math.min(1, loads / rampLoads));

/** Further from the truth than this a result is of a drifting bench. */
const DRIFTED = 0.05;

export function benchDrifts(bench: ScenarioBench): Effect {
  return {
    ...SILENT,
    affects: (_, { assembly }) => assembly.bench === bench && Math.abs(assembly.drift - 1) > DRIFTED,
    without: (turning, { assembly }) => ({
      ...turning,
      residualX: turning.residualX * assembly.drift,
      residualY: turning.residualY * assembly.drift,
    }),
    undo: (stage) => {
      bench.drift = 1;
      for (const assembly of stage.assemblies) {
        if (assembly.bench !== bench || Math.abs(assembly.drift - 1) <= DRIFTED || assembly.place === 'tool-room')
          continue;
        measureAgain(stage, assembly);
      }
    },
  };
}

export function sensorFails(spindle: ScenarioSpindle, fault: ScenarioSpindle['sensor']['fault']): Effect {
  const { sensor } = spindle;
  sensor.fault = fault;
  return {
    ...SILENT,
    affects: (other) => other === spindle,
    undo: () => {
      sensor.fault = 'sound';
    },
  };
}

export function sensorsSwapped(one: ScenarioSpindle, other: ScenarioSpindle): Effect {
  one.feels = other.index;
  other.feels = one.index;
  return {
    ...SILENT,
    affects: (spindle) => spindle === one || spindle === other,
    undo: () => {
      one.feels = one.index;
      other.feels = other.index;
    },
  };
}
