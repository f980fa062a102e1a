// What a spindle's sensor makes of one window: mechanics, noise, the sensor's own gain and steps, in one summary.
import type { Summary } from '../shared/messages/index.ts';
import type { Instant } from '../shared/time.ts';
import { rounded } from './bench.ts';
import type { Condition } from './faults.ts';
import {
  added,
  amountOf,
  angleOf,
  NOTHING,
  scaled,
  synchronousMmS,
  wholeUnbalanceGmm,
  type Rotating,
} from './physics.ts';
import type { Prng } from './prng.ts';
import { actualSpeedRpm, isCutting, isRunning, runsFrom, speedSince, type LoadPlan } from './shift.ts';
import { distorted } from './sensor-faults.ts';
import type { SimulatedSpindle } from './spindles.ts';
import { SHIFT_MS } from './tool-room.ts';

export interface SensorMoment {
  readonly spindle: SimulatedSpindle;
  readonly load: LoadPlan | undefined;
  /** True residual of what is clamped, from the assembly's mark; keyed, so it turns with the spindle's mark. */
  readonly residualGmm: Rotating;
  readonly at: Instant;
  readonly condition: Condition;
}

/** Neighbours shake the floor a little even when this spindle stands. */
const STANDSTILL_MMS = 0.035;
/** After the break between shifts a cold spindle answers a little more until its bearings are warm. */
const WARMING_MS = 20 * 60_000;
const COLD_SHARE = 0.06;
const SPIN_UP_MS = 6000;
const UNSTEADY_PROBABILITY = 0.004;

/** The once-per-revolution velocity without noise: what a perfect sensor would see, mm/s RMS. */
export function trueSynchronous(moment: SensorMoment): Rotating {
  const { spindle, load, condition } = moment;
  if (load === undefined || !isRunning(load, moment.at)) return NOTHING;
  const unbalance = wholeUnbalanceGmm({
    residualGmm: moment.residualGmm,
    ownGmm: added(spindle.ownGmm, condition.extraOwnGmm),
    massKg: load.assembly.massKg,
    offsetUm: added(scaled(load.offsetUm, condition.scatter), condition.extraOffsetUm),
  });
  const cold = 1 + (COLD_SHARE + condition.cold) * Math.exp(-(moment.at % SHIFT_MS) / WARMING_MS);
  return scaled(synchronousMmS(spindle.mode, unbalance, actualSpeedRpm(load, moment.at)), cold);
}

/** One summary; undefined when the sensor says nothing at all. */
export function summaryAt(moment: SensorMoment, noise: Noise): Summary | undefined {
  return distorted(honestSummary(moment, noise), moment.condition, noise);
}

/** What a perfect sensor in its place would say on average, its gain included. */
export function noiselessSummary(moment: SensorMoment): Summary {
  return honestSummary(moment, NO_NOISE);
}

type Noise = Pick<Prng, 'gaussian' | 'chance'>;
const NO_NOISE: Noise = { gaussian: () => 0, chance: () => false };

function honestSummary(moment: SensorMoment, noise: Noise): Summary {
  const { load, at } = moment;
  if (load === undefined || !isRunning(load, at)) {
    return {
      speedRpm: 0,
      overallMmS: seen(moment.spindle, STANDSTILL_MMS * (1 + 0.2 * noise.gaussian())),
      steady: true,
    };
  }
  return runningSummary(moment, load, noise);
}

function runningSummary(moment: SensorMoment, load: LoadPlan, noise: Noise): Summary {
  const { spindle, at, condition } = moment;
  const { turningRpm, ramp, reached } = turning(load, at);
  const speedRpm = Math.round(turningRpm * (1 + 0.0004 * noise.gaussian()));
  const share = speedRpm / 10_000;
  const cutting = isCutting(load, at);
  const synchronous = scaled(trueSynchronous(moment), reached * reached * (1 + 0.025 * noise.gaussian()));
  const once = amountOf(synchronous);
  const twice = spindle.bearing.secondMmS * (1 + 0.15 * noise.gaussian()) + spindle.bearing.secondShare * once;
  const { rough, impulsive } = bearingSigns(condition.bearing);
  const floor = spindle.bearing.floorMmS * (0.5 + 0.5 * share) * (1 + rough) * (1 + 0.06 * noise.gaussian());
  // The teeth strike: velocity at the tooth-passing frequency, and rough broadband beside it.
  const blow = 0.5 + 0.25 * load.assembly.teeth * share;
  const teeth = cutting ? condition.cutting * blow * (1 + 0.3 * noise.gaussian()) : 0;
  const overall = Math.sqrt(once * once + twice * twice + floor * floor + teeth * teeth);
  const acceleration =
    spindle.bearing.accelerationMS2 *
      (0.3 + 0.7 * share * share) *
      (1 + condition.bearing) *
      (1 + 0.05 * noise.gaussian()) +
    (cutting ? condition.cutting * 12 * share : 0);
  return {
    speedRpm,
    overallMmS: seen(spindle, overall),
    synchronousMmS: seen(spindle, once),
    ...(spindle.sensor.tacho ? { synchronousPhaseDeg: rounded(angleOf(synchronous), 1) % 360 } : {}),
    secondOrderMmS: seen(spindle, twice),
    accelerationRmsMS2: rounded(Math.abs(acceleration), 2),
    accelerationPeakMS2: rounded(Math.abs(acceleration) * (3.8 + impulsive), 2),
    kurtosis: rounded(Math.max(1, (cutting ? 3.6 : 3.05) + 2 * impulsive + 0.12 * noise.gaussian()), 2),
    envelopeMS2: rounded(Math.abs(acceleration) * (0.12 + 0.5 * impulsive), 3),
    ...(condition.tellsCutting ? { cutting } : {}),
    steady: ramp === 1 && !noise.chance(UNSTEADY_PROBABILITY),
  };
}

/** Running up or down to the speed that is asked for. */
function turning(load: LoadPlan, at: Instant): { turningRpm: number; ramp: number; reached: number } {
  const since = speedSince(load, at);
  const wantedRpm = actualSpeedRpm(load, at);
  const beforeRpm = since === runsFrom(load) ? 0 : actualSpeedRpm(load, since - 1);
  const ramp = Math.min(1, (at - since + 500) / SPIN_UP_MS);
  const turningRpm = beforeRpm + (wantedRpm - beforeRpm) * ramp;
  return { turningRpm, ramp, reached: beforeRpm === 0 ? ramp : turningRpm / wantedRpm };
}

/** From here on a bearing's damage spreads: single impulses drown in a roughness that grows quickly. Common practice. */
const SPREADS_AT = 5;

function bearingSigns(damage: number): { rough: number; impulsive: number } {
  const spread = Math.max(0, damage - SPREADS_AT);
  return {
    rough: 0.5 * damage + 0.4 * spread * spread,
    impulsive: Math.max(1, SPREADS_AT - spread) * Math.min(1, damage / SPREADS_AT),
  };
}

/** Through the sensor's gain, in its steps. */
function seen(spindle: SimulatedSpindle, velocityMmS: number): number {
  const { gain, stepMmS } = spindle.sensor;
  return rounded(Math.round((Math.max(0, velocityMmS) * gain) / stepMmS) * stepMmS, 3);
}
