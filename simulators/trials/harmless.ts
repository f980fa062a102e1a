// Trials in which nothing is wrong, though a sensor sees more than usual or a program asks for other speeds.
import { MILLISECONDS_A_MINUTE } from '../../shared/time.ts';
import type { Fault, HarmlessKind } from '../faults.ts';
import type { Overlay } from '../overlay.ts';
import type { Plant } from '../plant.ts';
import { prngOf } from '../prng.ts';
import { actualSpeedRpm, runsFrom, runsUntil, type LoadPlan } from '../shift.ts';
import type { SimulatedSpindle } from '../spindles.ts';
import { worstShare } from './levels.ts';
import type { Scenario } from './scenario.ts';
import { loadsOf, onlyFaults, type Stage } from './stage.ts';

export const NOTHING_LAID_OVER: Overlay = { borrows: [], events: [], faults: [] };

/** However cold or near a resonance: the level stays below this share of every limit, where it counts. */
const BELOW = 0.95;

function everywhere(
  { plant, from, until }: Stage,
  kind: HarmlessKind,
  size?: (spindle: SimulatedSpindle) => number,
): Fault[] {
  return plant.spindles.map((spindle) => ({
    kind,
    subject: { kind: 'spindle', id: spindle.declared.spindleId } as const,
    from,
    to: until,
    ...(size === undefined ? {} : { size: size(spindle) }),
  }));
}

/** Four to fifteen times the ordinary blow of the teeth, far over every limit; half of the time only the control tells of the cut. */
export function heavyCutting(stage: Stage): Scenario {
  const { plant, prng } = stage;
  const heavy = everywhere(stage, 'heavy-cutting', () => prng.between(4, 15));
  const untold = prng.chance(0.5) ? everywhere(stage, 'cutting-told-by-control') : [];
  return { plant, overlay: onlyFaults(...heavy, ...untold), labels: [] };
}

/** After the break between shifts a cold spindle answers up to two thirds more, and calms down. */
export function warmingUp(stage: Stage): Scenario {
  const { plant, prng } = stage;
  const faults = everywhere(stage, 'warming-up', () => prng.between(0.1, 0.6)).map((fault, index) => {
    const spindle = plant.spindles[index];
    return spindle === undefined ? fault : keptBelow(stage, spindle, fault);
  });
  return { plant, overlay: onlyFaults(...faults), labels: [] };
}

function keptBelow(stage: Stage, spindle: SimulatedSpindle, fault: Fault): Fault {
  const { plant } = stage;
  const loads = loadsOf(stage, spindle);
  let kept = fault;
  while ((kept.size ?? 0) > 0.01 && worstShare({ plant, spindle, loads, faults: [kept] }) > BELOW) {
    kept = { ...kept, size: (kept.size ?? 0) * 0.8 };
  }
  return kept;
}

const STEP_MINUTES = [2, 15] as const;
const SLOWEST_SHARE = 0.35;
const OVERRIDES_PERCENT = [50, 80, 100, 100, 110] as const;

/** The program runs up and down, and somebody turns the override knob: never above what the assembly is balanced for. */
export function speedChange(stage: Stage): Scenario {
  const { plant } = stage;
  const reshaped = (load: LoadPlan): LoadPlan => {
    const prng = prngOf(plant.seed, 'speed change', load.spindle.index, load.loadAt);
    const fastest = Math.min(load.assembly.serviceSpeedRpm, load.spindle.maxSpeedRpm);
    const rpm = (): number => Math.round((fastest * prng.between(SLOWEST_SHARE, 1)) / 100) * 100;
    const speedSteps = [];
    for (let at = runsFrom(load); ;) {
      at += Math.round(prng.between(...STEP_MINUTES) * MILLISECONDS_A_MINUTE);
      if (at >= runsUntil(load)) break;
      speedSteps.push({ at, programmedSpeedRpm: Math.min(fastest, rpm()) });
    }
    const wanted = prng.pick(OVERRIDES_PERCENT);
    const overridePercent = Math.min(wanted, Math.floor((100 * load.spindle.maxSpeedRpm) / fastest));
    return { ...load, programmedSpeedRpm: Math.min(fastest, rpm()), speedSteps, overridePercent };
  };
  return { plant, overlay: { ...NOTHING_LAID_OVER, reshaped }, labels: [] };
}

/** A spindle's structure answers most at the very speed that its programs ask for: near its limits, or over them. */
export function resonance(stage: Stage, [low, high]: readonly [number, number]): Scenario {
  const { prng } = stage;
  const chosen = prng.pick(stage.plant.spindles);
  const [load] = loadsOf(stage, chosen);
  const speedRpm = load === undefined ? chosen.maxSpeedRpm : actualSpeedRpm(load, runsFrom(load));
  const naturalHz = (speedRpm / 60) * prng.between(0.97, 1.03);
  const tuned = { ...chosen, mode: { ...chosen.mode, naturalHz } };
  const share = worstShareOf(stage, tuned);
  // Stiffer or softer in proportion, until the worst load comes as near to its limit as was drawn.
  const stiffnessNUm = (tuned.mode.stiffnessNUm * share) / prng.between(low, high);
  const plant = withSpindle(stage.plant, { ...tuned, mode: { ...tuned.mode, stiffnessNUm } });
  const { from, until } = stage;
  const subject = { kind: 'spindle', id: chosen.declared.spindleId } as const;
  const overLimit = low > 1 ? [{ kind: 'resonance' as const, subject, from, to: until, tellableFrom: undefined }] : [];
  return { plant, overlay: NOTHING_LAID_OVER, labels: overLimit };
}

function worstShareOf(stage: Stage, spindle: SimulatedSpindle): number {
  const plant = withSpindle(stage.plant, spindle);
  const loads = loadsOf({ ...stage, plant }, spindle);
  return worstShare({ plant, spindle, loads, faults: [] });
}

function withSpindle(plant: Plant, spindle: SimulatedSpindle): Plant {
  return { ...plant, spindles: plant.spindles.map((one) => (one.index === spindle.index ? spindle : one)) };
}
