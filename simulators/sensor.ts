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
import { actualSpeedRpm, isCutting, isRunning, runsFrom, type LoadPlan } from './shift.ts';
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
const CLIPS_AT_MS2 = 160;

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
  const cold = 1 + COLD_SHARE * Math.exp(-(moment.at % SHIFT_MS) / WARMING_MS);
  return scaled(synchronousMmS(spindle.mode, unbalance, actualSpeedRpm(load)), cold);
}

/** One summary; undefined when the sensor says nothing at all. */
export function summaryAt(moment: SensorMoment, prng: Prng): Summary | undefined {
  const { load, at, condition } = moment;
  if (condition.sensor === 'silent') return undefined;
  if (condition.sensor === 'flat') return { speedRpm: 0, overallMmS: 0, fault: 'flat' };
  if (load === undefined || !isRunning(load, at)) {
    return {
      speedRpm: 0,
      overallMmS: seen(moment.spindle, STANDSTILL_MMS * (1 + 0.2 * prng.gaussian())),
      steady: true,
    };
  }
  return runningSummary(moment, load, prng);
}

function runningSummary(moment: SensorMoment, load: LoadPlan, prng: Prng): Summary {
  const { spindle, at, condition } = moment;
  const ramp = Math.min(1, (at - runsFrom(load) + 500) / SPIN_UP_MS);
  const speedRpm = Math.round(actualSpeedRpm(load) * ramp * (1 + 0.0004 * prng.gaussian()));
  const share = speedRpm / 10_000;
  const cutting = isCutting(load, at);
  const synchronous = scaled(trueSynchronous(moment), ramp * ramp * (1 + 0.025 * prng.gaussian()));
  const once = amountOf(synchronous);
  const twice = spindle.bearing.secondMmS * (1 + 0.15 * prng.gaussian()) + spindle.bearing.secondShare * once;
  const floor =
    spindle.bearing.floorMmS * (0.5 + 0.5 * share) * (1 + 0.5 * condition.bearing) * (1 + 0.06 * prng.gaussian());
  // The teeth strike: velocity at the tooth-passing frequency, and rough broadband beside it.
  const teeth = cutting ? (0.5 + 0.25 * load.assembly.teeth * share) * (1 + 0.3 * prng.gaussian()) : 0;
  const overall = Math.sqrt(once * once + twice * twice + floor * floor + teeth * teeth);
  const acceleration =
    spindle.bearing.accelerationMS2 *
      (0.3 + 0.7 * share * share) *
      (1 + condition.bearing) *
      (1 + 0.05 * prng.gaussian()) +
    (cutting ? 12 * share : 0);
  const clipped = condition.sensor === 'clipped';
  return {
    speedRpm,
    overallMmS: seen(spindle, overall),
    synchronousMmS: seen(spindle, once),
    ...(spindle.sensor.tacho ? { synchronousPhaseDeg: rounded(angleOf(synchronous), 1) % 360 } : {}),
    secondOrderMmS: seen(spindle, twice),
    accelerationRmsMS2: rounded(Math.abs(acceleration), 2),
    accelerationPeakMS2: clipped ? CLIPS_AT_MS2 : rounded(Math.abs(acceleration) * (3.8 + condition.bearing), 2),
    kurtosis: rounded(Math.max(1, (cutting ? 3.6 : 3.05) + 2 * condition.bearing + 0.12 * prng.gaussian()), 2),
    envelopeMS2: rounded(Math.abs(acceleration) * (0.12 + 0.5 * condition.bearing), 3),
    cutting,
    steady: ramp === 1 && !prng.chance(UNSTEADY_PROBABILITY),
    ...(clipped ? { fault: 'clipped' as const } : {}),
  };
}

/** Through the sensor's gain, in its steps. */
function seen(spindle: SimulatedSpindle, velocityMmS: number): number {
  const { gain, stepMmS } = spindle.sensor;
  return rounded(Math.round((Math.max(0, velocityMmS) * gain) / stepMmS) * stepMmS, 3);
}
