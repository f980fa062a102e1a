// Rice's law of an amplitude, smeared by an error of its logarithm, worked out once for all shares and errors and looked up since.
const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);
/** Var ln R of a Rayleigh amplitude is π²/24. */
const RAYLEIGH_LOG_VARIANCE = (Math.PI * Math.PI) / 24;

/**
 * Variance of ln of the amplitude that clampings make around a fixed vector: q/2 where they are small against it (mechanics), π²/24
 * where they are all (Rayleigh), in between by a parabola. That is how the middle half of loads spreads, within a quarter; the exact
 * figure is up to 1.6 times it, for the sake of the few loads in which they nearly cancel the vector. By the share of the clampings in
 * the mean square.
 */
export const varianceOfShare = (share: number): number => share * (0.5 - (0.5 - RAYLEIGH_LOG_VARIANCE) * share);

/**
 * Density of ln of the amplitude, less the factor 1/√(2π): a fixed vector and a clamping whose mean squares sum to 1, of which `share` is
 * the clamping's. Rice, Bell System Technical Journal 1945, "Mathematical analysis of random noise".
 */
export function riceAt(ln: number, share: number): number {
  const square = Math.exp(2 * ln);
  const bessel = logBesselI0((2 * Math.sqrt(square * (1 - share))) / share);
  return ROOT_TWO_PI * 2 * Math.exp(2 * ln - Math.log(share) - (square + 1 - share) / share + bessel);
}

/** ln I₀(x), x ≥ 0: the polynomials of Abramowitz and Stegun, Handbook of Mathematical Functions, 9.8.1 and 9.8.2. */
export function logBesselI0(x: number): number {
  if (x < 3.75) {
    const t = (x / 3.75) ** 2;
    return Math.log1p(
      t *
        (3.515_622_9 + t * (3.089_942_4 + t * (1.206_749_2 + t * (0.265_973_2 + t * (0.036_076_8 + t * 0.004_581_3))))),
    );
  }
  const t = 3.75 / x;
  const scaled =
    0.398_942_28 +
    t *
      (0.013_285_92 +
        t *
          (0.002_253_19 +
            t *
              (-0.001_575_65 +
                t *
                  (0.009_162_81 + t * (-0.020_577_06 + t * (0.026_355_37 + t * (-0.016_476_33 + t * 0.003_923_77)))))));
  return x - 0.5 * Math.log(x) + Math.log(scaled);
}

/**
 * Rows by the share of the clamping, then of the error in the variance, both closer together the smaller they are: the square of so many
 * parts. Within a row places by how many standard deviations ln lies from half the ln of the mean square.
 */
const SHARES = 16;
const ERRORS = 12;
const PER_DEVIATION = 8;
const DEVIATIONS_BELOW = 12;
const DEVIATIONS_ABOVE = 8;
const PLACES = (DEVIATIONS_BELOW + DEVIATIONS_ABOVE) * PER_DEVIATION + 1;
/** Smeared in steps of so many to a place, and from so far beyond the places on. */
const STEPS = 2;
const BEYOND = 4;

/** The density in units of the standard deviation. */
let table: Float32Array | undefined;

const deviationAt = (place: number): number => place / PER_DEVIATION - DEVIATIONS_BELOW;

function built(): Float32Array {
  const all = new Float32Array((SHARES + 1) * (ERRORS + 1) * PLACES);
  for (let share = 0; share <= SHARES; share += 1) {
    for (let error = 0; error <= ERRORS; error += 1) {
      const row = rowOf((share / SHARES) ** 2, (error / ERRORS) ** 2);
      for (let place = 0; place < PLACES; place += 1) all[(share * (ERRORS + 1) + error) * PLACES + place] = row(place);
    }
  }
  return all;
}

/** With no clampings, or next to nothing but the error, it is normal. */
function rowOf(share: number, errorShare: number): (place: number) => number {
  if (share === 0 || errorShare === 1) return (place) => Math.exp(-(deviationAt(place) ** 2) / 2);
  const deviation = Math.sqrt(varianceOfShare(share) / (1 - errorShare));
  if (errorShare === 0) return (place) => riceAt(deviationAt(place) * deviation, share) * deviation;
  const step = 1 / (PER_DEVIATION * STEPS);
  const count = (PLACES - 1) * STEPS + 2 * BEYOND * PER_DEVIATION * STEPS + 1;
  const lawful = Float64Array.from({ length: count }, (_, nth) =>
    riceAt((nth * step - DEVIATIONS_BELOW - BEYOND) * deviation, share),
  );
  const smear = Float64Array.from({ length: count }, (_, nth) => Math.exp(-((nth * step) ** 2) / (2 * errorShare)));
  const weight = (step / Math.sqrt(2 * Math.PI * errorShare)) * deviation;
  return (place) => {
    const at = place * STEPS + BEYOND * PER_DEVIATION * STEPS;
    let sum = 0;
    for (let nth = 0; nth < count; nth += 1) sum += (lawful[nth] ?? 0) * (smear[Math.abs(nth - at)] ?? 0);
    return sum * weight;
  };
}

/**
 * Density of ln of the amplitude, less the factor 1/√(2π), `off` from half the ln of the mean square, where of the latter `share` is the
 * clampings' and `variance` is theirs and the error's. Between places it is linear.
 */
export function densityAt(off: number, share: number, error: number, variance: number): number {
  const rows = (table ??= built());
  const deviation = Math.sqrt(variance);
  const place = (off / deviation + DEVIATIONS_BELOW) * PER_DEVIATION;
  if (!(place >= 0 && place < PLACES - 1)) return 0;
  const errorShare = error / variance;
  const bySquares = Math.sqrt(share) * SHARES;
  const shareRow = Math.min(bySquares | 0, SHARES - 1);
  const shareOn = bySquares - shareRow;
  const errorRow = Math.min((Math.sqrt(errorShare) * ERRORS) | 0, ERRORS - 1);
  // What an error adds to a tail is in proportion to its variance.
  const errorOn = (errorShare * ERRORS * ERRORS - errorRow * errorRow) / (2 * errorRow + 1);
  const whole = place | 0;
  const on = place - whole;
  const first = (shareRow * (ERRORS + 1) + errorRow) * PLACES + whole;
  const next = first + (ERRORS + 1) * PLACES;
  const here = between(rows, first, on) * (1 - errorOn) + between(rows, first + PLACES, on) * errorOn;
  const there = between(rows, next, on) * (1 - errorOn) + between(rows, next + PLACES, on) * errorOn;
  return (here + (there - here) * shareOn) / deviation;
}

const between = (rows: Float32Array, place: number, on: number): number => {
  const here = rows[place] ?? 0;
  return here + ((rows[place + 1] ?? 0) - here) * on;
};
