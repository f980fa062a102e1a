// The error of the sine fit against the least that any unbiased estimate can have (Cramér–Rao bound), at several noise levels.
import { expect, test } from 'vitest';
import { fitAt, refinedFrequency } from '../../../shared/vibration/sine-fit.ts';
import { fitRowOf, harmonicSums, type FitWeights } from '../../../shared/vibration/harmonic-sums.ts';
import { weightingWindow } from '../../../shared/vibration/weighting-window.ts';
import { say } from '../balance/referee.ts';
import { gaussianRow } from './rows.ts';

const SAMPLES = 1024;
/** 37.3 turns in the row, a frequency between two lines. */
const OMEGA = (2 * Math.PI * 37.3) / SAMPLES;
const AMPLITUDE = 1.7;
const PHASE = 0.6;
const SEEDS = 1500;
const LINE = (2 * Math.PI) / SAMPLES;

interface Errors {
  readonly amplitude: number;
  readonly phase: number;
  readonly frequency: number;
}

/** Root mean square errors over the seeds: amplitude and phase at the known frequency, then the frequency sought. */
function errorsAt(noise: number, weights: FitWeights): Errors {
  let amplitude = 0;
  let phase = 0;
  let frequency = 0;
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const row = gaussianRow(SAMPLES, seed * 7919);
    const middle = weights === 'even' ? (SAMPLES - 1) / 2 : SAMPLES / 2;
    for (let n = 0; n < SAMPLES; n += 1) {
      row[n] = noise * row[n]! + AMPLITUDE * Math.cos(OMEGA * (n - middle) + PHASE);
    }
    const fitRow = fitRowOf(row, 0, weights);
    const [part] = fitAt(harmonicSums(fitRow, OMEGA, [1]), OMEGA, [1]).parts;
    amplitude += (Math.hypot(part!.cosine, part!.sine) - AMPLITUDE) ** 2;
    phase += (Math.atan2(-part!.sine, part!.cosine) - PHASE) ** 2;
    const sought = refinedFrequency(fitRow, OMEGA + 0.3 * LINE, [1], 2 * LINE) ?? Number.NaN;
    frequency += (sought - OMEGA) ** 2;
  }
  return {
    amplitude: Math.sqrt(amplitude / SEEDS),
    phase: Math.sqrt(phase / SEEDS),
    frequency: Math.sqrt(frequency / SEEDS),
  };
}

/** Rife & Boorstyn, IEEE Trans. Information Theory 20 (1974) 591: amplitude and phase at the middle of the row, then frequency. */
function boundsAt(noise: number): Errors {
  const toNoise = AMPLITUDE / noise;
  return {
    amplitude: noise * Math.sqrt(2 / SAMPLES),
    phase: Math.sqrt(2 / SAMPLES) / toNoise,
    frequency: Math.sqrt(24 / (SAMPLES * (SAMPLES * SAMPLES - 1))) / toNoise,
  };
}

/** The seeds leave a ratio uncertain by 1/√(2·1500) = 1.8 %. */
const RATIO: readonly [number, number] = [0.95, 1.1];

test.each([10, 20, 40, 60])('with even weights the errors are at the bound, %i dB above the noise', (decibelsAbove) => {
  const noise = AMPLITUDE / Math.SQRT2 / 10 ** (decibelsAbove / 20);
  const errors = errorsAt(noise, 'even');
  const bounds = boundsAt(noise);
  for (const name of ['amplitude', 'phase', 'frequency'] as const) {
    const ratio = errors[name] / bounds[name];
    say(
      `sine fit, ${decibelsAbove} dB: ${name}'s error is ${ratio.toFixed(3)} of the Cramér–Rao bound (${SEEDS} seeds)`,
    );
    expect(ratio, name).toBeGreaterThan(RATIO[0]);
    expect(ratio, name).toBeLessThan(RATIO[1]);
  }
});

/** What Hann's weights cost, from the variance of a weighted sum: √(N·Σw²)/Σw for an amplitude, the same with t² for a frequency. */
function costsOfHann(): Errors {
  const { weights } = weightingWindow('hann', SAMPLES);
  let square = 0;
  let sum = 0;
  let squareT = 0;
  let sumT = 0;
  for (let n = 0; n < SAMPLES; n += 1) {
    const w = weights[n]!;
    const t = n - SAMPLES / 2;
    square += w * w;
    sum += w;
    squareT += w * w * t * t;
    sumT += w * t * t;
  }
  const amplitude = Math.sqrt(SAMPLES * square) / sum;
  const cube = (SAMPLES * (SAMPLES * SAMPLES - 1)) / 12;
  return { amplitude, phase: amplitude, frequency: Math.sqrt(cube * squareT) / sumT };
}

test('with the weights of Hann they are as much above it as the weights cost', () => {
  const noise = AMPLITUDE / 20;
  const errors = errorsAt(noise, 'hann');
  const bounds = boundsAt(noise);
  const costs = costsOfHann();
  expect(costs.amplitude).toBeCloseTo(Math.sqrt(1.5), 3);
  for (const name of ['amplitude', 'phase', 'frequency'] as const) {
    const ratio = errors[name] / bounds[name];
    say(`sine fit, Hann: ${name}'s error is ${ratio.toFixed(3)} of the bound, ${costs[name].toFixed(3)} expected`);
    expect(ratio / costs[name], name).toBeGreaterThan(RATIO[0]);
    expect(ratio / costs[name], name).toBeLessThan(RATIO[1]);
  }
});
