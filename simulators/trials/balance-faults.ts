// Trials of what benches and loads tell: residuals that exceed, assemblies in the wrong place, builds that nobody measured.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE } from '../../shared/time.ts';
import { markedMaxRpm } from '../assemblies.ts';
import { DECLARED_ERROR, permissibleUm } from '../bench.ts';
import type { Fault } from '../faults.ts';
import { amountOf } from '../physics.ts';
import { exceedsThenCorrected, unmeasuredChange } from '../scenes.ts';
import { INTERFACES } from '../spindles.ts';
import { residualOf } from '../bench-jobs.ts';
import { buildIdAt } from '../tool-room.ts';
import { shownAtOnce, type Scenario } from './scenario.ts';
import {
  borrowFor,
  firstPair,
  hoursIn,
  minutes,
  onlyFaults,
  pairsOf,
  withScene,
  type Pair,
  type Stage,
} from './stage.ts';

/** A new build exceeds its grade, by a little or by much beyond any error; corrected after a while. */
export function residualExceeds(stage: Stage): Scenario {
  const pair = firstPair(stage);
  const { overlay, plant } = exceeding(stage, pair);
  return { plant, overlay, labels: shownAtOnce(overlay.faults) };
}

function exceeding(stage: Stage, { assembly }: Pair): Pick<Scenario, 'plant' | 'overlay'> {
  const { prng } = stage;
  const plant = withScene(stage.plant, 'to-correct', assembly);
  const builtAt = hoursIn(stage, 1, 9);
  const exceedsAt = builtAt + minutes(prng, 4, 12);
  const passesAt = exceedsAt + minutes(prng, 60, 300);
  // From one part in fifty to three times what is permitted, small ones as likely as large ones.
  const beyond = 0.02 * 100 ** prng.next();
  return { plant, overlay: exceedsThenCorrected(plant, { tag: 'T1', builtAt, exceedsAt, passesAt, beyond }) };
}

/** The same, and it is clamped before it is corrected. */
export function heldAssemblyLoaded(stage: Stage): Scenario {
  const { prng } = stage;
  const pair = firstPair(stage);
  const { plant, overlay } = exceeding(stage, pair);
  const [exceeds] = overlay.faults;
  if (exceeds === undefined) throw new Error('the scene has its label');
  const { spindle, assembly } = pair;
  const loadAt = exceeds.from + minutes(prng, 2, 25);
  const unloadAt = Math.min(exceeds.to - MILLISECONDS_A_MINUTE, loadAt + minutes(prng, 4, 60));
  const borrow = borrowFor(stage, {
    spindle,
    assembly,
    buildId: `${assembly.assemblyId}-T1`,
    loadAt,
    unloadAt,
    programmedSpeedRpm: assembly.serviceSpeedRpm,
    stands: prng.chance(0.5),
  });
  const loaded: Fault = {
    kind: 'held-assembly-loaded',
    subject: { kind: 'spindle', id: spindle.declared.spindleId },
    from: loadAt,
    to: unloadAt,
  };
  const faults = [exceeds, loaded];
  return { plant, overlay: { ...overlay, borrows: [borrow], faults }, labels: shownAtOnce(faults) };
}

/** Above this the true residual and what the bench says of its own error use up what is permitted; ISO 21940-11, -14. */
function balancedUpToRpm({ plant }: Stage, { spindle, assembly }: Pair, buildId: string): number {
  const { highUm, declaredUm } = INTERFACES[spindle.interface];
  const residualGmm = amountOf(residualOf(plant, assembly, buildId));
  const errorGmm = Math.hypot(
    DECLARED_ERROR.smallestAchievableGmm,
    (residualGmm * DECLARED_ERROR.scaleErrorPercent) / 100,
    assembly.massKg * Math.min(highUm, declaredUm),
  );
  const upTo = (assembly.serviceSpeedRpm * permissibleUm(assembly) * assembly.massKg) / (residualGmm + errorGmm);
  return Math.max(assembly.serviceSpeedRpm, upTo);
}

