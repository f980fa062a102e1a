// Invented machines that are sound: four modes that ring with noise, four shaft orders, a converter with its filter and counts.
import { type VibrationWindow } from '../../../shared/vibration/index.ts';
import { realFftOf } from '../../../shared/vibration/real-fft.ts';
import { gaussianRow, generator } from './rows.ts';

const RATES_HZ = [20_000, 25_600, 51_200] as const;
const SIZES = [16_384, 25_600, 40_000] as const;
const COUNT_MS2 = 0.015;
/** The filter before the converter falls by half at this share of the rate. */
const FILTER_OF_RATE = 0.44;

function addMode(row: Float64Array, noise: Float64Array, turn: number, damping: number, rms: number): void {
  const radius = Math.exp(-damping * turn);
  const rung = new Float64Array(row.length);
  let squares = 0;
  let before = 0;
  let beforeThat = 0;
  for (let n = 0; n < row.length; n += 1) {
    const now = noise[n]! + 2 * radius * Math.cos(turn) * before - radius * radius * beforeThat;
    rung[n] = now;
    squares += now * now;
    beforeThat = before;
    before = now;
  }
  const factor = rms / Math.sqrt(squares / row.length);
  for (let n = 0; n < row.length; n += 1) row[n] = row[n]! + factor * rung[n]!;
}

function filtered(row: Float64Array): Float64Array {
  const lines = Math.floor(row.length / 2) + 1;
  const [re, im, result] = [new Float64Array(lines), new Float64Array(lines), new Float64Array(row.length)];
  const fft = realFftOf(row.length);
  fft.forward(row, re, im);
  for (let k = 0; k < lines; k += 1) {
    const gain = 1 / (1 + (k / row.length / FILTER_OF_RATE) ** 40);
    re[k] = re[k]! * gain;
    im[k] = im[k]! * gain;
  }
  fft.inverse(re, im, result);
  return result;
}

/** The same machine for the same seed: 600 to 24,600 rpm, some 5 to 15 m/s² RMS. */
export function inventedMachine(seed: number): VibrationWindow {
  const next = generator(seed);
  const sampleRateHz = RATES_HZ[seed % 3]!;
  const size = SIZES[Math.floor(next() * 3)]!;
  const shaftHz = 10 + 400 * next();
  const row = new Float64Array(size);
  for (let mode = 0; mode < 4; mode += 1) {
    const turn = 2 * Math.PI * (0.01 + 0.35 * next());
    addMode(row, gaussianRow(size, 10 * seed + mode), turn, 0.02 + 0.1 * next(), 0.3 + next());
  }
  for (let order = 1; order <= 4; order += 1) {
    const [height, phase] = [(2 * next()) / order, 2 * Math.PI * next()];
    for (let n = 0; n < size; n += 1) {
      row[n] = row[n]! + height * Math.cos((2 * Math.PI * order * shaftHz * n) / sampleRateHz + phase);
    }
  }
  const accelerationMS2 = filtered(row).map((sample) => Math.round((5 * sample) / COUNT_MS2) * COUNT_MS2);
  return { accelerationMS2, sampleRateHz, speedRpm: 60 * shaftHz };
}
