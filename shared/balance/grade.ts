// The formula of ISO 21940-11 solved the other ways: which grade a residual reaches, and up to which speed.
import { expectNotNegative, expectPositive, finiteOutcome } from './input-guard.ts';
import { GRADE_CONSTANT } from './permissible.ts';

/**
 * The balance quality grades G in mm/s, finest first, a factor of about 2.5 apart.
 * From memory: the list is not checked against a copy of ISO 21940-11.
 */
export const STANDARD_GRADES_MMS: readonly number[] = [0.4, 1, 2.5, 6.3, 16, 40, 100, 250, 630, 1600, 4000];

/** A residual computed to lie exactly on a grade may miss it by the last bits; it still meets that grade. */
const ROUNDING_ALLOWANCE = 1e-9;

/**
 * Specific unbalance of a residual: its eccentricity in µm.
 * Source: ISO 21940-11. Throws a RangeError for a negative or non-finite residual, or a mass that is not above 0.
 */
export function specificUnbalanceUm(residualGmm: number, massKg: number): number {
  expectNotNegative(residualGmm, 'residualGmm');
  expectPositive(massKg, 'massKg');
  return finiteOutcome(residualGmm / massKg, 'specificUnbalanceUm');
}

/**
 * Grade G in mm/s that a residual reaches at a speed: U·ω/(1000·m).
 * Source: ISO 21940-11. Throws a RangeError for a negative or non-finite residual, or a mass or speed not above 0.
 */
export function gradeReachedMmS(input: {
  readonly residualGmm: number;
  readonly massKg: number;
  readonly speedRpm: number;
}): number {
  expectPositive(input.speedRpm, 'speedRpm');
  const specificUm = specificUnbalanceUm(input.residualGmm, input.massKg);
  return finiteOutcome((specificUm * input.speedRpm) / GRADE_CONSTANT, 'gradeReachedMmS');
}

/**
 * Highest speed in rpm at which a residual still meets a grade; null when the residual sets no bound at all.
 * It speaks of balance alone: it never raises the lowest marked maximum of machine, spindle, holder and cutter.
 * Source: ISO 21940-11. Throws a RangeError for a negative or non-finite residual, or a mass or grade not above 0.
 */
export function highestSpeedAtGradeRpm(input: {
  readonly residualGmm: number;
  readonly massKg: number;
  readonly gradeMmS: number;
}): number | null {
  expectPositive(input.gradeMmS, 'gradeMmS');
  const specificUm = specificUnbalanceUm(input.residualGmm, input.massKg);
  const speedRpm = (GRADE_CONSTANT * input.gradeMmS) / specificUm;
  return Number.isFinite(speedRpm) ? speedRpm : null;
}

/**
 * The finest standard grade in mm/s that a reached grade meets; null when it is coarser than all of them.
 * Throws a RangeError for a negative or non-finite grade.
 */
export function smallestStandardGradeMet(reachedMmS: number): number | null {
  expectNotNegative(reachedMmS, 'reachedMmS');
  return STANDARD_GRADES_MMS.find((grade) => reachedMmS <= grade * (1 + ROUNDING_ALLOWANCE)) ?? null;
}
