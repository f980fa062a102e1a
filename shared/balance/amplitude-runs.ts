// Balancing without a phase reading: three amplitudes tell how much, and two places of which one more run picks one.
import { expectNotNegative, expectPositive, finiteOutcome } from './input-guard.ts';
import { normaliseAngleDeg, type UnbalanceVector } from './vector.ts';

/** Amplitudes in any one unit: as it was, with the trial mass, and with it turned by 180°. */
export interface AmplitudeRuns {
  readonly initial: number;
  readonly withTrial: number;
  readonly withTrialOpposite: number;
  /** The trial mass at its first place, g·mm. */
  readonly trial: UnbalanceVector;
}

/** The readings fit no unbalance at all: of another speed, another state, or another sensor. */
export interface ContradictoryRuns {
  readonly kind: 'contradictory';
}

/** How much to add and the two places it may belong at; which one, only a run can tell. */
export interface TwoPlaces {
  readonly kind: 'two-places';
  /** What the trial mass alone does, in the unit of the amplitudes. */
  readonly effect: number;
  /** From the trial mass's place to the heavy spot, one way or the other, degrees. */
  readonly heavySpotOffDeg: number;
  readonly correctionGmm: number;
  readonly correctionDeg: readonly [number, number];
}

/** Readings of real machines miss the triangle by a little. Common practice, no source. */
const COSINE_ALLOWANCE = 1.02;

/**
 * With T the effect of the trial mass: 2·T² = T₁² + T₂² − 2·O², cos θ = (T₁² − T₂²)/(4·O·T), correction O/T of the
 * trial mass at 180° ± θ from its place. Source: law of cosines; the method is common practice, no source.
 * Throws a RangeError for an initial amplitude or a trial mass that is not above 0, or a negative amplitude.
 */
export function balanceByAmplitudes(runs: AmplitudeRuns): TwoPlaces | ContradictoryRuns {
  expectPositive(runs.initial, 'initial');
  expectNotNegative(runs.withTrial, 'withTrial');
  expectNotNegative(runs.withTrialOpposite, 'withTrialOpposite');
  expectPositive(runs.trial.gmm, 'trial.gmm');
  const { initial, withTrial, withTrialOpposite, trial } = runs;
  const square = finiteOutcome((withTrial ** 2 + withTrialOpposite ** 2) / 2 - initial ** 2, 'effect');
  if (!(square > 0)) return { kind: 'contradictory' };
  const effect = Math.sqrt(square);
  const cosine = (withTrial ** 2 - withTrialOpposite ** 2) / (4 * initial * effect);
  if (Math.abs(cosine) > COSINE_ALLOWANCE) return { kind: 'contradictory' };
  const heavySpotOffDeg = (Math.acos(Math.max(-1, Math.min(1, cosine))) * 180) / Math.PI;
  return {
    kind: 'two-places',
    effect,
    heavySpotOffDeg,
    correctionGmm: finiteOutcome((initial / effect) * trial.gmm, 'correctionGmm'),
    correctionDeg: [
      normaliseAngleDeg(trial.angleDeg + 180 + heavySpotOffDeg),
      normaliseAngleDeg(trial.angleDeg + 180 - heavySpotOffDeg),
    ],
  };
}
