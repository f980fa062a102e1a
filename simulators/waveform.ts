// The raw window that a sensor sends now and then: shaft orders, tooth passing, bearing strikes and noise, 16 bits a sample.
import { angularSpeedRadS } from '../shared/balance/index.ts';
import type { Wave } from '../shared/messages/index.ts';
import { bearingFrequencies } from '../shared/vibration/index.ts';
import { growingFlawOf, type BearingFlaw } from './bearings.ts';
import { amountOf, angleOf } from './physics.ts';
import type { Prng } from './prng.ts';
import { trueSynchronous, type SensorMoment } from './sensor.ts';
import { actualSpeedRpm, isCutting, isRunning, type LoadPlan } from './shift.ts';
import { spoiled } from './window-faults.ts';

export const SAMPLE_RATE_HZ = 25_600;
/** A third of a second: lines three hertz apart, sixty turns at 12,000 rpm. */
export const SAMPLES = 8192;
/** Of every sensor of this plant. */
const FULL_SCALE_MS2 = 500;
const SCALE_MS2 = FULL_SCALE_MS2 / 32_767;
const STANDSTILL_MS2 = 0.02;

/** Where the housing rings when something strikes in it, and how soon that dies away. */
const RINGS_AT_HZ = 5200;
const RINGS_APART_HZ = 130;
const DAMPING = 0.03;
/** Elements slip a little: strikes come this much late or early (one standard deviation, as a share of their distance). */
const SLIP_JITTER = 0.01;
/** And all of them a little more slowly than without slip. */
const SLIP_SHARE = 0.004;
/** Of a strike on what turns with the shaft: it passes in and out of the loaded side. */
const LOAD_SWING = 0.7;

/** @param asked the question that it answers */
export function waveAt(moment: SensorMoment, prng: Prng, asked?: string): Wave {
  const { load, spindle, at } = moment;
  const running = load !== undefined && isRunning(load, at) ? load : undefined;
  const values = new Float64Array(SAMPLES);
  addNoise(values, running === undefined ? STANDSTILL_MS2 : noiseOf(moment, running), prng);
  const speedRpm = running === undefined ? 0 : actualSpeedRpm(running, at);
  // The window begins anywhere in a turn.
  const markS = speedRpm === 0 ? 0 : (60 / speedRpm) * prng.next();
  if (running !== undefined) {
    addTones(values, tonesOf(moment, running, prng), { speedRpm, markS });
    for (const flaw of flawsOf(moment)) addStrikes(values, { flaw, moment, speedRpm }, prng);
  }
  for (let n = 0; n < SAMPLES; n += 1) values[n] = (values[n] ?? 0) * spindle.sensor.gain;
  spoiled(values, moment.condition, { sampleRateHz: SAMPLE_RATE_HZ, prng });
  return {
    channel: 'radial-x',
    sampleRateHz: SAMPLE_RATE_HZ,
    encoding: 'int16',
    scaleMS2: SCALE_MS2,
    samples: countsOf(values).toString('base64'),
    speedRpm,
    fullScaleMS2: FULL_SCALE_MS2,
    ...(moment.condition.tellsCutting ? { cutting: running !== undefined && isCutting(running, at) } : {}),
    ...(spindle.sensor.tacho && speedRpm > 0 ? { tachoS: tachoMarks(speedRpm, markS) } : {}),
    ...(asked === undefined ? {} : { asked }),
  };
}

function noiseOf({ spindle, condition }: SensorMoment, load: LoadPlan): number {
  const share = actualSpeedRpm(load, load.loadAt + load.startsAfterMs) / 10_000;
  return spindle.bearing.accelerationMS2 * (0.3 + 0.7 * share * share) * (1 + 0.3 * condition.bearing);
}

/** What rolls and runs hums far above the shaft's orders: neighbours subtracted, so that little is left of it below. */
function addNoise(values: Float64Array, rmsMS2: number, prng: Prng): void {
  let before = prng.gaussian();
  for (let n = 0; n < values.length; n += 1) {
    const drawn = prng.gaussian();
    values[n] = (values[n] ?? 0) + (rmsMS2 * (drawn - before)) / Math.SQRT2;
    before = drawn;
  }
}

interface Tone {
  readonly order: number;
  /** mm/s, RMS. */
  readonly velocityMmS: number;
  /** Of the velocity, against the tacho mark. */
  readonly phaseDeg: number;
}

