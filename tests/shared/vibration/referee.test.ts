// An outside referee: NumPy and SciPy recompute what the vibration mathematics says of the same random rows, by other ways.
import { expect, test } from 'vitest';
import { overallOf, spectrumOf, VIBRATION_QUANTITIES } from '../../../shared/vibration/index.ts';
import { fitAt, refinedFrequency } from '../../../shared/vibration/sine-fit.ts';
import { fitRowOf, harmonicSums, type FitWeights } from '../../../shared/vibration/harmonic-sums.ts';
import { momentsOf } from '../../../shared/vibration/moments.ts';
import { realFftOf } from '../../../shared/vibration/real-fft.ts';
import { resampledToAngle } from '../../../shared/vibration/order-tracking.ts';
import { tachoTurning } from '../../../shared/vibration/tacho.ts';
import { WINDOW_KINDS } from '../../../shared/vibration/weighting-window.ts';
import { askPython } from '../../environment/python.ts';
import { largestDifference, say } from '../balance/referee.ts';
import { gaussianRow, randomRow, sineRow } from './rows.ts';

const RATE_HZ = 5120;
const LINES = 400;
const BAND_HZ = [10, 1000] as const;
const HARMONICS = [1, 2, 3, 5];
const SHAFT_HZ = 83.7;
const OMEGA = (2 * Math.PI * SHAFT_HZ) / RATE_HZ;
/** A third of a line of the shortest row away. */
const GUESS = OMEGA * (1 + 0.002);
const MARKS_S = Array.from({ length: 17 }, (_, k) => 0.01 + k / SHAFT_HZ + 0.0001 * Math.sin(k));
const PER_TURN = 64;
/** What two ways of reckoning in double precision may lie apart; of sums that nearly cancel a little more. */
const BOUND = 1e-11;
/** Least squares for a frequency by differences ends where the sum of squares no longer changes: half the digits. */
const SOUGHT_BOUND = 1e-7;

/** Noise with a mean, and a shaft with harmonics so that a frequency can be sought; even, odd, prime, a power of two. */
const ROWS = [2560, 2001, 2503, 4096].map((size, index) => {
  const noise = index % 2 === 0 ? gaussianRow(size, 40 + index) : randomRow(size, 40 + index);
  const shaft = sineRow(
    size,
    RATE_HZ,
    HARMONICS.map((k) => ({ rms: 2 / k, hz: k * SHAFT_HZ, phaseDeg: 57 * k })),
  );
  return shaft.map((x, n) => 0.7 + x + noise[n]!);
});

function transformed(row: Float64Array): number[] {
  const lines = Math.floor(row.length / 2) + 1;
  const re = new Float64Array(lines);
  const im = new Float64Array(lines);
  realFftOf(row.length).forward(row, re, im);
  return [...re, ...im];
}

function fitted(row: Float64Array, weights: FitWeights): number[] {
  const { mean } = momentsOf(row);
  const sums = harmonicSums(fitRowOf(row, mean, weights), OMEGA, HARMONICS);
  const { offset, parts } = fitAt(sums, OMEGA, HARMONICS);
  return [offset, ...parts.flatMap(({ cosine, sine }) => [cosine, sine])];
}

function sought(row: Float64Array, weights: FitWeights): number[] {
  const { mean } = momentsOf(row);
  const found = refinedFrequency(fitRowOf(row, mean, weights), GUESS, HARMONICS, (2 * Math.PI) / row.length);
  return [found ?? Number.NaN];
}

function atAngles(row: Float64Array): number[] {
  const turning = tachoTurning(MARKS_S);
  if (turning === undefined) return [];
  const { samples, pointsPerTurn } = resampledToAngle(row, RATE_HZ, turning);
  expect(pointsPerTurn).toBe(PER_TURN);
  return [...samples];
}

function said(row: Float64Array): Record<string, number[]> {
  const { mean, rms, peak, peakToPeak, crestFactor, skewness, kurtosis } = momentsOf(row);
  const answers: Record<string, number[]> = {
    transform: transformed(row),
    moments: [mean, rms, peak, peakToPeak, crestFactor, skewness, kurtosis],
    'whole row': [...spectrumOf(row, RATE_HZ, { quantity: 'velocity' }).amplitude],
    'sine fit, even': fitted(row, 'even'),
    'sine fit, hann': fitted(row, 'hann'),
    'frequency, even': sought(row, 'even'),
    'frequency, hann': sought(row, 'hann'),
    'equal angles': atAngles(row),
  };
  for (const quantity of VIBRATION_QUANTITIES) {
    for (const window of WINDOW_KINDS) {
      const { amplitude } = spectrumOf(row, RATE_HZ, { quantity, window, linesMax: LINES });
      answers[`${quantity} through ${window}`] = [...amplitude];
    }
    const choice = { quantity, bandHz: BAND_HZ };
    answers[`overall ${quantity}`] = [overallOf(row, RATE_HZ, choice)];
    answers[`overall ${quantity} as ISO 2954`] = [overallOf(row, RATE_HZ, { ...choice, edges: 'iso-2954' })];
  }
  return answers;
}

test('NumPy and SciPy say the same', () => {
  const theirs = askPython<Record<string, number[]>[]>(new URL('referee.py', import.meta.url), {
    rows: ROWS.map((row) => [...row]),
    sampleRateHz: RATE_HZ,
    bandHz: BAND_HZ,
    lines: LINES,
    omega: OMEGA,
    guess: GUESS,
    harmonics: HARMONICS,
    marksS: MARKS_S,
    perTurn: PER_TURN,
  });
  const ours = ROWS.map(said);
  for (const name of Object.keys(ours[0] ?? {})) {
    const difference = largestDifference(
      ours.map((it) => it[name] ?? []),
      theirs.map((it) => it[name] ?? []),
    );
    say(`vibration, ${name}: largest relative difference to NumPy and SciPy ${difference.toExponential(1)}`);
    expect(difference, name).toBeLessThan(name.startsWith('frequency') ? SOUGHT_BOUND : BOUND);
  }
}, 60_000);