/** Beyond what noise of the bench can blur. */
const CLEARLY = 1.08;

/** A program asks for more speed than the assembly is balanced for, though no mark and no spindle forbids it. */
export function wrongPairing(stage: Stage): Scenario {
  for (const pair of pairsOf(stage)) {
    const slow = { ...pair.assembly, scene: 'slow' as const };
    const staged = { ...stage, plant: withScene(stage.plant, 'slow', pair.assembly) };
    const slowPair = { ...pair, assembly: slow };
    const buildId = buildIdAt(staged.plant, slow, stage.from);
    const low = CLEARLY * balancedUpToRpm(staged, slowPair, buildId);
    const high = Math.min(pair.spindle.maxSpeedRpm, markedMaxRpm(pair.assembly));
    if (low < high) return clampedWrongly(staged, slowPair, 'wrong-pairing', stage.prng.between(low, high));
  }
  throw new Error('no assembly of this plant can be run above what it is balanced for');
}

/** A program asks for more than a maker marked on a part. */
export function markedSpeedExceeded(stage: Stage): Scenario {
  for (const pair of pairsOf(stage)) {
    const low = 1.01 * markedMaxRpm(pair.assembly);
    const high = pair.spindle.maxSpeedRpm;
    if (low < high) {
      const staged = { ...stage, plant: withScene(stage.plant, 'to-correct', pair.assembly) };
      return clampedWrongly(staged, pair, 'marked-speed-exceeded', stage.prng.between(low, high));
    }
  }
  throw new Error('no assembly of this plant can be run above its marks');
}

function clampedWrongly(
  stage: Stage,
  { spindle, assembly }: Pair,
  kind: 'wrong-pairing' | 'marked-speed-exceeded',
  speedRpm: number,
): Scenario {
  const { plant, prng } = stage;
  const loadAt = hoursIn(stage, 1, 14);
  const unloadAt = loadAt + minutes(prng, 4, 60);
  const borrow = borrowFor(stage, {
    spindle,
    assembly,
    buildId: buildIdAt(plant, assembly, loadAt),
    loadAt,
    unloadAt,
    programmedSpeedRpm: Math.floor(speedRpm),
    stands: prng.chance(0.5),
  });
  const fault: Fault = {
    kind,
    subject: { kind: 'spindle', id: spindle.declared.spindleId },
    from: loadAt,
    to: unloadAt,
  };
  return { plant, overlay: { ...onlyFaults(fault), borrows: [borrow] }, labels: shownAtOnce([fault]) };
}

/** The cutter is changed and declared, and nobody measures before the load. */
export function cutterChangedUnmeasured(stage: Stage): Scenario {
  const { prng } = stage;
  const { spindle, assembly } = firstPair(stage);
  const plant = withScene(stage.plant, 'changed', assembly);
  const changedAt = hoursIn(stage, 1, 12);
  const loadAt = changedAt + minutes(prng, 1, 60);
  const unloadAt = loadAt + minutes(prng, 4, 60);
  const measuredAt = unloadAt + minutes(prng, 5, 60);
  const overlay = unmeasuredChange(plant, { spindle, tag: 'T1', changedAt, loadAt, unloadAt, measuredAt });
  return { plant, overlay, labels: shownAtOnce(overlay.faults) };
}

/** A bench reads too much or too little, at once or by and by; its proving rotor shows it once a day. */
export function benchScaleDrifting(stage: Stage): Scenario {
  const { plant, prng, until } = stage;
  const size = prng.between(0.06, 0.2) * (prng.chance(0.5) ? 1 : -1);
  const from = hoursIn(stage, 1, 10);
  const growsMs = prng.chance(0.5) ? 0 : prng.between(0.1, 0.8) * MILLISECONDS_A_DAY;
  const { device } = prng.pick(plant.benches);
  const fault: Fault = {
    kind: 'bench-scale-drifting',
    subject: { kind: 'bench', id: device },
    from,
    to: until,
    size,
    growsMs,
  };
  return { plant, overlay: onlyFaults(fault), labels: shownAtOnce([fault]) };
}
