// What the other spindles of a plant let expect of a new one: how a spindle answers, its speeds and itself apart.
import { effectMeans, factored, logDensity, type EffectModel } from '../../../shared/statistics/index.ts';
import { NOTHING_KNOWN, type Guesses, type LevelPrior } from './guesses.ts';
import {
  EXPECTED_LOADS_MIN,
  FLEET_LEVELS_PER_SPINDLE_MAX,
  FLEET_SPINDLES_MAX,
  FLEET_SPINDLES_MIN,
  FLEET_VARIANCES,
  LEVEL_SLOPE,
  LEVEL_USUAL,
  LEVEL_USUAL_RPM,
  LEVEL_VARIANCE,
} from './limits.ts';

/** A level as it would be at LEVEL_USUAL_RPM, less what is usual, and whose it is. */
interface Known {
  readonly spindle: number;
  readonly value: number;
}

function knownOf({ levels, weight }: Guesses, spindle: number): readonly Known[] {
  return levels.slice(0, FLEET_LEVELS_PER_SPINDLE_MAX).map(({ rpm, mean }) => {
    const level = weight.reduce((sum, one, guess) => sum + one * (mean[guess] ?? 0), 0);
    return { spindle, value: level - LEVEL_SLOPE * Math.log(rpm / LEVEL_USUAL_RPM) - LEVEL_USUAL };
  });
}

/** The plant is the first effect, each spindle one of its own; what is left are the speeds. */
function modelOf(known: readonly Known[], spindles: number, ofSpindle: number, ofSpeed: number): EffectModel {
  return {
    errorVariances: known.map(() => ofSpeed),
    effectsOf: known.map(({ spindle }) => [0, 1 + spindle]),
    effectVariances: [LEVEL_VARIANCE, ...Array.from({ length: spindles }, () => ofSpindle)],
  };
}

/**
 * Empirical Bayes: of the variances that are tried, those under which the known levels are likeliest (Efron and Morris, Journal of the
 * American Statistical Association 1973; from memory); then the plant's effect, and how far a new spindle and its speed may lie off it.
 */
export function fleetPrior(all: Iterable<{ readonly guesses: Guesses }>): LevelPrior {
  const known: Known[] = [];
  let spindles = 0;
  for (const { guesses } of all) {
    if (guesses.loads < EXPECTED_LOADS_MIN) continue;
    known.push(...knownOf(guesses, spindles));
    spindles += 1;
    if (spindles === FLEET_SPINDLES_MAX) break;
  }
  if (spindles < FLEET_SPINDLES_MIN) return NOTHING_KNOWN;
  const values = known.map(({ value }) => value);
  let best: { ofSpindle: number; ofSpeed: number; mean: number; density: number } | undefined;
  for (const ofSpindle of FLEET_VARIANCES)
    for (const ofSpeed of FLEET_VARIANCES) {
      const model = factored(modelOf(known, spindles, ofSpindle, ofSpeed));
      const density = logDensity(model, values);
      if (best === undefined || density > best.density)
        best = { ofSpindle, ofSpeed, density, mean: effectMeans(model, values)[0] ?? 0 };
    }
  if (best === undefined) return NOTHING_KNOWN;
  const { ofSpindle, ofSpeed, mean } = best;
  const ofPlant = 1 / (1 / LEVEL_VARIANCE + spindles / (ofSpindle + (ofSpeed * spindles) / known.length));
  return { mean: LEVEL_USUAL + mean, variance: Math.min(LEVEL_VARIANCE, ofPlant + ofSpindle + ofSpeed) };
}
