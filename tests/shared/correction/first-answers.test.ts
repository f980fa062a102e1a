// A first answer is real, and its bound holds: nothing that exists leaves less. And the fewest screws are the fewest.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { adviseCorrection, proveScrews } from '../../../shared/correction/index.ts';
import { bestOne, bestTwo, oneMore } from '../../../shared/correction/best-places.ts';
import { minus, sizeOf, xyOf } from '../../../shared/correction/direction.ts';
import { leastByPlaces } from '../../../shared/correction/place-reach.ts';
import { placeSpaceOf } from '../../../shared/correction/place-space.ts';
import { fewestScrews } from '../../../shared/correction/screw-fewest.ts';
import { screwPart } from '../../../shared/correction/screw-part.ts';
import {
  changesOf,
  leastByScrews,
  screwAnglesDeg,
  screwProblemOf,
  sumOfChoice,
} from '../../../shared/correction/screw-problem.ts';
import { finished, screwSumFor, screwTable, searchScrews } from '../../../shared/correction/screw-search.ts';
import { effectOf } from '../../../shared/correction/settled-places.ts';
import { everyPlace, everyScrews, leftAfter, worstAfter } from './brute-force.ts';
import { question, screws, someCoarsePlaces, someScrews, someUnbalance } from './features.ts';
import { SEED, told } from './seed.ts';

const CASES = 500;
const opposite = ({ gmm, angleDeg }: { gmm: number; angleDeg: number }) => xyOf({ gmm, angleDeg: angleDeg + 180 });

test('three places as a first answer: better than two, where they are said to stand, and not below the bound', () => {
  told('first answers for three places', CASES);
  let found = 0;
  fc.assert(
    fc.property(someCoarsePlaces, someUnbalance, (feature, measured) => {
      const space = placeSpaceOf({ ...feature, placesMax: 3 });
      const wanted = opposite(measured);
      const one = bestOne(space, wanted, 0.01, { left: 1e6 });
      const two = one === null ? null : bestTwo(space, wanted, 0.01, one.worst, { left: 1e6 });
      const three = two === null ? null : oneMore(space, wanted, 0.01, two, { left: 1e6 });
      if (two === null || three === null) return;
      found += 1;
      expect(three.worst).toBeLessThan(two.worst);
      expect(new Set(three.places.map(({ angle }) => angle)).size).toBe(three.places.length);
      const left = sizeOf(three.places.reduce((rest, place) => minus(rest, effectOf(space, place)), wanted));
      expect(left).toBeGreaterThanOrEqual(leastByPlaces(space, wanted, three.places.length) - 1e-9);
      // No two of them nearer to each other than both need with the wall between.
      for (const [i, a] of three.places.entries()) {
        for (const b of three.places.slice(i + 1)) {
          const apart = Math.abs((space.anglesDeg[a.angle] ?? 0) - (space.anglesDeg[b.angle] ?? 0));
          const needed = [a, b].map(({ tool, level }) => space.tools[tool]?.halfDeg[level] ?? 0);
          expect(Math.min(apart, 360 - apart)).toBeGreaterThanOrEqual((needed[0] ?? 0) + (needed[1] ?? 0) - 1e-6);
        }
      }
    }),
    { seed: SEED, numRuns: CASES },
  );
  expect(found).toBeGreaterThan(CASES / 50);
});

test('the bound of one place is never above the best there is', () => {
  fc.assert(
    fc.property(someCoarsePlaces, someUnbalance, (feature, measured) => {
      const left = everyPlace(feature).map((setting) => worstAfter(measured, 0, [{ ...setting, error2: 0 }]));
      const bound = leastByPlaces(placeSpaceOf(feature), opposite(measured), 1);
      expect(bound).toBeLessThanOrEqual(Math.min(measured.gmm, ...left) + 1e-9);
    }),
    { seed: SEED, numRuns: CASES },
  );
});

test('a part of the screw holes: a choice the stock allows, no better than all, no worse than doing nothing, the bound below', () => {
  told('first answers for screws, and the fewest', CASES);
  fc.assert(
    fc.property(someScrews, someUnbalance, fc.constantFrom(1, 3, 10, 100), (feature, measured, sumsMax) => {
      const problem = screwProblemOf(feature, screwAnglesDeg(feature));
      fc.pre(problem.holes.length > 0);
      const wanted = opposite(measured);
      const { part, widened } = screwPart(problem, wanted, sumsMax);
      const found = finished(searchScrews(screwTable(part, sumsMax), screwSumFor(part, wanted)));
      const choice = widened(found.choice);
      const sum = screwSumFor(problem, wanted);
      const left = sizeOf(minus(sum, sumOfChoice(problem.holes, problem.massesG, choice)));
      expect(left).toBeCloseTo(found.residualGmm, 7);
      expect(left).toBeLessThanOrEqual(measured.gmm + 1e-9);
      for (const [i, count] of problem.counts.entries()) {
        expect(choice.filter((kind) => kind === i + 1).length).toBeLessThanOrEqual(count);
      }
      const all = [...everyScrews(feature)].map((setting) => worstAfter(measured, 0, [setting]));
      expect(left).toBeGreaterThanOrEqual(Math.min(...all) - 1e-7);
      expect(leastByScrews(problem, sum)).toBeLessThanOrEqual(Math.min(...all) + 1e-9);
    }),
    { seed: SEED, numRuns: CASES },
  );
});

test('the fewest screws that bring it within are the fewest there are', () => {
  fc.assert(
    fc.property(
      someScrews,
      someUnbalance,
      fc.double({ min: 0.5, max: 20, noNaN: true }),
      (feature, measured, withinGmm) => {
        const problem = screwProblemOf(feature, screwAnglesDeg(feature));
        fc.pre(problem.holes.length > 0);
        const found = fewestScrews(problem, screwSumFor(problem, opposite(measured)), withinGmm, 99, {
          left: Infinity,
        });
        let fewest = Infinity;
        for (const { steps } of everyScrews(feature)) {
          const left = leftAfter(
            measured,
            steps.map((step) => ({ feature, step })),
          );
          if (steps.length > 0 && left.gmm <= withinGmm - 1e-9) fewest = Math.min(fewest, steps.length);
        }
        expect(found === null ? Infinity : changesOf(problem, found.choice)).toBeLessThanOrEqual(fewest);
        expect(found?.residualGmm ?? 0).toBeLessThanOrEqual(withinGmm);
      },
    ),
    { seed: SEED, numRuns: CASES },
  );
});

test('a proof says how far it is, and ends with what the same search finds from the other end', () => {
  const feature = screws({
    holesDeg: Array.from({ length: 13 }, (_, i) => i * 27),
    stock: [0.35, 0.52, 0.71, 0.98, 1.33, 1.71].map((massG) => ({ massG, count: 1 })),
  });
  const measured = { gmm: 30, angleDeg: 100 };
  const asked = question([feature], { unbalance: measured, permissibleGmm: 0.01 });
  expect(adviseCorrection(asked).plans.at(-1)?.search ?? 'first-answer').toBe('first-answer');
  const search = proveScrews(asked);
  const shares: number[] = [];
  let step = search.next();
  for (; step.done !== true; step = search.next()) shares.push(step.value.share);
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(shares.at(-1)).toBeLessThanOrEqual(1);
  const problem = screwProblemOf(feature, screwAnglesDeg(feature));
  const other = finished(searchScrews(screwTable(problem, 400), screwSumFor(problem, opposite(measured))));
  expect(step.value.plans.at(-1)?.search).toBe('exact');
  expect(step.value.plans.at(-1)?.whole.residualGmm).toBeCloseTo(other.residualGmm, 6);
});
