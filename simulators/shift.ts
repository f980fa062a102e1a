// One shift, planned from the seed: which assembly each spindle clamps from when to when, how fast, cutting how.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import type { SimulatedAssembly } from './assemblies.ts';
import type { Rotating } from './physics.ts';
import type { Plant } from './plant.ts';
import { prngOf, type Prng } from './prng.ts';
import { INTERFACES, type InterfaceName, type SimulatedSpindle } from './spindles.ts';
import { buildIdIn, isBuiltAnewIn, SHIFT_MS } from './tool-room.ts';

/** One clamping of an assembly, and how the spindle runs while it lasts. */
export interface LoadPlan {
  readonly spindle: SimulatedSpindle;
  readonly assembly: SimulatedAssembly;
  readonly buildId: string;
  readonly loadAt: Instant;
  readonly unloadAt: Instant;
  readonly programmedSpeedRpm: number;
  /** Other speeds that the program asks for in the course of it, oldest first. */
  readonly speedSteps?: readonly SpeedStep[];
  readonly overridePercent: number;
  /** How far off the axis this clamping sits. */
  readonly offsetUm: Rotating;
  /** From clamped to turning. */
  readonly startsAfterMs: number;
  /** One part: first in the air (positioning, probing), then in the cut. */
  readonly cycleMs: number;
  readonly airShare: number;
  /** No cut before this instant: a run in the air to warm up. */
  readonly airUntil?: Instant;
  /** Clamped but never started: somebody waits for an answer. */
  readonly stands: boolean;
}

export interface SpeedStep {
  readonly at: Instant;
  readonly programmedSpeedRpm: number;
}

const LOAD_MINUTES = [20, 90] as const;
const GAP_SECONDS = [40, 120] as const;
const FIRST_LOAD_MINUTES = [1, 6] as const;
const LAST_LOAD_MINUTES_MIN = 12;
const CLEAR_OF_SHIFT_END_MS = 3 * MILLISECONDS_A_MINUTE;
const STOPS_BEFORE_UNLOAD_MS = 10 * MILLISECONDS_A_SECOND;

export function runsFrom(load: LoadPlan): Instant {
  return load.loadAt + load.startsAfterMs;
}

export function runsUntil(load: LoadPlan): Instant {
  return load.unloadAt - STOPS_BEFORE_UNLOAD_MS;
}

function lastStep({ speedSteps }: LoadPlan, at: Instant): SpeedStep | undefined {
  return speedSteps?.findLast((step) => step.at <= at);
}

export function programmedSpeedAt(load: LoadPlan, at: Instant): number {
  return lastStep(load, at)?.programmedSpeedRpm ?? load.programmedSpeedRpm;
}

export function actualSpeedRpm(load: LoadPlan, at: Instant): number {
  return Math.round((programmedSpeedAt(load, at) * load.overridePercent) / 100);
}

/** When it last began to run up or down. */
export function speedSince(load: LoadPlan, at: Instant): Instant {
  return Math.max(runsFrom(load), lastStep(load, at)?.at ?? 0);
}

export function isRunning(load: LoadPlan, at: Instant): boolean {
  return !load.stands && at >= runsFrom(load) && at < runsUntil(load);
}

export function isCutting(load: LoadPlan, at: Instant): boolean {
  if (!isRunning(load, at) || at < (load.airUntil ?? 0)) return false;
  return ((at - runsFrom(load)) % load.cycleMs) / load.cycleMs >= load.airShare;
}

/** Every load of every spindle in a shift, by spindle. A shift knows nothing of the one before: all is unclamped between. */
export function planShift(plant: Plant, shift: number): readonly (readonly LoadPlan[])[] {
  const dealt = dealAssemblies(plant, shift);
  return plant.spindles.map((spindle) => {
    const prng = prngOf(plant.seed, 'shift', shift, spindle.index);
    return planSpindle(plant, { spindle, shift, prng, assemblies: dealt.get(spindle.index) ?? [] });
  });
}

/** Each shift the shelf is dealt anew over the spindles that take its interface; no assembly is wanted twice. */
function dealAssemblies(plant: Plant, shift: number): Map<number, SimulatedAssembly[]> {
  const dealt = new Map<number, SimulatedAssembly[]>();
  for (const name of Object.keys(INTERFACES) as InterfaceName[]) {
    const spindles = plant.spindles.filter((spindle) => spindle.interface === name);
    const shelf = plant.assemblies.filter(
      (assembly) => assembly.interface === name && assembly.scene === 'shelf' && !isBuiltAnewIn(plant, assembly, shift),
    );
    prngOf(plant.seed, 'deal', shift, name)
      .shuffled(shelf)
      .forEach((assembly, nth) => {
        const spindle = spindles[nth % spindles.length];
        if (spindle !== undefined) dealt.set(spindle.index, [...(dealt.get(spindle.index) ?? []), assembly]);
      });
  }
  return dealt;
}

interface SpindleShift {
  readonly spindle: SimulatedSpindle;
  readonly shift: number;
  readonly prng: Prng;
  readonly assemblies: readonly SimulatedAssembly[];
}

function planSpindle(plant: Plant, { spindle, shift, prng, assemblies }: SpindleShift): readonly LoadPlan[] {
  const loads: LoadPlan[] = [];
  const end = (shift + 1) * SHIFT_MS - CLEAR_OF_SHIFT_END_MS;
  let at = shift * SHIFT_MS + prng.between(...FIRST_LOAD_MINUTES) * MILLISECONDS_A_MINUTE;
  for (let nth = 0; ; nth += 1) {
    const assembly = assemblies[nth % assemblies.length];
    const until = Math.min(end, at + prng.between(...LOAD_MINUTES) * MILLISECONDS_A_MINUTE);
    if (assembly === undefined || until - at < LAST_LOAD_MINUTES_MIN * MILLISECONDS_A_MINUTE) return loads;
    const times = { loadAt: Math.round(at), unloadAt: Math.round(until) };
    loads.push(planLoad({ spindle, assembly, buildId: buildIdIn(plant, assembly, shift), ...times }, prng));
    at = until + prng.between(...GAP_SECONDS) * MILLISECONDS_A_SECOND;
  }
}

/** Draws everything of a load that is not given: speed, override, seat, rhythm. */
export function planLoad(
  given: Pick<LoadPlan, 'spindle' | 'assembly' | 'buildId' | 'loadAt' | 'unloadAt'> & Partial<LoadPlan>,
  prng: Prng,
): LoadPlan {
  const { serviceSpeedRpm } = given.assembly;
  const sigma = INTERFACES[given.spindle.interface].clampingUm;
  const slower = Math.round((serviceSpeedRpm * 0.8) / 500) * 500;
  const turnedDown = prng.next();
  return {
    programmedSpeedRpm: Math.min(given.spindle.maxSpeedRpm, prng.chance(0.7) ? serviceSpeedRpm : slower),
    overridePercent: turnedDown < 0.85 ? 100 : turnedDown < 0.95 ? 90 : 80,
    offsetUm: { x: sigma * prng.gaussian(), y: sigma * prng.gaussian() },
    startsAfterMs: Math.round(prng.between(12, 28) * MILLISECONDS_A_SECOND),
    cycleMs: Math.round(prng.between(140, 330) * MILLISECONDS_A_SECOND),
    airShare: prng.between(0.25, 0.4),
    stands: false,
    ...given,
  };
}
