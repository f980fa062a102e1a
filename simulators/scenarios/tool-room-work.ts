// What the tool room of a long scenario does: builds assemblies anew, measures them on its benches, proves the benches.
import { rounded } from '../bench.ts';
import { added, amountOf, angleOf, rotating, scaled, type Rotating } from '../physics.ts';
import { buildIdOf, refresh } from './clamping.ts';
import {
  drawnIn,
  drawnLog,
  permissibleGmm,
  velocityPerGmm,
  type ScenarioAssembly,
  type ScenarioBench,
} from './drawn-plant.ts';
import * as ranges from './ranges.ts';
import { freshId, tell, type Stage } from './stage.ts';

const PROVING_GMM = 40;
const PROVING_TOLERANCE_GMM = 1.6;
const MARKED_ABOVE_SERVICE = 1.3;
const BENCH_DELAY_MS = 400;
/** How the new cutter of an old kind may differ in mass. */
const SAME_TYPE_MASS = 0.02;
const OTHER_TYPE_MASS = 0.25;

/** Takes it off the floor; it comes back built anew. */
export function sendToToolRoom(stage: Stage, assembly: ScenarioAssembly): void {
  assembly.place = 'tool-room';
  stage.queue.add(stage.now + Math.round(drawnIn(stage.chance, ranges.TOOL_ROOM_MS)), {
    what: 'back',
    assembly: assembly.index,
  });
}

/** A new build, measured on one of the benches until it lets it pass; told as the bench tells it. */
export function buildAnew(stage: Stage, assembly: ScenarioAssembly): void {
  const { chance, benches } = stage;
  const { otherType } = assembly;
  assembly.otherType = false;
  assembly.build += 1;
  assembly.loadsLeft = Math.round(drawnLog(chance, ranges.LOADS_PER_BUILD));
  assembly.loads = 0;
  const spread = otherType ? OTHER_TYPE_MASS : SAME_TYPE_MASS;
  assembly.massKg = Math.max(0.2, assembly.massKg * (1 + spread * (2 * chance.next() - 1)));
  if (otherType) assembly.teeth = chance.whole(2, 8);
  assembly.bench = chance.pick(benches);
  balance(stage, assembly);
  tellBuild(stage, assembly);
  tellResult(stage, assembly);
  assembly.place = 'shelf';
}

/** Corrected and measured where it is wanted at once: the same build, with what is left in it now. */
export function measureAgain(stage: Stage, assembly: ScenarioAssembly): void {
  balance(stage, assembly);
  tellResult(stage, assembly);
  for (const spindle of stage.spindles) {
    if (spindle.clamped?.assembly === assembly) refresh(spindle, spindle.clamped);
  }
}

/** Corrected until the bench reads something that it lets pass: what is true differs by the bench's error. */
function balance(stage: Stage, assembly: ScenarioAssembly): void {
  const { chance } = stage;
  const { bench } = assembly;
  const read = rotating(permissibleGmm(assembly) * drawnIn(chance, ranges.MEASURED_SHARE), chance.between(0, 360));
  assembly.measured = read;
  const error: Rotating = { x: bench.noiseGmm * chance.gaussian(), y: bench.noiseGmm * chance.gaussian() };
  assembly.residual = scaled(added(read, scaled(error, -1)), 1 / (bench.ownScale * bench.drift));
  assembly.drift = bench.drift;
}

function tellBuild(stage: Stage, assembly: ScenarioAssembly): void {
  const marked = Math.round(assembly.serviceRpm * MARKED_ABOVE_SERVICE);
  tell(stage, {
    at: stage.now,
    kind: 'build',
    device: assembly.bench.device,
    id: freshId(stage),
    time: stage.now - BENCH_DELAY_MS,
    data: {
      assemblyId: assembly.assemblyId,
      buildId: buildIdOf(assembly),
      massKg: rounded(assembly.massKg, 3),
      serviceSpeedRpm: assembly.serviceRpm,
      gradeMmS: assembly.gradeMmS,
      interface: assembly.taper.name,
      teeth: assembly.teeth,
      parts: [
        { role: 'holder', name: `Holder ${assembly.taper.name} (invented)`, markedMaxSpeedRpm: marked },
        { role: 'cutter', name: `Cutter ${assembly.build} (invented)` },
      ],
    },
  });
}

function tellResult(stage: Stage, assembly: ScenarioAssembly): void {
  tell(stage, {
    at: stage.now,
    kind: 'result',
    device: assembly.bench.device,
    id: freshId(stage),
    time: stage.now - BENCH_DELAY_MS / 2,
    data: {
      assemblyId: assembly.assemblyId,
      buildId: buildIdOf(assembly),
      stage: 'after-correction',
      frame: 'machine',
      planes: [
        {
          name: 'P1',
          residualGmm: rounded(amountOf(assembly.measured), 3),
          angleDeg: rounded(angleOf(assembly.measured), 1) % 360,
        },
      ],
      massKg: rounded(assembly.massKg, 3),
      serviceSpeedRpm: assembly.serviceRpm,
      gradeMmS: assembly.gradeMmS,
      error: { smallestAchievableGmm: rounded(3 * assembly.bench.noiseGmm, 3), scaleErrorPercent: 2 },
    },
  });
}

/** A look at the proving rotor, by who looks at it at all. ISO 21940-21. */
export function prove(stage: Stage, bench: ScenarioBench): void {
  const { chance } = stage;
  const planes = [0, 180].map((angleDeg, nth) => {
    const error = { x: bench.noiseGmm * chance.gaussian(), y: bench.noiseGmm * chance.gaussian() };
    const seen = scaled(added(rotating(PROVING_GMM, angleDeg), error), bench.ownScale * bench.drift);
    return { name: `P${nth + 1}`, residualGmm: rounded(amountOf(seen), 3), angleDeg: rounded(angleOf(seen), 1) % 360 };
  });
  tell(stage, {
    at: stage.now,
    kind: 'proof',
    device: bench.device,
    id: freshId(stage),
    time: stage.now - BENCH_DELAY_MS,
    data: {
      rotorSerial: `Proving rotor of ${bench.device} (invented)`,
      expected: [0, 180].map((angleDeg, nth) => ({ name: `P${nth + 1}`, residualGmm: PROVING_GMM, angleDeg })),
      planes,
      toleranceGmm: PROVING_TOLERANCE_GMM,
    },
  });
}

/** Highest 1× velocity, mm/s RMS, that anything usual gives in a spindle: limits lie well above it. */
export function usualWorstMmS(stage: Stage, spindle: number): number {
  const it = stage.spindles[spindle];
  if (it === undefined) return 0;
  let worst = 0;
  for (const assembly of stage.assemblies) {
    if (assembly.taper !== it.taper) continue;
    const gmm = permissibleGmm(assembly) + amountOf(it.usualOwn) + 2 * assembly.massKg * it.usualClampingUm;
    for (const speedRpm of assembly.speedsRpm) worst = Math.max(worst, gmm * velocityPerGmm(it.mode, speedRpm));
  }
  return worst;
}
