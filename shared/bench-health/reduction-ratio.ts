// The test of the unbalance reduction ratio (ISO 21940-21): how much of an unbalance is left after one correction?
import { say } from '../language/index.ts';
import { differenceUnbalance, sumUnbalance } from '../balance/index.ts';
import type { BenchTest } from '../messages/index.ts';
import {
  angleBetweenDeg,
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

type Test = Extract<BenchTest, { test: 'reduction-ratio' }>;
type Place = TestPlace<Test['readings'][number]>;

const MASS_FACTOR = 5;
/** At the stationary mass's own place the travelling mass may find no room; that place need not be read. */
const SAME_PLACE_DEG = 5;
const SOURCE = say`ISO 21940-21; the fivefold travelling mass, the places 30° apart and the circle (1 − ratio) × true amount from memory`;

/**
 * A stationary mass and a travelling one five times as large, the latter at places 30° apart. Each reading, as a
 * vector in g·mm, must lie within (1 − ratio) of the true amount about the true vector of both: what one correction
 * made by that reading would leave. Source: ISO 21940-21 (all numbers from memory, and that none may lie outside).
 * Throws a RangeError for a negative amount or a non-finite number.
 */
export function evaluateReductionRatio(test: Test): BenchTestOutcome {
  const askedGmm = MASS_FACTOR * test.stationary.amountGmm;
  const massStep = {
    words: say`travelling mass: five times the stationary one`,
    measured: test.travellingGmm,
    low: askedGmm * (1 - MASS_TOLERANCE),
    high: askedGmm * (1 + MASS_TOLERANCE),
    unit: 'g·mm',
    met: Math.abs(test.travellingGmm - askedGmm) <= askedGmm * MASS_TOLERANCE,
  };
  if (!massStep.met || askedGmm === 0) {
    return {
      verdict: 'not-valid',
      sentence: say`Not valid: a stationary mass of ${inWords(test.stationary.amountGmm)} g·mm asks for a travelling one of ${inWords(askedGmm)} g·mm, not ${inWords(test.travellingGmm)}.`,
      steps: [massStep],
      source: SOURCE,
    };
  }
  const sorted = sortToPlaces(test.readings, (reading) => reading.travellingDeg);
  const steps = sorted.places.map((place) => stepOf(test, place));
  const found = { steps: [massStep, ...steps], source: SOURCE };
  const done = steps.filter(({ met }) => met !== undefined).length;
  const outside = steps.filter(({ met }) => met === false).length;
  const missing = sorted.places.filter(({ reading, angleDeg }) => reading === undefined && !isTaken(test, angleDeg));
  const stray = strayWords(sorted.elsewhere.length);
  const claim = inWords(test.claimedPercent);
  if (outside > 0) {
    const sentence = say`Failed: a reduction ratio of ${claim} % is not shown; ${outside} of ${done} readings lie outside their circles.`;
    return { verdict: 'failed', sentence: inSentences(sentence, stray), ...found };
  }
  if (missing.length > 0) {
    const places = anglesInWords(missing.map(({ angleDeg }) => angleDeg));
    const sentence = say`Unfinished: still to be done at ${places}; all ${done} readings so far lie in their circles.`;
    return { verdict: 'unfinished', sentence: inSentences(sentence, stray), ...found };
  }
  const sentence = say`Passed: a reduction ratio of ${claim} % is shown; all ${done} readings lie in their circles.`;
  return { verdict: 'passed', sentence: inSentences(sentence, stray), ...found };
}

function isTaken(test: Test, angleDeg: number): boolean {
  return angleBetweenDeg(angleDeg, test.stationary.angleDeg) <= SAME_PLACE_DEG;
}

/** The step of one place: how far the reading lies from the true vector, against the radius of its circle. */
function stepOf(test: Test, { angleDeg, reading }: Place): BenchTestStep {
  const words = say`travelling mass at ${inWords(angleDeg)}°: distance from the true vector`;
  if (reading === undefined) {
    return {
      words: isTaken(test, angleDeg) ? say`${words} (the stationary mass is there: may be left out)` : words,
      unit: 'g·mm',
    };
  }
  const truth = sumUnbalance([
    { gmm: test.stationary.amountGmm, angleDeg: test.stationary.angleDeg },
    { gmm: test.travellingGmm, angleDeg: reading.travellingDeg },
  ]);
  const measured = differenceUnbalance({ gmm: reading.amountGmm, angleDeg: reading.angleDeg }, truth).gmm;
  const high = (1 - test.claimedPercent / 100) * truth.gmm;
  return { words, measured, low: 0, high, unit: 'g·mm', met: measured <= high };
}
