// The plant of a long scenario, drawn from its seed: spindles, benches and assemblies with what only the scenario knows of them.
import { angularSpeedRadS } from '../../shared/balance/index.ts';
import type { Instant } from '../../shared/time.ts';
import { amountOf, responsePerN, rotating, type Rotating, type SpindleMode } from '../physics.ts';
import type { Prng } from '../prng.ts';
import type { Clamped } from './clamping.ts';
import type { ReadingDraft } from './reading.ts';
import * as ranges from './ranges.ts';
import { TAPERS, USUAL_TAPER, type Taper } from './tapers.ts';

export type SensorFault = 'sound' | 'loose' | 'clipped' | 'dead';

/** One sensor; another one may take its place. */
export interface ScenarioSensor {
  readonly device: string;
  readonly bootId: string;
  sequence: number;
  readonly gain: number;
  readonly noise: number;
  readonly stepMmS: number;
  /** What it tells beside overall and 1×: all, or no more than acceleration. */
  readonly tellsEnvelope: boolean;
  readonly tellsFault: boolean;
  readonly skewMs: number;
  /** What was measured while it was not heard; undefined where it keeps nothing. */
  readonly kept: ReadingDraft[] | undefined;
  fault: SensorFault;
  silentUntil: Instant;
}

export interface ScenarioSpindle {
  readonly index: number;
  readonly spindleId: string;
  readonly taper: Taper;
  readonly keyed: boolean;
  readonly tacho: boolean;
  readonly mode: SpindleMode;
  readonly machineDevice: string;
  /** The control tells of the cut, or the sensor does. */
  readonly controlTellsCut: boolean;
  readonly airShare: number;
  cutting: number;
  readonly floorMmS: number;
  readonly floorSpread: number;
  readonly secondShare: number;
  readonly accelerationMS2: number;
  readonly coldShare: number;
  readonly coldMs: number;
  readonly usualClampingUm: number;
  readonly usualOwn: Rotating;
  sensor: ScenarioSensor;
  /** Whose vibration its sensor feels; another spindle's where sensors were swapped. */
  feels: number;
  own: Rotating;
  clampingUm: number;
  floorFactor: number;
  clamped: Clamped | undefined;
  loads: number;
  works: boolean;
  warmFrom: Instant;
  nextReadingAt: Instant;
}

export interface ScenarioBench {
  readonly device: string;
  readonly ownScale: number;
  readonly noiseGmm: number;
  /** How often the proving rotor is looked at; Infinity for never. */
  readonly provesEveryMs: number;
  /** What a fault makes of its scale. */
  drift: number;
}

export interface ScenarioAssembly {
  readonly index: number;
  readonly assemblyId: string;
  readonly taper: Taper;
  readonly home: number;
  readonly gradeMmS: number;
  readonly serviceRpm: number;
  speedsRpm: readonly number[];
  massKg: number;
  teeth: number;
  build: number;
  /** Angle from its own mark. */
  residual: Rotating;
  /** What the bench made of it. */
  measured: Rotating;
  bench: ScenarioBench;
  /** Of the bench, when it was measured. */
  drift: number;
  /** The next build is of another type of cutter. */
  otherType: boolean;
  loadsLeft: number;
  loads: number;
  place: 'shelf' | 'spindle' | 'tool-room';
}

export const drawnIn = (prng: Prng, [low, high]: ranges.Range): number => prng.between(low, high);
export const drawnLog = (prng: Prng, [low, high]: ranges.Range): number =>
  Math.exp(prng.between(Math.log(low), Math.log(high)));
const wholeIn = (prng: Prng, [low, high]: ranges.Range): number => prng.whole(low, high);

export const permissibleGmm = ({ gradeMmS, massKg, serviceRpm }: ScenarioAssembly): number =>
  (1000 * gradeMmS * massKg) / angularSpeedRadS(serviceRpm);

/** What a usual assembly of a taper may have, g·mm. */
function usualGmm({ massKg, serviceRpm, grades }: Taper): number {
  const middle = (range: ranges.Range): number => Math.sqrt(range[0] * range[1]);
  return (1000 * (grades[0] ?? 2.5) * middle(massKg)) / angularSpeedRadS(middle(serviceRpm));
}

export function drawSpindles(prng: Prng, count: number): ScenarioSpindle[] {
  const tapers = prng.shuffled(TAPERS).slice(0, Math.min(prng.whole(1, 3), Math.ceil(count / 4)));
  const phases = prng.between(0, 0.8);
  return Array.from({ length: count }, (_, index) =>
    drawSpindle(prng.split('spindle', index), index, tapers[index % tapers.length] ?? USUAL_TAPER, phases),
  );
}

