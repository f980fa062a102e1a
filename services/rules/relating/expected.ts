// What a load was to show, by the guesses of its spindle: the middle of all, and the interval that holds 95 of 100 loads.
import { shareBelow } from '../../../shared/statistics/index.ts';
import type { Floor } from '../floor.ts';
import { ANGLES, clampingVariance, LOG_MEAN_SHARE } from './amplitude-law.ts';
import { FIRST_LOOK_GUESSES } from './limits.ts';
import { levelsOf } from './learn-load.ts';
import { placesOf } from './load-ratios.ts';
import type { LoadMark, Relating } from './relating-state.ts';
import { atSpeedOf } from './told-load.ts';

/** mm/s RMS of the 1×. */
export interface Expectation {
  readonly observedMmS: number;
  readonly expectedMmS: number;
  readonly lowMmS: number;
  readonly highMmS: number;
}

/** One normal distribution of ln(mm/s) out of many that weigh alike. */
interface Part {
  readonly mean: number;
  readonly deviation: number;
}

export function expectationOf(floor: Floor, { guesses }: Relating, mark: LoadMark): Expectation {
  const told = atSpeedOf(mark, floor.buildOdds.get(mark.assemblyId));
  const [speed] = told.speeds;
  const [level] = levelsOf(guesses, told);
  const parts = placesOf(guesses, FIRST_LOOK_GUESSES).flatMap((guess): Part[] => {
    const clamping = (told.clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2 + told.errorGmm2;
    const [x, y] = [guesses.ownX[guess] ?? 0, guesses.ownY[guess] ?? 0];
    const apart = (told.residualX + x) ** 2 + (told.residualY + y) ** 2;
    const own2 = x * x + y * y;
    const sum = told.residualGmm ** 2 + own2;
    const twice = 2 * told.residualGmm * Math.sqrt(own2);
    const isKeyed = told.isAngleKnown && guesses.keyed[guess] === 1;
    return Array.from({ length: ANGLES.count }, (_, nth) => {
      const fixed = isKeyed ? apart : sum + twice * (ANGLES.cosines[nth] ?? 0);
      const variance = clampingVariance(fixed, clamping) + (speed?.error ?? 0) + (level?.variance[guess] ?? 0);
      const mean = (level?.mean[guess] ?? 0) + 0.5 * Math.log(fixed + LOG_MEAN_SHARE * clamping);
      return { mean, deviation: Math.sqrt(variance) };
    });
  });
  return {
    observedMmS: Math.sqrt(mark.square),
    expectedMmS: Math.exp(quantileOf(parts, 0.5)),
    lowMmS: Math.exp(quantileOf(parts, 0.025)),
    highMmS: Math.exp(quantileOf(parts, 0.975)),
  };
}

/** Halvings of the range in which it must lie: to a thousandth of a thousandth. */
const HALVINGS = 40;
const FAR = 6;

function quantileOf(parts: readonly Part[], share: number): number {
  let low = Math.min(...parts.map(({ mean, deviation }) => mean - FAR * deviation));
  let high = Math.max(...parts.map(({ mean, deviation }) => mean + FAR * deviation));
  for (let nth = 0; nth < HALVINGS; nth += 1) {
    const middle = (low + high) / 2;
    const below = parts.reduce((sum, { mean, deviation }) => sum + shareBelow((middle - mean) / deviation), 0);
    if (below < share * parts.length) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
