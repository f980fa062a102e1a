// Coarse then fine, held against every coarse setting with every fine one; and the whole advice against every method's all.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { adviseCorrection, PLANS_MAX } from '../../../shared/correction/index.ts';
import { combinedCandidates } from '../../../shared/correction/combined.ts';
import { xyOf, type Xy } from '../../../shared/correction/direction.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { SearchPurse } from '../../../shared/correction/search-purse.ts';
import { everyPlace, everyRings, everyScrews, worstAfter, type Setting } from './brute-force.ts';
import {
  flats,
  question,
  radialHoles,
  rings,
  screws,
  someCoarsePlaces,
  someRings,
  someScrews,
  someUnbalance,
} from './features.ts';
import { SEED, told } from './seed.ts';

const COMBINED_CASES = 500;
const ADVICE_CASES = 1000;

const ROUND_DEG = [0, 45, 90, 135, 180, 225, 270, 315];
const someCoarse = fc.constantFrom(
  radialHoles({ featureId: 'coarse', atDeg: ROUND_DEG, depthStepMm: 0.5, placesMax: 1 }),
  flats({ featureId: 'coarse', atDeg: ROUND_DEG, depthStepMm: 0.2, placesMax: 1 }),
);
const someFine: fc.Arbitrary<CorrectionFeature> = fc.oneof(
  fc
    .tuple(fc.double({ min: 1, max: 15, noNaN: true }), fc.double({ min: 1, max: 15, noNaN: true }))
    .map((eachGmm) => rings({ featureId: 'fine', eachGmm, graduationDeg: 12, standAtDeg: [0, 180] })),
  fc
    .subarray([0.2, 0.35, 0.5], { minLength: 1 })
    .map((masses) =>
      screws({ featureId: 'fine', holesDeg: [10, 100, 190, 280], stock: masses.map((massG) => ({ massG, count: 2 })) }),
    ),
);
const limits = fc.double({ min: 0.5, max: 6, noNaN: true });
const errors = fc.double({ min: 0, max: 0.5, noNaN: true });

function everySetting(feature: CorrectionFeature): readonly Setting[] {
  switch (feature.kind) {
    case 'rings':
      return [...everyRings(feature)];
    case 'set-screws':
      return [...everyScrews(feature)];
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return everyPlace(feature);
  }
}

/** Deeper takes more away: with one tool the depth tells which setting removes less. */
const depthOf = ({ steps }: Setting): number => steps[0]?.depthMm ?? 0;

test('where two methods together can bring it within, the combination is within, with no more material than any other in reach', () => {
  told('coarse then fine against brute force', COMBINED_CASES);
  let within = 0;
  fc.assert(
    fc.property(someCoarse, someFine, someUnbalance, errors, limits, (coarse, fine, measured, errorGmm, limitGmm) => {
      const wanted = xyOf({ gmm: measured.gmm, angleDeg: measured.angleDeg + 180 });
      const [found] = combinedCandidates(
        [coarse, fine],
        { wanted, errorGmm, limitGmm },
        new SearchPurse(10_000_000, 1),
      );
      const brute = bruteForce(coarse, fine, { wanted, errorGmm, limitGmm });
      // Where the fine method has nothing left to do there is no combination: the coarse one is enough alone.
      const left = found === undefined ? brute.alone : worstAfter(measured, errorGmm, [settingOf(found)]);
      const possible = brute.best <= limitGmm - 1e-9;
      if (possible) within += 1;
      expect(left).toBeLessThanOrEqual(possible ? limitGmm + 1e-9 : Infinity);
      const depthMm = found?.steps[0]?.depthMm ?? 0;
      expect(depthMm).toBeLessThanOrEqual(brute.leastDepthMm + 1e-9);
    }),
    { seed: SEED, numRuns: COMBINED_CASES },
  );
  // The cases are not all hopeless.
  expect(within).toBeGreaterThan(COMBINED_CASES / 10);
});

