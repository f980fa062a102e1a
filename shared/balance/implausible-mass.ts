// Notices a mass that was given in the wrong unit: it would move the limit a thousandfold, and nobody would see it.
import { expectNotNegative, expectPositive } from './input-guard.ts';
import { say } from '../language/index.ts';

/** Grams taken for kilograms are a thousandfold off; so far from the parts' sum it is no missing nut any more. */
const WRONG_UNIT_FACTOR = 300;
/** An assembly lighter than its weighed parts by more than scales disagree. Common practice, no source. */
const LIGHTER_BY = 0.95;

/** No rotating assembly that a person or a changer clamps is heavier, nor lighter. Common practice, no source. */
export const TOOL_MASS_MAX_KG = 300;
export const TOOL_MASS_MIN_KG = 0.005;

/** A mass in kg beside what is known of it: what its parts weigh as far as told, and from where to where is usual. */
export interface MassQuestion {
  readonly massKg: number;
  readonly partMassesKg?: readonly number[];
  readonly lowKg?: number;
  readonly highKg?: number;
}

/**
 * A remark in words where a mass (kg) cannot be meant, else null; it never corrects the mass. Common practice, no
 * source. Throws a RangeError for a mass that is not above 0, or a negative or non-finite part or limit.
 */
export function implausibleMass({ massKg, partMassesKg = [], lowKg = 0, highKg }: MassQuestion): string | null {
  expectPositive(massKg, 'massKg');
  expectNotNegative(lowKg, 'lowKg');
  if (highKg !== undefined) expectNotNegative(highKg, 'highKg');
  for (const [index, partKg] of partMassesKg.entries()) expectNotNegative(partKg, `partMassesKg[${index}]`);
  const partsKg = partMassesKg.reduce((sum, partKg) => sum + partKg, 0);
  const figures = say`${inFigures(massKg)} kg`;
  if (partsKg > 0 && massKg / partsKg >= WRONG_UNIT_FACTOR) {
    return say`${figures} for an assembly whose parts weigh ${inFigures(partsKg)} kg: grams given as kilograms?`;
  }
  if (partsKg > 0 && partsKg / massKg >= WRONG_UNIT_FACTOR) {
    return say`${figures} for an assembly whose parts weigh ${inFigures(partsKg)} kg: are the parts in grams, or the assembly in tonnes?`;
  }
  if (massKg < partsKg * LIGHTER_BY)
    return say`${figures} is less than its parts weigh together, ${inFigures(partsKg)} kg`;
  if (highKg !== undefined && massKg > highKg) {
    return say`${figures} is more than is usual (${highKg} kg): grams given as kilograms?`;
  }
  if (massKg < lowKg) return say`${figures} is less than is usual (${lowKg} kg): kilograms given as tonnes?`;
  return null;
}

/** Four figures: a sum of parts has dust behind them. */
function inFigures(kg: number): string {
  const rounded = Number(kg.toPrecision(4));
  return String(Number.isFinite(rounded) ? rounded : kg);
}
