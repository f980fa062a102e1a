// The test of the minimum achievable residual unbalance (ISO 21940-21): does the bench see ten times its claim evenly?
import { say } from '../language/index.ts';
import type { BenchTest } from '../messages/index.ts';
import {
  anglesInWords,
  inSentences,
  inWords,
  MASS_TOLERANCE,
  sortToPlaces,
  strayWords,
  type BenchTestOutcome,
  type BenchTestStep,
  type TestPlace,
} from './test-steps.ts';

type Test = Extract<BenchTest, { test: 'minimum-achievable' }>;
type Place = TestPlace<Test['readings'][number]>;

const MASS_FACTOR = 10;
const BAND = 0.12;
const OUTLIERS_TOLERATED = 1;
const SOURCE = say`ISO 21940-21; ten times the claim, twelve places, ±12 % of the mean and one outlier from memory`;

/**
 * A test mass of ten times the claim (g·mm) goes round twelve places 30° apart; each reading must lie within ±12 % of
 * their mean, one may lie outside. Source: ISO 21940-21 (all numbers from memory). Says nothing final before all
 * twelve places were read. Throws a RangeError for a non-finite angle.
 */
export function evaluateMinimumAchievable(test: Test): BenchTestOutcome {
  const askedGmm = MASS_FACTOR * test.claimedGmm;
  const massStep = {
    words: say`test mass: ten times the claim`,
    measured: test.testMassGmm,
    low: askedGmm * (1 - MASS_TOLERANCE),
    high: askedGmm * (1 + MASS_TOLERANCE),
    unit: 'g·mm',
    met: Math.abs(test.testMassGmm - askedGmm) <= askedGmm * MASS_TOLERANCE,
  };
  if (!massStep.met || askedGmm === 0) {
    return {
      verdict: 'not-valid',
      sentence: say`Not valid: a claim of ${inWords(test.claimedGmm)} g·mm asks for a test mass of ${inWords(askedGmm)} g·mm, not ${inWords(test.testMassGmm)}.`,
      steps: [massStep],
      source: SOURCE,
    };
  }
  const { places, elsewhere } = sortToPlaces(test.readings, (reading) => reading.angleDeg);
  const amounts = places.flatMap(({ reading }) => reading?.amountGmm ?? []);
  const meanGmm = amounts.reduce((sum, amount) => sum + amount, 0) / Math.max(1, amounts.length);
  const steps = places.map((place) => stepOf(place, meanGmm));
  const found = { steps: [massStep, ...steps], source: SOURCE };
  const outside = steps.filter(({ met }) => met === false).length;
  const missing = places.filter(({ reading }) => reading === undefined).map(({ angleDeg }) => angleDeg);
  const stray = strayWords(elsewhere.length);
  const soFar = say`${outside} of ${amounts.length} readings outside ±12 % of their mean`;
  if (missing.length > 0) {
    const sentence = say`Unfinished: still to be done at ${anglesInWords(missing)}; so far ${soFar}.`;
    return { verdict: 'unfinished', sentence: inSentences(sentence, stray), ...found };
  }
  if (meanGmm === 0)
    return { verdict: 'failed', sentence: say`Failed: the bench reads nothing of the test mass.`, ...found };
  const passed = outside <= OUTLIERS_TOLERATED;
  const claim = inWords(test.claimedGmm);
  const sentence = passed
    ? say`Passed: the claim of ${claim} g·mm is shown; ${soFar}.`
    : say`Failed: the claim of ${claim} g·mm is not shown; ${soFar}, one may be.`;
  return {
    verdict: passed ? 'passed' : 'failed',
    sentence: inSentences(sentence, scaleWords(meanGmm, test.testMassGmm), stray),
    ...found,
  };
}

function stepOf({ angleDeg, reading }: Place, meanGmm: number): BenchTestStep {
  const words = say`test mass at ${inWords(angleDeg)}°`;
  if (reading === undefined) return { words, unit: 'g·mm' };
  const [low, high] = [meanGmm * (1 - BAND), meanGmm * (1 + BAND)];
  const measured = reading.amountGmm;
  return { words, measured, low, high, unit: 'g·mm', met: measured >= low && measured <= high };
}

/** The test asks whether the readings are alike; that their mean is far from the mass is another fault, and is told. */
function scaleWords(meanGmm: number, massGmm: number): string {
  if (Math.abs(meanGmm / massGmm - 1) <= BAND) return '';
  return say`Their mean is ${inWords(meanGmm)} g·mm where the test mass is ${inWords(massGmm)}: have the scale calibrated.`;
}
