// Begins a fault where it fits: who is concerned, how much it is, and the label that says so.
import type { Subject } from '../../shared/ids.ts';
import { rotating, type Rotating } from '../physics.ts';
import type { Clamped } from './clamping.ts';
import { buildIdOf, turningIn } from './clamping.ts';
import { drawnLog, type ScenarioAssembly, type ScenarioBench, type ScenarioSpindle } from './drawn-plant.ts';
import * as effects from './effects.ts';
import { CAUSE_OF, type LongFault, type LongLabel } from './fault-kinds.ts';
import * as ranges from './ranges.ts';
import type { Stage } from './stage.ts';

/** A spindle has run so many loads, a build so many, before something goes wrong with it that could be noticed. */
const SPINDLE_LOADS_MIN = 30;
const BUILD_LOADS_MIN = 2;
const RAMP_LOADS: ranges.Range = [8, 80];
/** Below this a spindle's clampings would have to miss their seat by more than anybody would not hear. µm. */
const CLAMPING_MAX_UM = 40;
/** A bench reads no less than this share of what is there, or it would have been noticed at once. */
const BENCH_SCALE_MIN = 0.3;

interface Planted {
  readonly effect: effects.Effect;
  readonly subject: Subject;
  readonly names: readonly string[];
  readonly at: ScenarioSpindle | undefined;
  readonly rampLoads?: number;
  readonly floorFactor?: number;
}

/** The label; undefined where nothing fits at the moment. What is clamped already is affected from now on. */
export function plant(stage: Stage, kind: PlannedFault, mixed: boolean): LongLabel | undefined {
  return begin(stage, kind, plantedOf(stage, kind, mixed));
}

/** A chip comes with a clamping, the others at any time. */
export type PlannedFault = Exclude<LongFault, 'chip-under-taper'>;

function begin(stage: Stage, kind: LongFault, planted: Planted | undefined): LongLabel | undefined {
  if (planted === undefined) return undefined;
  const { effect, subject, names, at, rampLoads = 0, floorFactor } = planted;
  const label: LongLabel = {
    kind,
    cause: CAUSE_OF[kind],
    subject,
    names: new Set(names),
    from: stage.now,
    to: stage.until,
    mixed: at !== undefined && isConcerned(stage, at),
    loads: [],
    rampLoads,
    floorFactor,
  };
  stage.labels.push(label);
  stage.active.set(label, { effect, at: at?.index });
  for (const spindle of stage.spindles)
    if (spindle.clamped !== undefined) noteLoad(stage, spindle, spindle.clamped, label);
  return label;
}

/** Notes what turns in a load, and for each fault that goes on whether it is affected. */
export function noteLoads(stage: Stage, spindle: ScenarioSpindle, clamped: Clamped): void {
  stage.loads.push({ load: clamped.fact, turning: turningIn(spindle, clamped) });
  for (const label of stage.active.keys()) noteLoad(stage, spindle, clamped, label);
}

function noteLoad(stage: Stage, spindle: ScenarioSpindle, clamped: Clamped, label: LongLabel): void {
  const effect = stage.active.get(label)?.effect;
  if (effect?.affects(spindle, clamped) !== true) return;
  const turning = turningIn(spindle, clamped);
  label.loads.push({ load: clamped.fact, without: effect.without(turning, clamped), with: turning });
}

/** Ends it; what it did is put right. */
export function end(stage: Stage, label: LongLabel): void {
  const active = stage.active.get(label);
  if (active === undefined) return;
  stage.active.delete(label);
  label.to = stage.now;
  active.effect.undo(stage);
}

const isConcerned = (stage: Stage, spindle: ScenarioSpindle): boolean =>
  [...stage.active.values()].some(({ at }) => at === spindle.index);

/** Spindles that have run for long enough; with `mixed` those where something is wrong already, otherwise those where nothing is. */
function spindlesFor(stage: Stage, mixed: boolean): ScenarioSpindle[] {
  return stage.spindles.filter(
    (spindle) =>
      spindle.loads >= SPINDLE_LOADS_MIN &&
      spindle.sensor.fault === 'sound' &&
      spindle.feels === spindle.index &&
      isConcerned(stage, spindle) === mixed,
  );
}

function anyOf<T>(stage: Stage, list: readonly T[]): T | undefined {
  return list.length === 0 ? undefined : stage.chance.pick(list);
}

