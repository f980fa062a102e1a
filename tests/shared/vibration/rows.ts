// Rows of numbers for the tests of vibration, the same for the same seed: even and Gaussian noise, sines.

/** A generator of numbers in [0, 1): mulberry32. */
export function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Numbers spread evenly over −1 … 1. */
export function randomRow(size: number, seed: number): Float64Array {
  const next = generator(seed);
  return Float64Array.from({ length: size }, () => 2 * next() - 1);
}

/** Gaussian noise of standard deviation 1 (Box and Muller). */
export function gaussianRow(size: number, seed: number): Float64Array {
  const next = generator(seed);
  return Float64Array.from(
    { length: size },
    () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  );
}

export interface Sine {
  readonly rms: number;
  readonly hz: number;
  readonly phaseDeg?: number;
}

/** A sum of sines √2·rms·cos(2π·hz·t + phase) sampled from t = 0. */
export function sineRow(size: number, sampleRateHz: number, sines: readonly Sine[]): Float64Array {
  return Float64Array.from({ length: size }, (_, n) => {
    let sum = 0;
    for (const { rms, hz, phaseDeg = 0 } of sines) {
      sum += Math.SQRT2 * rms * Math.cos((2 * Math.PI * hz * n) / sampleRateHz + (phaseDeg * Math.PI) / 180);
    }
    return sum;
  });
}
