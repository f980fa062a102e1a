// Invented vibrations of a damaged bearing: blows with slip that ring in a structure, in noise and beside the shaft's orders.
import { gaussianRow, generator } from './rows.ts';

export interface Planted {
  readonly seed: number;
  readonly size: number;
  readonly sampleRateHz: number;
  readonly shaftHz: number;
  /** Blows in each turn of the shaft. */
  readonly order: number;
  /** Height of a blow as a multiple of the noise's RMS. */
  readonly height: number;
  readonly resonanceHz: number;
  /** A structure that rings with noise, strong beside the blows. */
  readonly noiseAtHz?: number;
  /** How much the load's turning modulates the blows, 0 to 1: an inner race. */
  readonly modulation?: number;
}

const DAMPING = 0.04;
const SLIP_SPREAD = 0.008;

function ringing(input: Float64Array, sampleRateHz: number, hz: number, damping: number): Float64Array {
  const radius = Math.exp((-damping * 2 * Math.PI * hz) / sampleRateHz);
  const turn = (2 * Math.PI * hz) / sampleRateHz;
  const output = new Float64Array(input.length);
  for (let n = 0; n < input.length; n += 1) {
    const before = n > 0 ? output[n - 1]! : 0;
    const beforeThat = n > 1 ? output[n - 2]! : 0;
    output[n] =
      (n > 0 ? input[n - 1]! : 0) * Math.sin(turn) +
      2 * radius * Math.cos(turn) * before -
      radius * radius * beforeThat;
  }
  return output;
}

function scaledToRms(samples: Float64Array, rms: number): Float64Array {
  let squares = 0;
  for (const sample of samples) squares += sample * sample;
  const factor = rms / Math.sqrt(squares / samples.length);
  return samples.map((sample) => sample * factor);
}

/** Noise of RMS 1, five shaft orders, and the blows. */
export function plantedDefect(planted: Planted): Float64Array {
  const { seed, size, sampleRateHz, shaftHz, order, height, resonanceHz, noiseAtHz, modulation = 0 } = planted;
  const next = generator(seed);
  const [one, other] = [gaussianRow(size, seed + 1), gaussianRow(size, seed + 2)];
  const structure = noiseAtHz === undefined ? one : scaledToRms(ringing(other, sampleRateHz, noiseAtHz, 0.06), 1);
  const noise = scaledToRms(
    structure.map((sample, n) => (noiseAtHz === undefined ? sample : sample + 0.2 * one[n]!)),
    1,
  );
  const blows = new Float64Array(size);
  const period = sampleRateHz / (order * shaftHz);
  const slips = gaussianRow(Math.ceil((2 * size) / period) + 4, seed + 3);
  let at = next() * period;
  for (let blow = 0; at < size - 2; blow += 1) {
    const load = 1 + modulation * Math.cos((2 * Math.PI * shaftHz * at) / sampleRateHz);
    const whole = Math.floor(at);
    blows[whole] = blows[whole]! + load * (1 - (at - whole));
    blows[whole + 1] = blows[whole + 1]! + load * (at - whole);
    at += period * (1 + SLIP_SPREAD * slips[blow]!);
  }
  const rung = ringing(blows, sampleRateHz, resonanceHz, DAMPING);
  const phases = Array.from({ length: 5 }, () => 2 * Math.PI * next());
  return noise.map((sample, n) => {
    let orders = 0;
    for (let k = 1; k <= 5; k += 1) {
      orders += (0.8 / k) * Math.sin((2 * Math.PI * k * shaftHz * n) / sampleRateHz + phases[k - 1]!);
    }
    return sample + orders + height * rung[n]!;
  });
}