function drawSpindle(prng: Prng, index: number, taper: Taper, phases: number): ScenarioSpindle {
  const number = String(index + 1).padStart(2, '0');
  const own = rotating(usualGmm(taper) * drawnLog(prng, ranges.OWN_SHARE), prng.between(0, 360));
  const usualClampingUm = drawnLog(prng, ranges.CLAMPING_UM);
  return {
    index,
    spindleId: `S-${number}`,
    taper,
    keyed: prng.chance(phases),
    tacho: prng.chance(phases),
    mode: drawMode(prng, taper),
    machineDevice: `control-${number}`,
    controlTellsCut: prng.chance(0.5),
    airShare: drawnIn(prng, ranges.AIR_SHARE),
    cutting: prng.between(0.3, 1.5),
    floorMmS: drawnLog(prng, ranges.FLOOR_MMS),
    floorSpread: drawnIn(prng, ranges.FLOOR_SPREAD),
    secondShare: prng.between(0.04, 0.2),
    accelerationMS2: prng.between(2, 8),
    coldShare: drawnIn(prng, ranges.COLD_SHARE),
    coldMs: drawnIn(prng, ranges.COLD_MS),
    usualClampingUm,
    usualOwn: own,
    sensor: drawSensor(prng, `sensor-${number}`, ranges.GAIN),
    feels: index,
    own,
    clampingUm: usualClampingUm,
    floorFactor: 1,
    clamped: undefined,
    loads: 0,
    works: false,
    warmFrom: 0,
    nextReadingAt: 0,
  };
}

export function drawSensor(prng: Prng, device: string, gains: ranges.Range): ScenarioSensor {
  return {
    device,
    bootId: `b${prng.whole(10_000, 99_999)}`,
    sequence: 0,
    gain: drawnLog(prng, gains),
    noise: drawnLog(prng, ranges.READING_NOISE),
    stepMmS: prng.pick(ranges.STEP_MMS),
    tellsEnvelope: prng.chance(0.7),
    tellsFault: prng.chance(0.5),
    skewMs: prng.chance(0.3) ? Math.round(drawnIn(prng, ranges.SKEW_MS)) : 0,
    kept: prng.chance(ranges.KEEPS_SHARE) ? [] : undefined,
    fault: 'sound',
    silentUntil: 0,
  };
}

/**
 * The stiffness follows from how much a usual assembly shakes it at two thirds of the usual service speed; stiffer where it would
 * shake more than anybody bears at any speed that is run.
 */
function drawMode(prng: Prng, taper: Taper): SpindleMode {
  const naturalHz = drawnLog(prng, ranges.NATURAL_HZ);
  const dampingRatio = drawnLog(prng, ranges.DAMPING);
  const soft = { stiffnessNUm: 1, naturalHz, dampingRatio, sensorDeg: prng.pick([0, 90, 180, 270]) };
  const rpm = (2 / 3) * Math.sqrt(taper.serviceRpm[0] * taper.serviceRpm[1]);
  const shaken = usualGmm(taper) * velocityPerGmm(soft, Math.min(rpm, naturalHz * 60 * 0.6));
  const worst = usualGmm(taper) * velocityPerGmm(soft, Math.min(taper.serviceRpm[1], naturalHz * 60));
  const usualMmS = drawnLog(prng, ranges.USUAL_MMS);
  return { ...soft, stiffnessNUm: Math.max(shaken / usualMmS, worst / ranges.BEARABLE_MMS) };
}

/** 1× velocity, mm/s RMS, per unbalance, g·mm. */
export function velocityPerGmm(mode: SpindleMode, speedRpm: number): number {
  const omega = angularSpeedRadS(speedRpm);
  return amountOf(responsePerN(mode, speedRpm)) * 1e-6 * omega * omega;
}

export function drawBenches(prng: Prng): ScenarioBench[] {
  return Array.from({ length: wholeIn(prng, ranges.BENCHES) }, (_, index) => ({
    device: `bench-${index + 1}`,
    ownScale: 1 + ranges.BENCH_SCALE_SPREAD * prng.gaussian(),
    noiseGmm: drawnLog(prng, ranges.BENCH_NOISE_GMM),
    provesEveryMs: prng.pick(ranges.PROVES_EVERY_MS),
    drift: 1,
  }));
}

export function drawAssemblies(
  prng: Prng,
  spindles: readonly ScenarioSpindle[],
  benches: readonly ScenarioBench[],
): ScenarioAssembly[] {
  const perSpindle = wholeIn(prng, ranges.ASSEMBLIES_PER_SPINDLE);
  return spindles.flatMap((spindle) =>
    Array.from({ length: perSpindle }, (_, nth) => {
      const index = spindle.index * perSpindle + nth;
      const own = prng.split('assembly', index);
      const serviceRpm = Math.round(drawnLog(own, spindle.taper.serviceRpm) / 100) * 100;
      return {
        index,
        assemblyId: `A-${String(index + 1).padStart(4, '0')}`,
        taper: spindle.taper,
        home: spindle.index,
        gradeMmS: own.pick(spindle.taper.grades),
        serviceRpm,
        speedsRpm: drawSpeeds(own, serviceRpm),
        massKg: drawnLog(own, spindle.taper.massKg),
        teeth: own.whole(2, 8),
        build: 0,
        residual: { x: 0, y: 0 },
        measured: { x: 0, y: 0 },
        bench: own.pick(benches),
        drift: 1,
        otherType: false,
        loadsLeft: 0,
        loads: 0,
        place: 'shelf' as const,
      };
    }),
  );
}

/** One to four programmed speeds, the service speed the highest, each at least 6 % from the next. */
export function drawSpeeds(prng: Prng, serviceRpm: number): number[] {
  const speeds = [serviceRpm];
  for (let more = prng.whole(0, 3); more > 0; more -= 1) {
    const speed = Math.round((serviceRpm * prng.between(0.45, 0.94)) / 50) * 50;
    if (speeds.every((other) => Math.abs(Math.log(other / speed)) > 0.06)) speeds.push(speed);
  }
  return speeds;
}
