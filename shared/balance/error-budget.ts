// The measuring error ΔU of a balance result, put together from contributions that each say where they come from.
import { expectFinite, expectNotNegative, expectPositive, finiteOutcome } from './input-guard.ts';
import { say } from '../language/index.ts';

/** One part of the measuring error: its name in words, its size in g·mm, and who says so. */
export interface ErrorContribution {
  readonly name: string;
  readonly gmm: number;
  readonly source: string;
}

/** The combined measuring error in g·mm, both ways, with the parts it was made of. */
export interface ErrorBudget {
  /** Root of the sum of squares: the ΔU that verdicts count. From memory, of ISO 21940-14. */
  readonly errorGmm: number;
  /** Plain sum: the bound that holds even when all parts point the same way. From memory, of ISO 21940-14. */
  readonly boundGmm: number;
  readonly contributions: readonly ErrorContribution[];
}

/** A budget with more parts than this is a mistake of the sender and is refused. */
export const ERROR_CONTRIBUTIONS_MAX = 32;

/**
 * Combines contributions into ΔU; none at all give 0. Known bias is to be taken out of the reading before.
 * Source: ISO 21940-14 (the rules of combination from memory).
 * Throws a RangeError for a negative or non-finite contribution or more than 32 of them.
 */
export function combineErrors(contributions: readonly ErrorContribution[]): ErrorBudget {
  if (contributions.length > ERROR_CONTRIBUTIONS_MAX) {
    throw new RangeError(
      `contributions: expected at most ${ERROR_CONTRIBUTIONS_MAX} of them, came ${contributions.length}`,
    );
  }
  const sizes = contributions.map((contribution) => contribution.gmm);
  for (const [index, size] of sizes.entries()) expectNotNegative(size, `contributions[${index}].gmm`);
  return {
    errorGmm: finiteOutcome(Math.hypot(...sizes), 'errorGmm'),
    boundGmm: finiteOutcome(
      sizes.reduce((sum, size) => sum + size, 0),
      'boundGmm',
    ),
    contributions,
  };
}

/** The bench's minimum achievable residual unbalance in g·mm, as its maker or its last check states it. */
export function minimumAchievableError(minimumAchievableGmm: number, source: string): ErrorContribution {
  expectNotNegative(minimumAchievableGmm, 'minimumAchievableGmm');
  return { name: say`minimum achievable residual`, gmm: minimumAchievableGmm, source };
}

/** The bench's scale error, in percent of the size measured (g·mm). */
export function scaleError(measuredGmm: number, scaleErrorPercent: number, source: string): ErrorContribution {
  expectNotNegative(measuredGmm, 'measuredGmm');
  expectNotNegative(scaleErrorPercent, 'scaleErrorPercent');
  const gmm = finiteOutcome((measuredGmm * scaleErrorPercent) / 100, 'scale error');
  return { name: say`scale error`, gmm, source };
}

/**
 * What is left when a correction (g·mm) is set at an angle that is off by so many degrees: the chord
 * 2·U·sin(ε/2). Source: geometry. Beyond 180° off it is an angle the other way round, and is refused.
 */
export function angleError(correctionGmm: number, angleErrorDeg: number, source: string): ErrorContribution {
  expectNotNegative(correctionGmm, 'correctionGmm');
  expectFinite(angleErrorDeg, 'angleErrorDeg');
  if (Math.abs(angleErrorDeg) > 180) {
    throw new RangeError(`angleErrorDeg: expected -180 to 180, came ${angleErrorDeg}`);
  }
  const gmm = 2 * correctionGmm * Math.sin((Math.abs(angleErrorDeg) * Math.PI) / 360);
  return { name: say`angle error`, gmm: finiteOutcome(gmm, 'angle error'), source };
}

/** The unbalance of an assembly (kg) that sits off the axis by the clamping's eccentricity (µm): m·e in g·mm. */
export function reclampingError(massKg: number, eccentricityUm: number, source: string): ErrorContribution {
  expectPositive(massKg, 'massKg');
  expectNotNegative(eccentricityUm, 'eccentricityUm');
  return { name: say`reclamping`, gmm: finiteOutcome(massKg * eccentricityUm, 'reclamping error'), source };
}
