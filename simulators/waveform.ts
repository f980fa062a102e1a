// The raw window that a sensor sends now and then: shaft orders, tooth passing and noise as acceleration, 16 bits a sample.
import type { Wave } from '../shared/messages/index.ts';
import { angularSpeedRadS } from '../shared/balance/index.ts';
import { amountOf, angleOf } from './physics.ts';
import type { Prng } from './prng.ts';
import { trueSynchronous, type SensorMoment } from './sensor.ts';
import { actualSpeedRpm, isCutting, isRunning } from './shift.ts';

const SAMPLE_RATE_HZ = 12_800;
const SAMPLES = 4096;
const SCALE_MS2 = 0.005;
const INT16_MAX = 32_767;

/** Undefined at standstill: there is nothing to hear. */
export function waveAt(moment: SensorMoment, prng: Prng): Wave | undefined {
  const { load, spindle } = moment;
  if (load === undefined || !isRunning(load, moment.at)) return undefined;
  const speedRpm = actualSpeedRpm(load, moment.at);
  const omega = angularSpeedRadS(speedRpm);
  const synchronous = trueSynchronous(moment);
  const cutting = isCutting(load, moment.at);
  // a = ω·v; the sensor's velocities are RMS in mm/s, the wave is peak in m/s².
  const tones = [
    { order: 1, peakMS2: (amountOf(synchronous) * omega * Math.SQRT2) / 1000, phaseDeg: angleOf(synchronous) + 90 },
    { order: 2, peakMS2: (spindle.bearing.secondMmS * 2 * omega * Math.SQRT2) / 1000, phaseDeg: 40 },
    { order: load.assembly.teeth, peakMS2: cutting ? 9 : 0, phaseDeg: 0 },
  ];
  const noiseMS2 = spindle.bearing.accelerationMS2 * 0.5 * (1 + moment.condition.bearing);
  const bytes = new DataView(new ArrayBuffer(SAMPLES * 2));
  for (let n = 0; n < SAMPLES; n += 1) {
    const turn = (omega * n) / SAMPLE_RATE_HZ;
    let value = noiseMS2 * prng.gaussian();
    for (const tone of tones) value += tone.peakMS2 * Math.cos(tone.order * turn + (tone.phaseDeg * Math.PI) / 180);
    const counts = Math.round(value / SCALE_MS2);
    bytes.setInt16(n * 2, Math.max(-INT16_MAX, Math.min(INT16_MAX, counts)), true);
  }
  return {
    channel: 'radial-x',
    sampleRateHz: SAMPLE_RATE_HZ,
    encoding: 'int16',
    scaleMS2: SCALE_MS2,
    samples: Buffer.from(bytes.buffer).toString('base64'),
    speedRpm,
    cutting,
    ...(spindle.sensor.tacho ? { tachoS: tachoMarks(speedRpm) } : {}),
  };
}

function tachoMarks(speedRpm: number): number[] {
  const period = 60 / speedRpm;
  const marks: number[] = [];
  for (let mark = 0; mark < SAMPLES / SAMPLE_RATE_HZ; mark += period) marks.push(Number(mark.toFixed(6)));
  return marks;
}
