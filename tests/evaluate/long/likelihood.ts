// How likely a load's 1× is, given all that truly turns in it: what a detector knows that was told everything but the moment.
import type { AffectedLoad, LoadFact, Turning } from '../../../simulators/index.ts';

/** Angles that a mixture over an unknown angle is taken at: with the blur of any clamping the mean over them is as good as the integral. */
const ANGLES = 24;
const COS = Float64Array.from({ length: ANGLES }, (_, nth) => Math.cos((2 * Math.PI * (nth + 0.5)) / ANGLES));
const SIN = Float64Array.from({ length: ANGLES }, (_, nth) => Math.sin((2 * Math.PI * (nth + 0.5)) / ANGLES));
/** Relative noise of a broadband reading. */
const FLOOR_NOISE = 0.06;
/** No clamping is so good that less than this share of what turns is blurred. */
const BLUR_MIN = 1e-3;

/** Mean 1× of a load in g·mm: its root mean square, and its parts where a tacho tells them; and the broadband logarithm. */
export interface Seen {
  readonly amount: number;
  readonly x: number;
  readonly y: number;
  readonly logFloor: number;
}

export function seenIn({ readings, sumSquares, sumX, sumY, sumLogFloor }: LoadFact): Seen {
  return {
    amount: Math.sqrt(sumSquares / readings),
    x: sumX / readings,
    y: sumY / readings,
    logFloor: sumLogFloor / readings,
  };
}

/** ln I₀(x), x >= 0: polynomials 9.8.1 and 9.8.2 of Abramowitz and Stegun (1964), error below 2e-7. */
export function logBesselI0(x: number): number {
  if (x < 3.75) {
    const t = (x / 3.75) ** 2;
    return Math.log(
      1 + t * (3.5156229 + t * (3.0899424 + t * (1.2067492 + t * (0.2659732 + t * (0.0360768 + t * 0.0045813))))),
    );
  }
  const t = 3.75 / x;
  const series =
    0.39894228 +
    t *
      (0.01328592 +
        t *
          (0.00225319 +
            t *
              (-0.00157565 +
                t * (0.00916281 + t * (-0.02057706 + t * (0.02635537 + t * (-0.01647633 + t * 0.00392377)))))));
  return x - 0.5 * Math.log(x) + Math.log(series);
}

/** Logarithm of the density of what was seen; constants that all of one load share are left out. */
export function logDensity(
  { load, turning }: { readonly load: LoadFact; readonly turning: Turning },
  seen: Seen,
): number {
  const { readings, readingNoise, floorSpread, tacho } = load;
  const { residualX, residualY, ownX, ownY, clampingGmm, strayGmm, logFloor } = turning;
  const whole = Math.hypot(residualX, residualY) + Math.hypot(ownX, ownY) + strayGmm;
  const blur = clampingGmm ** 2 + (readingNoise * whole) ** 2 / readings + (BLUR_MIN * whole) ** 2;
  const about = centres(load.keyed, turning);
  let most = -Infinity;
  const parts = about.map((centre) => {
    const log = tacho ? onPlane(seen, centre, blur) : onCircle(seen.amount, Math.hypot(centre.x, centre.y), blur);
    if (log > most) most = log;
    return log;
  });
  let sum = 0;
  for (const part of parts) sum += Math.exp(part - most);
  const floorBlur = floorSpread ** 2 + FLOOR_NOISE ** 2 / readings;
  const floor = -((seen.logFloor - logFloor) ** 2) / (2 * floorBlur);
  return most + Math.log(sum / parts.length) + floor;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where the middle of what is seen may be: one place, or on circles where an angle is not known. */
function centres(keyed: boolean, { residualX, residualY, ownX, ownY, strayGmm }: Turning): readonly Point[] {
  const first = keyed
    ? [{ x: residualX + ownX, y: residualY + ownY }]
    : circle({ x: ownX, y: ownY }, Math.hypot(residualX, residualY));
  return strayGmm === 0 ? first : first.flatMap((centre) => circle(centre, strayGmm));
}

function circle({ x, y }: Point, radius: number): readonly Point[] {
  return Array.from({ length: ANGLES }, (_, nth) => ({
    x: x + radius * (COS[nth] ?? 0),
    y: y + radius * (SIN[nth] ?? 0),
  }));
}

/** Complex normal distribution; Rice's where only the amount is told (S. O. Rice 1945). `blur` is the mean square about the centre. */
function onPlane(seen: Point, centre: Point, blur: number): number {
  return -((seen.x - centre.x) ** 2 + (seen.y - centre.y) ** 2) / blur - Math.log(Math.PI * blur);
}

function onCircle(amount: number, centre: number, blur: number): number {
  const apart = -(amount * amount + centre * centre) / blur + Math.log((2 * amount) / blur);
  return apart + logBesselI0((2 * amount * centre) / blur);
}

/** For the fault against nothing wrong; 0 where the load told nothing. */
export function logRatio({ load, without, with: turning }: AffectedLoad, seen: Seen): number {
  if (load.readings === 0) return 0;
  return logDensity({ load, turning }, seen) - logDensity({ load, turning: without }, seen);
}

/** Draws what would be seen if this turned. */
export function draw(
  { load, turning }: { readonly load: LoadFact; readonly turning: Turning },
  { next, gaussian }: { readonly next: () => number; readonly gaussian: () => number },
): Seen {
  const { readings, readingNoise, floorSpread, keyed } = load;
  const { residualX, residualY, ownX, ownY, clampingGmm, strayGmm, logFloor } = turning;
  const stray = 2 * Math.PI * next();
  const turned = keyed ? 0 : 2 * Math.PI * next();
  const each = clampingGmm / Math.SQRT2;
  const x0 =
    residualX * Math.cos(turned) - residualY * Math.sin(turned) + ownX + strayGmm * Math.cos(stray) + each * gaussian();
  const y0 =
    residualX * Math.sin(turned) + residualY * Math.cos(turned) + ownY + strayGmm * Math.sin(stray) + each * gaussian();
  const noise = readingNoise / Math.sqrt(readings);
  const scale = 1 + noise * gaussian();
  const turn = noise * gaussian();
  const x = scale * (x0 * Math.cos(turn) - y0 * Math.sin(turn));
  const y = scale * (x0 * Math.sin(turn) + y0 * Math.cos(turn));
  const floor = logFloor + Math.sqrt(floorSpread ** 2 + FLOOR_NOISE ** 2 / readings) * gaussian();
  return { amount: Math.hypot(x, y), x, y, logFloor: floor };
}
