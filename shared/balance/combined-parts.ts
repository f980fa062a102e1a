// What an assembly's unbalance can be, from its parts measured one by one and from the joints between them.
import { expectNotNegative, expectPositive, finiteOutcome } from './input-guard.ts';
import { sumUnbalance, type UnbalanceVector } from './vector.ts';

/** Parts in their order from the spindle outward; each sits in the one before by a joint, the first in the spindle. */
export interface MeasuredPart {
  readonly name: string;
  readonly massKg: number;
  /** Its residual; the angle counts from the assembly's mark where the orientation is known, else it says nothing. */
  readonly unbalance: UnbalanceVector;
  readonly orientationKnown: boolean;
  /** ΔU of its measurement, g·mm. */
  readonly errorGmm: number;
  /** How far off the axis its joint may hold it, µm; null: not known. */
  readonly jointUm: number | null;
}

/** More parts than this are a mistake of whoever asks, and are refused. */
export const PARTS_MAX = 32;

export interface JointShare {
  readonly name: string;
  /** The mass from this part outward, kg, and what it amounts to off the axis, g·mm. */
  readonly carriedKg: number;
  readonly gmm: number;
}

export interface CombinedPrediction {
  readonly massKg: number;
  /** Vector sum of the parts whose orientation is known. */
  readonly known: UnbalanceVector;
  /** What every orientation, joint and measuring error can make of it, g·mm. */
  readonly leastGmm: number;
  readonly mostGmm: number;
  /** Root sum of squares: what to expect where nothing is lined up on purpose. */
  readonly expectedGmm: number;
  readonly joints: readonly JointShare[];
  /** Parts whose joint is not known: their share is missing in all three figures. */
  readonly jointsNotKnown: readonly string[];
}

/**
 * Combines measured parts. Known orientations add as vectors; of the others only the amounts are sure, and each joint
 * adds up to eccentricity × mass carried (µm × kg = g·mm) in any direction. Most: everything in one direction. Least:
 * what the others cannot cancel of the largest. Source: mechanics; the expectation is that of random directions.
 * Throws a RangeError for no parts or too many, a mass that is not above 0, a negative or a non-finite number.
 */
export function combineParts(parts: readonly MeasuredPart[]): CombinedPrediction {
  if (parts.length === 0 || parts.length > PARTS_MAX) {
    throw new RangeError(`parts: expected 1 to ${PARTS_MAX} of them, came ${parts.length}`);
  }
  for (const part of parts) {
    expectPositive(part.massKg, `${part.name}: massKg`);
    expectNotNegative(part.unbalance.gmm, `${part.name}: gmm`);
    expectNotNegative(part.errorGmm, `${part.name}: errorGmm`);
    if (part.jointUm !== null) expectNotNegative(part.jointUm, `${part.name}: jointUm`);
  }
  const known = sumUnbalance(parts.filter((part) => part.orientationKnown).map((part) => part.unbalance));
  const fixedAmounts = [known.gmm, ...parts.filter((part) => !part.orientationKnown).map((part) => part.unbalance.gmm)];
  const joints = parts.flatMap((part, index) => jointOf(part, parts.slice(index)));
  const upTo = [...joints.map(({ gmm }) => gmm), ...parts.map((part) => part.errorGmm)];
  const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
  const allGmm = sumOf(fixedAmounts);
  const largestGmm = Math.max(...fixedAmounts);
  const uncancelledGmm = largestGmm - (allGmm - largestGmm);
  return {
    massKg: finiteOutcome(sumOf(parts.map((part) => part.massKg)), 'massKg'),
    known,
    leastGmm: Math.max(0, uncancelledGmm - sumOf(upTo)),
    mostGmm: finiteOutcome(allGmm + sumOf(upTo), 'mostGmm'),
    expectedGmm: finiteOutcome(Math.hypot(...fixedAmounts, ...upTo), 'expectedGmm'),
    joints,
    jointsNotKnown: parts.filter((part) => part.jointUm === null).map((part) => part.name),
  };
}

function jointOf({ name, jointUm }: MeasuredPart, outward: readonly MeasuredPart[]): readonly JointShare[] {
  if (jointUm === null) return [];
  const carriedKg = outward.reduce((sum, part) => sum + part.massKg, 0);
  return [{ name, carriedKg, gmm: carriedKg * jointUm }];
}

/** Within whatever the orientations, exceeded whatever they are, or it depends on them; both in g·mm. */
export function predictionAgainst(
  { leastGmm, mostGmm }: Pick<CombinedPrediction, 'leastGmm' | 'mostGmm'>,
  permissibleGmm: number,
): 'within' | 'exceeds' | 'depends' {
  expectPositive(permissibleGmm, 'permissibleGmm');
  if (mostGmm <= permissibleGmm) return 'within';
  return leastGmm > permissibleGmm ? 'exceeds' : 'depends';
}
