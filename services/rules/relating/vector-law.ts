// How probable a load is by its amplitude, and by its angle where a tacho tells it: with a key that keeps the angle, and without one.
import { ANGLES, anyAngle, fixedVector } from './amplitude-law.ts';
import { logBesselI0 } from './amplitude-table.ts';
import type { Guesses, Level } from './guesses.ts';
import { OWN_DIRECTS_TIMES } from './limits.ts';
import type { ToldLoad, ToldSpeed } from './told-load.ts';

/** What a guess makes of a load: the whole unbalance as all its speeds tell it. */
export interface Seen {
  /** ln of its amount, g·mm, and the variance of that. */
  ln: number;
  error: number;
  /** Its direction, a unit vector in the machine's frame, and the variance of the angle, rad²: infinite where no tacho tells it. */
  turnX: number;
  turnY: number;
  turnError: number;
}

export const newSeen = (): Seen => ({ ln: 0, error: 0, turnX: 1, turnY: 0, turnError: Infinity });

/** The speeds of one load share its clamping: each weighs by how sure it is. Written into `seen`. */
export function seenBy(guess: number, speeds: readonly ToldSpeed[], levels: readonly Level[], seen: Seen): void {
  let [sum, weights] = [0, 0];
  for (let nth = 0; nth < speeds.length; nth += 1) {
    const [speed, level] = [speeds[nth], levels[nth]];
    if (speed === undefined || level === undefined) continue;
    const weight = 1 / ((level.variance[guess] ?? 0) + speed.error);
    weights += weight;
    sum += weight * (speed.ln - (level.mean[guess] ?? 0));
  }
  seen.ln = sum / weights;
  seen.error = 1 / weights;
}

/** And its direction: with a key in the frame of the residual, without in that of the spindle's own unbalance. */
export function turnSeenBy(
  guesses: Guesses,
  guess: number,
  load: ToldLoad,
  levels: readonly Level[],
  seen: Seen,
): void {
  seen.turnError = Infinity;
  const { speeds } = load;
  if (!levels.some(({ turn }) => turn !== undefined) || !isDirected(guesses, guess, load)) return;
  let [x, y, weights] = [0, 0, 0];
  for (let nth = 0; nth < speeds.length; nth += 1) {
    const [speed, turn] = [speeds[nth], levels[nth]?.turn];
    if (speed?.phaseRad === undefined || turn === undefined) continue;
    const weight = 1 / ((turn.variance[guess] ?? 0) + speed.error);
    const angle = speed.phaseRad - (turn.mean[guess] ?? 0);
    weights += weight;
    x += weight * Math.cos(angle);
    y += weight * Math.sin(angle);
  }
  const length = Math.hypot(x, y);
  if (length === 0) return;
  seen.turnX = x / length;
  seen.turnY = y / length;
  seen.turnError = 1 / weights;
}

/** Whether a phase tells a direction at all: with a key always, else where the spindle's own unbalance is the larger part by far. */
export function isDirected(guesses: Guesses, guess: number, load: ToldLoad): boolean {
  if (!load.isAngleKnown) return false;
  if (guesses.keyed[guess] === 1) return true;
  const scatter = (load.clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2 + load.errorGmm2;
  const own = guesses.ownX[guess] ?? 0;
  return own * own > OWN_DIRECTS_TIMES ** 2 * (load.residualGmm * load.residualGmm + scatter);
}

/** Of the angle at which a fixed vector and clampings add up to an amplitude: that of the distribution of von Mises. */
export const concentrationOf = (ln: number, fixedGmm2: number, clampingGmm2: number): number =>
  (2 * Math.exp(ln) * Math.sqrt(fixedGmm2)) / clampingGmm2;

/**
 * Density of a load that a known vector and clampings of the mean square `clampingGmm2` make: of ln of its amplitude, less the factor
 * 1/√(2π), times that of its angle against any being as likely. Given the amplitude the angle has the distribution of von Mises (Mardia
 * and Jupp, Directional Statistics, 3.5.4; from memory); an error of the angle takes of its concentration.
 */
export function knownVector(seen: Seen, x: number, y: number, clampingGmm2: number): number {
  const { ln, error, turnX, turnY, turnError } = seen;
  const fixed = x * x + y * y;
  const density = fixedVector(ln, fixed, clampingGmm2, error);
  if (turnError === Infinity || fixed === 0) return density;
  const concentration = concentrationOf(ln, fixed, clampingGmm2);
  const told = concentration / (1 + concentration * turnError);
  const cosine = (x * turnX + y * turnY) / Math.sqrt(fixed);
  return density * Math.exp(told * cosine - logBesselI0(told));
}

/**
 * The same without a key: the residual is at any angle to the spindle's own unbalance, and what both add up to is about the latter's, to
 * the one side or the other.
 */
export function unknownAngle(seen: Seen, ownGmm: number, residualGmm: number, clampingGmm2: number): number {
  const { ln, error, turnX, turnY, turnError } = seen;
  const sum = ownGmm * ownGmm + residualGmm * residualGmm;
  const twice = 2 * ownGmm * residualGmm;
  if (turnError === Infinity) return anyAngle(ln, sum, twice, clampingGmm2, error);
  const { count, cosines, sines } = ANGLES;
  let density = 0;
  for (let nth = 0; nth < count; nth += 1) {
    const fixed = Math.max(sum + twice * (cosines[nth] ?? 0), 1e-12);
    const concentration = concentrationOf(ln, fixed, clampingGmm2);
    const told = concentration / (1 + concentration * turnError);
    const share = told / Math.sqrt(fixed);
    const along = share * (ownGmm + residualGmm * (cosines[nth] ?? 0)) * turnX;
    const across = share * residualGmm * (sines[nth] ?? 0) * turnY;
    const angle =
      Math.exp(along + Math.abs(across) - logBesselI0(told)) * (0.5 + 0.5 * Math.exp(-2 * Math.abs(across)));
    density += fixedVector(ln, fixed, clampingGmm2, error) * angle;
  }
  return density / count;
}

/** By how much the angle makes a load likelier at most. */
export const mostByAngle = ({ turnError }: Seen): number =>
  turnError === Infinity ? 1 : Math.exp(1 / turnError - logBesselI0(1 / turnError));