function plantedOf(stage: Stage, kind: PlannedFault, mixed: boolean): Planted | undefined {
  switch (kind) {
    case 'cutter-changed-untold':
      return cutterChanged(stage, mixed);
    case 'insert-lost':
      return insertLost(stage, mixed);
    case 'bench-scale-drifting':
      return benchDrifting(stage);
    case 'drawbar-falling':
    case 'own-unbalance-step':
    case 'own-unbalance-ramp':
    case 'outer-race-growing':
    case 'inner-race-growing':
    case 'sensor-loose':
    case 'sensor-clipped':
    case 'sensor-dead':
    case 'sensors-swapped': {
      const spindle = anyOf(stage, spindlesFor(stage, mixed));
      return spindle === undefined ? undefined : onSpindle(stage, kind, spindle);
    }
  }
}

const square = (vector: Rotating): number => vector.x * vector.x + vector.y * vector.y;

/** What the square of the 1× of a spindle amounts to over what is usually clamped in it, (g·mm)², and the mean square of the masses. */
function usualIn(stage: Stage, spindle: ScenarioSpindle): { readonly square: number; readonly massSquare: number } {
  const own = stage.assemblies.filter((assembly) => assembly.home === spindle.index);
  let sum = 0;
  let masses = 0;
  for (const { residual, massKg } of own) {
    sum += square(residual) + (massKg * spindle.usualClampingUm) ** 2;
    masses += massKg * massKg;
  }
  return { square: sum / own.length + square(spindle.own), massSquare: masses / own.length };
}

const anywhere = (stage: Stage, gmm: number): Rotating => rotating(gmm, stage.chance.between(0, 360));

function changedResidual(stage: Stage, assembly: ScenarioAssembly, spindle: ScenarioSpindle): Rotating {
  const factor = drawnLog(stage.chance, ranges.FAULT_FACTOR);
  const base = square(assembly.residual) + square(spindle.own) + (assembly.massKg * spindle.usualClampingUm) ** 2;
  return anywhere(stage, Math.sqrt(square(assembly.residual) + (factor * factor - 1) * base));
}

function assemblyPlanted(stage: Stage, assembly: ScenarioAssembly, home: ScenarioSpindle): Planted {
  const to = changedResidual(stage, assembly, home);
  return {
    effect: effects.assemblyChanged(assembly, to),
    subject: { kind: 'assembly', id: assembly.assemblyId },
    names: [assembly.assemblyId, buildIdOf(assembly)],
    at: home,
  };
}

const canChange = ({ loads, loadsLeft }: ScenarioAssembly): boolean =>
  loads >= BUILD_LOADS_MIN && Number.isFinite(loadsLeft);

function cutterChanged(stage: Stage, mixed: boolean): Planted | undefined {
  const homes = new Set(spindlesFor(stage, mixed).map(({ index }) => index));
  const fit = stage.assemblies.filter((it) => it.place === 'shelf' && canChange(it) && homes.has(it.home));
  const assembly = anyOf(stage, fit);
  const home = assembly === undefined ? undefined : stage.spindles[assembly.home];
  return assembly === undefined || home === undefined ? undefined : assemblyPlanted(stage, assembly, home);
}

function insertLost(stage: Stage, mixed: boolean): Planted | undefined {
  const fit = spindlesFor(stage, mixed).filter(
    ({ clamped }) => clamped?.cutting === true && canChange(clamped.assembly),
  );
  const spindle = anyOf(stage, fit);
  if (spindle?.clamped === undefined) return undefined;
  const planted = assemblyPlanted(stage, spindle.clamped.assembly, spindle);
  effects.seenAtOnce(spindle);
  return planted;
}

/** With what has just been clamped, before it turned, where a chip waits for such a place. */
export function plantChip(stage: Stage, spindle: ScenarioSpindle): void {
  const [waiting] = stage.chips;
  if (waiting === undefined) return;
  const mixed = waiting.mixed && stage.active.size > 0;
  if (!spindlesFor(stage, mixed).includes(spindle)) return;
  stage.chips.shift();
  begin(stage, 'chip-under-taper', chip(stage, spindle));
}

