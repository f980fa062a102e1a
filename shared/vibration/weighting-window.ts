// Weighting windows of a spectrum, with what they do to a sine's height and to noise.

export const WINDOW_KINDS = ['hann', 'flat-top', 'rectangular'] as const;
export type WindowKind = (typeof WINDOW_KINDS)[number];

export interface WeightingWindow {
  readonly weights: Float64Array;
  /** Sum of the weights: a sine of amplitude a on a line reads a·sum/2. */
  readonly sum: number;
  /** Equivalent noise bandwidth in lines: n·Σw²/(Σw)². Harris, Proc. IEEE 66 (1978) 51, equation 11. */
  readonly noiseBandwidthLines: number;
}

/**
 * Terms of a sum of cosines, w[n] = Σ (−1)^j·c_j·cos(2πjn/N). The flat-top's are those of ISO 18431-2 scaled to a peak of 1, in the
 * digits of D'Antona & Ferrero, Digital Signal Processing for Measurement Systems (2006), which SciPy has as well.
 */
const COSINES: Readonly<Record<WindowKind, readonly number[]>> = {
  hann: [0.5, 0.5],
  'flat-top': [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368],
  rectangular: [1],
};

/** Windows kept ready; beyond it the one unused longest is made anew. */
const WINDOWS_MAX = 12;
const windows = new Map<string, WeightingWindow>();

function weightsOf(kind: WindowKind, size: number): Float64Array {
  const terms = COSINES[kind];
  const weights = new Float64Array(size);
  // Symmetric about the middle: half the cosines suffice.
  for (let n = 0; n <= size / 2; n += 1) {
    let weight = 0;
    for (let j = 0; j < terms.length; j += 1) {
      weight += (j % 2 === 0 ? terms[j]! : -terms[j]!) * Math.cos((2 * Math.PI * j * n) / size);
    }
    weights[n] = weight;
    if (n > 0) weights[size - n] = weight;
  }
  return weights;
}

/** The periodic window of a length (as for a transform of that length), kept for the next time. */
export function weightingWindow(kind: WindowKind, size: number): WeightingWindow {
  const key = `${kind} ${size}`;
  const kept = windows.get(key);
  const window = kept ?? made(kind, size);
  windows.delete(key);
  windows.set(key, window);
  for (const [oldest] of windows) {
    if (windows.size <= WINDOWS_MAX) break;
    windows.delete(oldest);
  }
  return window;
}

function made(kind: WindowKind, size: number): WeightingWindow {
  const weights = weightsOf(kind, size);
  let sum = 0;
  let squares = 0;
  for (let n = 0; n < size; n += 1) {
    sum += weights[n]!;
    squares += weights[n]! * weights[n]!;
  }
  return { weights, sum, noiseBandwidthLines: (size * squares) / (sum * sum) };
}
