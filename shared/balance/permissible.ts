// What ISO 21940-11 permits: the residual unbalance that a mass may keep at a speed for a balance quality grade.
import { expectPositive, positiveOutcome } from './input-guard.ts';

/** 60000/2π, exact to the last bit. The rounded 9549 of many tables is 31 parts in a million too low. */
export const GRADE_CONSTANT = 60_000 / (2 * Math.PI);

/** What an assembly is asked to meet. Mass in kg, speed in rpm, grade G in mm/s. */
export interface BalanceDemand {
  readonly massKg: number;
  readonly serviceSpeedRpm: number;
  readonly gradeMmS: number;
}

/**
 * Permissible specific unbalance e_per in µm (the same number in g·mm/kg): e_per·Ω = G.
 * Source: ISO 21940-11. Throws a RangeError unless grade and speed are finite and above 0.
 */
export function permissibleSpecificUm(gradeMmS: number, speedRpm: number): number {
  expectPositive(gradeMmS, 'gradeMmS');
  expectPositive(speedRpm, 'speedRpm');
  return positiveOutcome((GRADE_CONSTANT * gradeMmS) / speedRpm, 'permissibleSpecificUm');
}

/**
 * Permissible residual unbalance U_per = e_per·m in g·mm, for the whole assembly as one rigid body.
 * Source: ISO 21940-11. Throws a RangeError unless mass, speed and grade are finite and above 0.
 */
export function permissibleResidualGmm(demand: BalanceDemand): number {
  expectPositive(demand.massKg, 'massKg');
  const specificUm = permissibleSpecificUm(demand.gradeMmS, demand.serviceSpeedRpm);
  return positiveOutcome(specificUm * demand.massKg, 'permissibleResidualGmm');
}