function chip(stage: Stage, spindle: ScenarioSpindle): Planted | undefined {
  const { clamped } = spindle;
  if (clamped === undefined) return undefined;
  const factor = drawnLog(stage.chance, ranges.FAULT_FACTOR);
  const { assembly } = clamped;
  const base = square(assembly.residual) + square(spindle.own) + (assembly.massKg * spindle.usualClampingUm) ** 2;
  const stray = anywhere(stage, Math.sqrt((factor * factor - 1) * base));
  return {
    effect: effects.chipIn(clamped, spindle, stray),
    subject: { kind: 'spindle', id: spindle.spindleId },
    names: [spindle.spindleId, assembly.assemblyId, buildIdOf(assembly)],
    at: spindle,
  };
}

type OnSpindle = Exclude<
  LongFault,
  'cutter-changed-untold' | 'insert-lost' | 'chip-under-taper' | 'bench-scale-drifting'
>;

function onSpindle(stage: Stage, kind: OnSpindle, spindle: ScenarioSpindle): Planted | undefined {
  const { chance } = stage;
  const usual = usualIn(stage, spindle);
  const subject = { kind: 'spindle', id: spindle.spindleId } as const;
  const names = [spindle.spindleId];
  const rampLoads = Math.round(drawnLog(chance, RAMP_LOADS));
  const more = (drawnLog(chance, ranges.FAULT_FACTOR) ** 2 - 1) * usual.square;
  switch (kind) {
    case 'drawbar-falling': {
      const toUm = Math.min(CLAMPING_MAX_UM, Math.sqrt(spindle.usualClampingUm ** 2 + more / usual.massSquare));
      return { effect: effects.drawbarFalls(spindle, toUm, rampLoads), subject, names, at: spindle, rampLoads };
    }
    case 'own-unbalance-step':
    case 'own-unbalance-ramp': {
      const steps = kind === 'own-unbalance-step' ? 0 : rampLoads;
      const to = anywhere(stage, Math.sqrt(square(spindle.own) + more));
      return { effect: effects.ownPartGrows(spindle, to, steps), subject, names, at: spindle, rampLoads: steps };
    }
    case 'outer-race-growing':
    case 'inner-race-growing': {
      const floorFactor = drawnLog(chance, ranges.BEARING_FACTOR);
      const effect = effects.raceGrows(spindle, floorFactor, rampLoads);
      return { effect, subject, names, at: spindle, rampLoads, floorFactor };
    }
    case 'sensor-loose':
    case 'sensor-clipped':
    case 'sensor-dead': {
      const fault = kind === 'sensor-loose' ? 'loose' : kind === 'sensor-clipped' ? 'clipped' : 'dead';
      const effect = effects.sensorFails(spindle, fault);
      return { effect, subject, names: [...names, spindle.sensor.device], at: spindle };
    }
    case 'sensors-swapped': {
      const others = spindlesFor(stage, false).filter((other) => other !== spindle);
      const other = anyOf(stage, others);
      if (other === undefined) return undefined;
      const all = [...names, other.spindleId, spindle.sensor.device, other.sensor.device];
      return { effect: effects.sensorsSwapped(spindle, other), subject, names: all, at: spindle };
    }
  }
}

/** At once, for so much less that what it lets pass multiplies the 1× by the factor drawn, in a usual spindle. */
function benchDrifting(stage: Stage): Planted | undefined {
  const bench: ScenarioBench | undefined = anyOf(
    stage,
    stage.benches.filter((it) => it.drift === 1),
  );
  const measured = stage.assemblies.filter((it) => it.bench === bench);
  if (bench === undefined || measured.length === 0) return undefined;
  let known = 0;
  let others = 0;
  for (const { measured: read, massKg, home } of measured) {
    const spindle = stage.spindles[home];
    known += square(read);
    others += square(spindle?.own ?? { x: 0, y: 0 }) + (massKg * (spindle?.usualClampingUm ?? 1)) ** 2;
  }
  const factor = drawnLog(stage.chance, ranges.FAULT_FACTOR);
  const more = ((factor * factor - 1) * (known + others)) / known;
  bench.drift = Math.max(BENCH_SCALE_MIN, 1 / Math.sqrt(1 + more));
  return {
    effect: effects.benchDrifts(bench),
    subject: { kind: 'bench', id: bench.device },
    names: [bench.device],
    at: undefined,
  };
}
