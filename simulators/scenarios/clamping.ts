// One assembly clamped once: what turns, what a sensor in its place sees of it at each of its speeds, and its true facts.
import { angularSpeedRadS } from '../../shared/balance/index.ts';
import type { Instant } from '../../shared/time.ts';
import { amountOf, angleOf, NOTHING, responsePerN, rotating, type Rotating } from '../physics.ts';
import { prngOf } from '../prng.ts';
import type { ScenarioAssembly, ScenarioSpindle } from './drawn-plant.ts';
import type { LoadFact, Turning } from './fault-kinds.ts';
import { PAIR_SPREAD } from './ranges.ts';

/** At one programmed speed. */
export interface AtSpeed {
  readonly speedRpm: number;
  /** Velocity per unbalance, mm/s per g·mm, without the sensor's gain; and by how much it turns the angle. */
  readonly perGmm: number;
  readonly turnDeg: number;
  /** What the whole unbalance gives there. */
  velocityMmS: number;
  phaseDeg: number;
}

export interface Clamped {
  readonly assembly: ScenarioAssembly;
  readonly nth: number;
  /** Of the assembly's mark against the spindle's. */
  readonly turnedDeg: number;
  readonly offsetUm: Rotating;
  readonly speeds: readonly AtSpeed[];
  readonly floorFactor: number;
  strayGmm: Rotating;
  whole: Rotating;
  speed: number;
  cutting: boolean;
  since: Instant;
  fact: LoadFact;
}

/** Clamps it: the angle is drawn anew where the taper is not keyed, the offset always. */
export function clamp(
  spindle: ScenarioSpindle,
  assembly: ScenarioAssembly,
  { at, nth, seed }: { readonly at: Instant; readonly nth: number; readonly seed: number },
): Clamped {
  const prng = prngOf(seed, 'clamped', spindle.index, nth);
  const { clampingUm, mode, keyed } = spindle;
  const pair = Math.exp(PAIR_SPREAD * prngOf(seed, 'pair', spindle.index, assembly.index).gaussian());
  const speeds = assembly.speedsRpm.map((speedRpm) => {
    const response = responsePerN(mode, speedRpm);
    const omega = angularSpeedRadS(speedRpm);
    return {
      speedRpm,
      perGmm: pair * amountOf(response) * 1e-6 * omega * omega,
      turnDeg: angleOf(response),
      velocityMmS: 0,
      phaseDeg: 0,
    };
  });
  const each = clampingUm / Math.SQRT2;
  const clamped: Clamped = {
    assembly,
    nth,
    turnedDeg: keyed ? 0 : prng.between(0, 360),
    offsetUm: { x: each * prng.gaussian(), y: each * prng.gaussian() },
    speeds,
    floorFactor: Math.exp(spindle.floorSpread * prng.gaussian()),
    strayGmm: NOTHING,
    whole: NOTHING,
    speed: 0,
    cutting: false,
    since: at,
    fact: factOf(spindle, assembly, at, nth),
  };
  refresh(spindle, clamped);
  return clamped;
}

function factOf(spindle: ScenarioSpindle, assembly: ScenarioAssembly, at: Instant, nth: number): LoadFact {
  return {
    nth,
    spindleId: spindle.spindleId,
    assemblyId: assembly.assemblyId,
    buildId: buildIdOf(assembly),
    benchId: assembly.bench.device,
    at,
    until: Infinity,
    keyed: spindle.keyed,
    tacho: spindle.tacho,
    readingNoise: spindle.sensor.noise,
    floorSpread: spindle.floorSpread,
    readings: 0,
    sumSquares: 0,
    sumX: 0,
    sumY: 0,
    sumLogFloor: 0,
  };
}

export const buildIdOf = ({ assemblyId, build }: ScenarioAssembly): string => `${assemblyId}-B${build}`;

/** After anything that turns has changed: what is seen from now on, and nothing of before in the facts. */
export function refresh(spindle: ScenarioSpindle, clamped: Clamped): void {
  const { assembly, turnedDeg, offsetUm, strayGmm } = clamped;
  const residual = rotating(amountOf(assembly.residual), angleOf(assembly.residual) + turnedDeg);
  const x = residual.x + spindle.own.x + assembly.massKg * offsetUm.x + strayGmm.x;
  const y = residual.y + spindle.own.y + assembly.massKg * offsetUm.y + strayGmm.y;
  clamped.whole = { x, y };
  const amount = Math.hypot(x, y);
  const angle = angleOf(clamped.whole);
  for (const at of clamped.speeds) {
    at.velocityMmS = at.perGmm * amount;
    at.phaseDeg = (at.turnDeg + angle) % 360;
  }
  const { fact } = clamped;
  fact.readings = 0;
  fact.sumSquares = 0;
  fact.sumX = 0;
  fact.sumY = 0;
  fact.sumLogFloor = 0;
}

/** What turns in this load, as the informed detector is told it. */
export function turningIn(spindle: ScenarioSpindle, { assembly, strayGmm }: Clamped): Turning {
  return {
    residualX: assembly.residual.x,
    residualY: assembly.residual.y,
    ownX: spindle.own.x,
    ownY: spindle.own.y,
    clampingGmm: assembly.massKg * spindle.clampingUm,
    strayGmm: amountOf(strayGmm),
    logFloor: Math.log(spindle.floorFactor),
  };
}