interface Asked {
  readonly wanted: Xy;
  readonly errorGmm: number;
  readonly limitGmm: number;
}

/** Every coarse setting with every fine one; and of those with the rest in the rings' reach the shallowest that is within. */
function bruteForce(coarse: CorrectionFeature, fine: CorrectionFeature, { wanted, errorGmm, limitGmm }: Asked) {
  const fineSettings = everySetting(fine)
    .filter(({ steps }) => steps.length > 0)
    .map(({ effect, error2 }) => ({ ...xyOf(effect), error2 }));
  const found = { best: Infinity, alone: Infinity, leastDepthMm: Infinity };
  for (const one of everySetting(coarse)) {
    const effect = xyOf(one.effect);
    const rest = { x: wanted.x - effect.x, y: wanted.y - effect.y };
    const soFar2 = errorGmm ** 2 + one.error2;
    found.alone = Math.min(found.alone, Math.hypot(rest.x, rest.y) + Math.sqrt(soFar2));
    const reached = isReached(fine, rest);
    for (const { x, y, error2 } of fineSettings) {
      const worst = Math.hypot(rest.x - x, rest.y - y) + Math.sqrt(soFar2 + error2);
      found.best = Math.min(found.best, worst);
      if (reached && worst <= limitGmm - 1e-9) found.leastDepthMm = Math.min(found.leastDepthMm, depthOf(one));
    }
  }
  return found;
}

/** The rings stood at 0° and 180°: their sum is what they gave then and the rest. What screws reach is left open here. */
function isReached(fine: CorrectionFeature, rest: Xy): boolean {
  if (fine.kind !== 'rings') return false;
  const [first, second] = fine.eachGmm;
  const sum = Math.hypot(first - second + rest.x, rest.y);
  return sum <= first + second - 1e-9 && sum >= Math.abs(first - second) + 1e-9;
}

function settingOf(candidate: {
  readonly effect: { readonly x: number; readonly y: number };
  readonly error2: number;
}): Setting {
  const { x, y } = candidate.effect;
  const angleDeg = (Math.atan2(y, x) * 180) / Math.PI;
  return { steps: [], error2: candidate.error2, effect: { gmm: Math.hypot(x, y), angleDeg } };
}

test('where any setting of any method brings it within, the first plan is within', () => {
  told('whole advice against every setting of every method', ADVICE_CASES);
  const some = fc.array(fc.oneof(someCoarsePlaces, someRings, someScrews), { minLength: 1, maxLength: 3 });
  let within = 0;
  fc.assert(
    fc.property(some, someUnbalance, errors, limits, (list, measured, errorGmm, limitGmm) => {
      const features = list.map((feature, i): CorrectionFeature => ({ ...feature, featureId: `f${i}` }));
      const asked = question(features, { unbalance: measured, errorGmm, permissibleGmm: limitGmm });
      const best = Math.min(
        measured.gmm + errorGmm,
        ...features.flatMap((feature) => everySetting(feature).map((one) => worstAfter(measured, errorGmm, [one]))),
      );
      const advice = adviseCorrection(asked);
      const verdict = advice.needed ? advice.plans[0]?.whole.verdict : 'within';
      if (best <= limitGmm - 1e-9) within += 1;
      expect(best > limitGmm - 1e-9 || verdict === 'within').toBe(true);
      // In their order, each under a name of its own, no more than a person reads.
      const order = advice.plans.map(({ whole }) => ['within', 'undecided', 'exceeds'].indexOf(whole.verdict));
      expect(order).toEqual(order.toSorted((a, b) => a - b));
      expect(new Set(advice.plans.map(({ planId }) => planId)).size).toBe(advice.plans.length);
      expect(advice.plans.length).toBeLessThanOrEqual(PLANS_MAX);
    }),
    { seed: SEED, numRuns: ADVICE_CASES },
  );
  expect(within).toBeGreaterThan(ADVICE_CASES / 10);
});