function tonesOf(moment: SensorMoment, load: LoadPlan, prng: Prng): readonly Tone[] {
  const { spindle, at, condition } = moment;
  const synchronous = trueSynchronous(moment);
  const once = amountOf(synchronous);
  const share = actualSpeedRpm(load, at) / 10_000;
  const { teeth } = load.assembly;
  // The same blow as in the readings; the entry of each tooth is short, so that its harmonics are there as well.
  const blow = isCutting(load, at) ? condition.cutting * (0.5 + 0.25 * teeth * share) * (1 + 0.1 * prng.gaussian()) : 0;
  const phase = (): number => prng.between(0, 360);
  return [
    { order: 1, velocityMmS: once, phaseDeg: angleOf(synchronous) },
    { order: 2, velocityMmS: spindle.bearing.secondMmS + spindle.bearing.secondShare * once, phaseDeg: 40 },
    { order: 3, velocityMmS: 0.3 * spindle.bearing.secondMmS, phaseDeg: 200 },
    { order: teeth, velocityMmS: 0.9 * blow, phaseDeg: phase() },
    { order: 2 * teeth, velocityMmS: 0.35 * blow, phaseDeg: phase() },
    // Neighbours and the drive, at no order of this shaft.
    ...[0.37, 1.63, 2.71].map((order) => ({
      order,
      velocityMmS: (spindle.bearing.floorMmS * (0.5 + 0.5 * share)) / Math.sqrt(3),
      phaseDeg: phase(),
    })),
  ];
}

/** x(t) = √2·A·cos(2πft + φ), t from the tacho mark; the acceleration leads the velocity by a quarter turn. Mechanics. */
function addTones(
  values: Float64Array,
  tones: readonly Tone[],
  { speedRpm, markS }: { readonly speedRpm: number; readonly markS: number },
): void {
  for (const { order, velocityMmS, phaseDeg } of tones) {
    const omega = angularSpeedRadS(speedRpm) * order;
    const peakMS2 = (Math.SQRT2 * velocityMmS * omega) / 1000;
    const phase = ((phaseDeg + 90) * Math.PI) / 180;
    // Turned on by one step a sample: a cosine of each would cost more than all the rest of an invented past.
    const [stepX, stepY] = [Math.cos(omega / SAMPLE_RATE_HZ), Math.sin(omega / SAMPLE_RATE_HZ)];
    let x = peakMS2 * Math.cos(phase - omega * markS);
    let y = peakMS2 * Math.sin(phase - omega * markS);
    for (let n = 0; n < values.length; n += 1) {
      values[n] = (values[n] ?? 0) + x;
      const before = x;
      x = x * stepX - y * stepY;
      y = before * stepY + y * stepX;
    }
  }
}

/** What it has of its own, and what grows in it just now. */
function flawsOf({ spindle, condition }: SensorMoment): readonly BearingFlaw[] {
  const growing = condition.bearing > 0 ? [{ ...growingFlawOf(spindle.index), size: condition.bearing }] : [];
  return [...(spindle.flaw === undefined ? [] : [spindle.flaw]), ...growing];
}

interface Striking {
  readonly flaw: BearingFlaw;
  readonly moment: SensorMoment;
  readonly speedRpm: number;
}

/** Each strike makes the housing ring: a resonator of second order, struck in time with slip. */
function addStrikes(values: Float64Array, { flaw, moment, speedRpm }: Striking, prng: Prng): void {
  const { spindle } = moment;
  const bearing = spindle.declared.bearings?.find(({ name }) => name === flaw.bearing);
  if (bearing === undefined) return;
  const hertz = bearingFrequencies(bearing, speedRpm)[flaw.part] * (1 - SLIP_SHARE);
  const swing = flaw.part === 'outer' ? 0 : LOAD_SWING;
  const turn = angularSpeedRadS(speedRpm) / SAMPLE_RATE_HZ;
  const omega = (2 * Math.PI * (RINGS_AT_HZ + RINGS_APART_HZ * (spindle.index % 5))) / SAMPLE_RATE_HZ;
  const decay = Math.exp(-DAMPING * omega);
  const strengthMS2 = spindle.bearing.accelerationMS2 * flaw.size * 6 * Math.min(1, speedRpm / 10_000);
  let due = (prng.next() / hertz) * SAMPLE_RATE_HZ;
  let one = 0;
  let two = 0;
  for (let n = 0; n < values.length; n += 1) {
    let struck = 0;
    if (n >= due) {
      struck = strengthMS2 * (1 + 0.15 * prng.gaussian()) * (1 + swing * Math.cos(turn * n)) * Math.sin(omega);
      due += (SAMPLE_RATE_HZ / hertz) * (1 + SLIP_JITTER * prng.gaussian());
    }
    const ring = 2 * decay * Math.cos(omega) * one - decay * decay * two + struck;
    two = one;
    one = ring;
    values[n] = (values[n] ?? 0) + ring;
  }
}

function countsOf(values: Float64Array): Buffer {
  const bytes = Buffer.alloc(values.length * 2);
  values.forEach((value, n) => {
    const counts = Math.round(value / SCALE_MS2);
    bytes.writeInt16LE(Math.max(-32_767, Math.min(32_767, counts)), n * 2);
  });
  return bytes;
}

function tachoMarks(speedRpm: number, markS: number): number[] {
  const marks: number[] = [];
  for (let mark = markS; mark < SAMPLES / SAMPLE_RATE_HZ; mark += 60 / speedRpm) marks.push(Number(mark.toFixed(6)));
  return marks;
}
