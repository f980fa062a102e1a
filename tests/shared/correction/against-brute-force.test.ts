// No setting that exists leaves less than what the searches find: held against all of them on small grids.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bestOne, bestTwo } from '../../../shared/correction/best-places.ts';
import { xyOf } from '../../../shared/correction/direction.ts';
import { placeSpaceOf } from '../../../shared/correction/place-space.ts';
import { bestRings, ringTable } from '../../../shared/correction/rings.ts';
import { screwAnglesDeg, screwProblemOf } from '../../../shared/correction/screw-problem.ts';
import { finished, screwSumFor, screwTable, searchScrews } from '../../../shared/correction/screw-search.ts';
import { everyPlace, everyRings, everyScrews, worstAfter } from './brute-force.ts';
import { someCoarsePlaces, someRings, someScrews, someUnbalance } from './features.ts';
import { SEED, told } from './seed.ts';

const PLACE_CASES = 3000;
const PAIR_CASES = 1500;
const RING_CASES = 2000;
const SCREW_CASES = 2500;
const someError = fc.double({ min: 0, max: 2, noNaN: true });
const apart = (a: number, b: number): number => Math.min((a - b + 720) % 360, (b - a + 720) % 360);

test('one place: the best of every angle, tool and size', () => {
  told('one place against brute force', PLACE_CASES);
  fc.assert(
    fc.property(someCoarsePlaces, someUnbalance, someError, (feature, measured, errorGmm) => {
      const wanted = xyOf({ gmm: measured.gmm, angleDeg: measured.angleDeg + 180 });
      const found = bestOne(placeSpaceOf(feature), wanted, errorGmm ** 2, { left: Infinity });
      const brute = Math.min(...everyPlace(feature).map((setting) => worstAfter(measured, errorGmm, [setting])));
      const nothing = measured.gmm + errorGmm;
      expect(found?.worst ?? nothing).toBeCloseTo(Math.min(brute, nothing), 7);
    }),
    { seed: SEED, numRuns: PLACE_CASES },
  );
});

test('at most two places: the best of every pair that leaves the wall between them', () => {
  told('two places against brute force', PAIR_CASES);
  fc.assert(
    fc.property(someCoarsePlaces, someUnbalance, someError, (feature, measured, errorGmm) => {
      const all = everyPlace(feature);
      fc.pre(all.length <= 400);
      const nothing = measured.gmm + errorGmm;
      let brute = nothing;
      for (const [i, one] of all.entries()) {
        brute = Math.min(brute, worstAfter(measured, errorGmm, [one]));
        for (const other of all.slice(i + 1)) {
          const between = apart(one.angleDeg, other.angleDeg);
          if (between < 1e-9 || between < one.halfDeg + other.halfDeg - 1e-9) continue;
          brute = Math.min(brute, worstAfter(measured, errorGmm, [one, other]));
        }
      }
      const wanted = xyOf({ gmm: measured.gmm, angleDeg: measured.angleDeg + 180 });
      const space = placeSpaceOf(feature);
      const single = bestOne(space, wanted, errorGmm ** 2, { left: Infinity })?.worst ?? nothing;
      const found = bestTwo(space, wanted, errorGmm ** 2, single, { left: 10_000_000 });
      expect(found?.exact ?? true).toBe(true);
      expect(found?.worst ?? single).toBeCloseTo(brute, 7);
    }),
    { seed: SEED, numRuns: PAIR_CASES },
  );
});

test('rings: the best of every pair of scale marks', () => {
  told('rings against brute force', RING_CASES);
  fc.assert(
    fc.property(someRings, someUnbalance, (feature, measured) => {
      const table = ringTable(feature);
      fc.pre(table !== null);
      const wanted = xyOf({ gmm: measured.gmm, angleDeg: measured.angleDeg + 180 });
      const found = table === null ? null : bestRings(table, wanted, { left: Infinity });
      let brute = Infinity;
      for (const setting of everyRings(feature))
        brute = Math.min(brute, worstAfter(measured, 0, [{ ...setting, error2: 0 }]));
      expect(found?.residualGmm).toBeCloseTo(brute, 7);
    }),
    { seed: SEED, numRuns: RING_CASES },
  );
});

test('screws: the best of every choice that the stock allows', () => {
  told('screws against brute force', SCREW_CASES);
  fc.assert(
    fc.property(someScrews, someUnbalance, (feature, measured) => {
      const problem = screwProblemOf(feature, screwAnglesDeg(feature));
      fc.pre(problem.holes.length > 0);
      const wanted = xyOf({ gmm: measured.gmm, angleDeg: measured.angleDeg + 180 });
      const found = finished(searchScrews(screwTable(problem, 1000), screwSumFor(problem, wanted)));
      let brute = Infinity;
      let fewest = Infinity;
      for (const setting of everyScrews(feature)) {
        const left = worstAfter(measured, 0, [setting]);
        if (left > brute + 1e-7) continue;
        fewest = left < brute - 1e-7 ? setting.steps.length : Math.min(fewest, setting.steps.length);
        brute = Math.min(brute, left);
      }
      expect(found.residualGmm).toBeCloseTo(brute, 6);
      const changes = found.choice.filter((kind, i) => kind !== problem.holes[i]?.now).length;
      expect(changes).toBe(fewest);
    }),
    { seed: SEED, numRuns: SCREW_CASES },
  );
});
