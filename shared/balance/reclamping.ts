// Says when the demanded grade cannot be shown at a speed, because every clamping moves the assembly by more.
import { expectNotNegative, finiteOutcome } from './input-guard.ts';
import { GRADE_CONSTANT, permissibleSpecificUm } from './permissible.ts';

/** Numbers beside the answer: e_per and the scatter in µm, the grade that the scatter alone amounts to. */
interface ShowabilityNumbers {
  readonly permissibleSpecificUm: number;
  readonly scatterUm: number;
  readonly scatterGradeMmS: number;
  /** Highest speed in rpm at which the grade could still be shown, whatever the mass; null when nothing bounds it. */
  readonly highestSpeedRpm: number | null;
}

/** Whether anyone could show the demanded grade at this speed through this interface. */
export type Showability =
  | ({ readonly kind: 'can-be-shown' } & ShowabilityNumbers)
  | ({ readonly kind: 'cannot-be-shown-at-this-speed' } & ShowabilityNumbers);

/**
 * Compares e_per with the interface's reclamping scatter (µm): where the scatter is larger, the next clamping alone
 * may use up more than the grade permits. Source: ISO 21940-11 for e_per; the comparison is plain algebra.
 * Throws a RangeError unless grade and speed are above 0 and the scatter is at least 0.
 */
export function showabilityOf(input: {
  readonly gradeMmS: number;
  readonly speedRpm: number;
  readonly scatterUm: number;
}): Showability {
  expectNotNegative(input.scatterUm, 'scatterUm');
  const specificUm = permissibleSpecificUm(input.gradeMmS, input.speedRpm);
  const highestSpeedRpm = (GRADE_CONSTANT * input.gradeMmS) / input.scatterUm;
  return {
    kind: specificUm < input.scatterUm ? 'cannot-be-shown-at-this-speed' : 'can-be-shown',
    permissibleSpecificUm: specificUm,
    scatterUm: input.scatterUm,
    scatterGradeMmS: finiteOutcome((input.scatterUm * input.speedRpm) / GRADE_CONSTANT, 'scatterGradeMmS'),
    highestSpeedRpm: Number.isFinite(highestSpeedRpm) ? highestSpeedRpm : null,
  };
}
