// What changes in a plant without anything being wrong: a new program, another type of cutter, another sensor, heavier cuts.
import { amountOf, responsePerN } from '../physics.ts';
import { angularSpeedRadS } from '../../shared/balance/index.ts';
import { bornSensor } from './declaring.ts';
import { drawSensor, drawSpeeds, type ScenarioAssembly, type ScenarioSpindle } from './drawn-plant.ts';
import type { LongNonFault } from './fault-kinds.ts';
import * as ranges from './ranges.ts';
import type { Stage } from './stage.ts';

/** Programmers look for speeds by the cut, not by the machine: now and then they meet its resonance. */
const MEETS_RESONANCE = 0.5;
/** And are not heard above this many times what is usual there. */
const HEARD_TIMES = 4;
const HEAVIER: ranges.Range = [2, 6];

export function nonFault(stage: Stage, kind: LongNonFault): void {
  const { chance, spindles, assemblies } = stage;
  switch (kind) {
    case 'new-speed': {
      const assembly = chance.pick(assemblies);
      assembly.speedsRpm = newSpeeds(stage, assembly);
      return note(stage, kind, { kind: 'assembly', id: assembly.assemblyId });
    }
    case 'new-cutter-type': {
      const assembly = chance.pick(assemblies);
      if (!Number.isFinite(assembly.loadsLeft)) return;
      assembly.otherType = true;
      assembly.loadsLeft = Math.min(assembly.loadsLeft, 1);
      return note(stage, kind, { kind: 'assembly', id: assembly.assemblyId });
    }
    case 'sensor-replaced': {
      const spindle = chance.pick(spindles);
      if (spindle.sensor.fault !== 'sound' || spindle.feels !== spindle.index) return;
      spindle.sensor = drawSensor(chance, `${spindle.sensor.device}x`, ranges.OTHER_GAIN);
      bornSensor(stage, spindle);
      return note(stage, kind, { kind: 'spindle', id: spindle.spindleId });
    }
    case 'heavy-cutting': {
      const spindle = chance.pick(spindles);
      spindle.cutting *= chance.between(...HEAVIER);
      return note(stage, kind, { kind: 'spindle', id: spindle.spindleId });
    }
  }
}

function note(stage: Stage, kind: LongNonFault, subject: { kind: 'assembly' | 'spindle'; id: string }): void {
  stage.nonFaults.push({ kind, subject, from: stage.now });
}

function newSpeeds(stage: Stage, assembly: ScenarioAssembly): readonly number[] {
  const { chance, spindles } = stage;
  const home = spindles[assembly.home];
  if (home === undefined || !chance.chance(MEETS_RESONANCE)) return drawSpeeds(chance, assembly.serviceRpm);
  const resonant = Math.round((home.mode.naturalHz * 60 * chance.between(0.9, 1.1)) / 50) * 50;
  const fits = resonant <= assembly.serviceRpm && resonant >= 0.4 * assembly.serviceRpm;
  return fits && isBearable(home, resonant, assembly.serviceRpm)
    ? [assembly.serviceRpm, resonant]
    : drawSpeeds(chance, assembly.serviceRpm);
}

function isBearable({ mode }: ScenarioSpindle, resonantRpm: number, serviceRpm: number): boolean {
  const answer = (rpm: number): number => amountOf(responsePerN(mode, rpm)) * angularSpeedRadS(rpm) ** 2;
  return answer(resonantRpm) < HEARD_TIMES * answer(serviceRpm);
}
