// How counterpoise trim reckoned, with the numbers in the formulas.
import type { TrialRuns, TrimAnswer, TwoPlaces, UnbalanceVector, VibrationVector } from '../../shared/balance/index.ts';
import type { Explanation } from './explain.ts';
import type { AmplitudesAsked } from './trim-question.ts';
import { inFigures } from './value-units.ts';

const n = (value: number): string => inFigures(value, 6);
const reading = ({ amplitude, phaseDeg }: VibrationVector): string => `${n(amplitude)}∠${n(phaseDeg)}°`;
const mass = ({ gmm, angleDeg }: UnbalanceVector): string => `${n(gmm)} g·mm∠${n(angleDeg)}°`;

export function trimExplained({ phaseSense, initial, trials }: TrialRuns, answer: TrimAnswer): readonly Explanation[] {
  const effects = trials.map(
    (trial) =>
      `plane ${trial.plane + 1}: (${trial.readings.map(reading).join(', ')} − ${initial.map(reading).join(', ')}) / ${mass(trial.mass)}`,
  );
  const { condition, coherence } = answer.coefficients.conditioning;
  const settings = (answer.inAllPlanes === null ? answer.inOnePlane : [answer.inAllPlanes]).flatMap(
    (way) => way.settings,
  );
  return [
    {
      what: 'influence coefficients',
      formula: 'α = (V₁ − V₀)/W, a column per plane, least squares over the runs',
      numbers: `${effects.join('; ')}; phase: ${phaseSense}`,
      result: `condition number ${n(condition)}${coherence === null ? '' : `, coherence ${n(coherence)}`}`,
      source: 'ISO 21940-13 for the method; textbook algebra',
    },
    {
      what: 'correction',
      formula: 'W = −A⁺·V₀, least squares over the sensors',
      numbers: `V₀ = ${initial.map(reading).join(', ')}`,
      result: settings.map(({ plane, exact }) => `plane ${plane + 1}: ${mass(exact)}`).join('; '),
      source: 'ISO 21940-13 for the method; textbook algebra',
    },
  ];
}

export function amplitudesExplained(asked: AmplitudesAsked, answer: TwoPlaces): Explanation {
  const { initial, withTrial, withTrialOpposite, trial } = asked;
  return {
    what: 'three amplitudes',
    formula: '2·T² = T₁² + T₂² − 2·O²; cos θ = (T₁² − T₂²)/(4·O·T); W = O/T of the trial mass at 180° ± θ from it',
    numbers: `O ${n(initial)}, T₁ ${n(withTrial)}, T₂ ${n(withTrialOpposite)}, trial ${mass(trial)}`,
    result: `T ${n(answer.effect)}, θ ${n(answer.heavySpotOffDeg)}°, W ${n(answer.correctionGmm)} g·mm`,
    source: 'law of cosines; the method is common practice, no source',
  };
}
