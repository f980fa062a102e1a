// Following a plan on a simulated rotor leaves what was predicted, and set a little wrong what its error says.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { moveToPlanes, sumUnbalance, turnUnbalance, type UnbalanceVector } from '../../../shared/balance/index.ts';
import { adviseCorrection, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { leftAfter } from './brute-force.ts';
import { plane, question, someCoarsePlaces, someRings, someScrews, someUnbalance } from './features.ts';
import { SEED, told } from './seed.ts';

const featureOf = ({ features }: CorrectionQuestion, featureId: string): CorrectionFeature => {
  const found = features.find((one) => one.featureId === featureId);
  if (found === undefined) throw new Error(`no feature ${featureId}`);
  return found;
};
const distance = (a: UnbalanceVector, b: UnbalanceVector): number => sumUnbalance([a, turnUnbalance(b, 180)]).gmm;

describe('followed', () => {
  const someFeatures = fc
    .array(fc.oneof(someCoarsePlaces, someRings, someScrews), { minLength: 1, maxLength: 3 })
    .map((list) => list.map((feature, i): CorrectionFeature => ({ ...feature, featureId: `f${i}` })));
  const CASES = 1000;

  test('the steps of every plan leave what was predicted', () => {
    told('correction then measurement', CASES);
    fc.assert(
      fc.property(someFeatures, someUnbalance, (features, unbalance) => {
        const asked = question(features, { unbalance });
        for (const { steps, whole } of adviseCorrection(asked).plans) {
          const left = leftAfter(
            unbalance,
            steps.map((step) => ({ feature: featureOf(asked, step.featureId), step })),
          );
          expect(distance(left, { gmm: whole.residualGmm, angleDeg: whole.angleDeg })).toBeLessThan(1e-9);
        }
      }),
      { seed: SEED, numRuns: CASES },
    );
  });

  test('settings off by half a step at most stay inside of the predicted error, root sum of squares in most cases', () => {
    const cases = 400;
    told('setting errors inside of what was predicted', cases);
    const off = fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 40, maxLength: 40 });
    let inside = 0;
    let all = 0;
    fc.assert(
      fc.property(someFeatures, someUnbalance, off, (features, unbalance, offs) => {
        const asked = question(features, { unbalance });
        const plan = adviseCorrection(asked).plans[0];
        if (plan === undefined) return;
        const { steps, whole } = plan;
        const done = steps.map((step, i) => {
          const feature = featureOf(asked, step.featureId);
          const fine =
            'graduationDeg' in feature ? feature.graduationDeg : 'angleStepDeg' in feature ? feature.angleStepDeg : 0;
          const sizeStep =
            'depthStepMm' in feature ? feature.depthStepMm : 'massStepG' in feature ? feature.massStepG : 0;
          const set = {
            ...step,
            angleDeg: step.angleDeg + fine * (offs[2 * i] ?? 0),
            ...(step.depthMm === undefined ? {} : { depthMm: step.depthMm + sizeStep * (offs[2 * i + 1] ?? 0) }),
            ...(step.massG === undefined ? {} : { massG: step.massG + sizeStep * (offs[2 * i + 1] ?? 0) }),
          };
          return { feature, step: set };
        });
        const missed = distance(leftAfter(unbalance, done), { gmm: whole.residualGmm, angleDeg: whole.angleDeg });
        all += 1;
        if (missed <= whole.errorGmm + 1e-9) inside += 1;
        // Two errors a step, all the same way at worst; the third digit for what is not straight in them.
        expect(missed).toBeLessThanOrEqual(1.02 * Math.sqrt(2 * steps.length) * whole.errorGmm + 1e-9);
      }),
      { seed: SEED, numRuns: cases },
    );
    // Root sum of squares is no worst case: a few with all errors the same way lie outside.
    expect(inside / all).toBeGreaterThan(0.97);
  });

  test('in two planes too, wherever along the axis the places lie', () => {
    const cases = 500;
    told('correction in two planes, then measurement', cases);
    const somePositions = fc.array(fc.integer({ min: -50, max: 200 }), { minLength: 3, maxLength: 3 });
    let plans = 0;
    fc.assert(
      fc.property(someFeatures, somePositions, someUnbalance, someUnbalance, (list, positions, inA, inB) => {
        const features = list.map((feature, i): CorrectionFeature => ({ ...feature, positionMm: positions[i] ?? 0 }));
        const planes = [
          plane({ unbalance: inA, positionMm: 0, permissibleGmm: 3 }),
          plane({ name: 'B', unbalance: inB, positionMm: 100, permissibleGmm: 3 }),
        ] as const;
        const asked = { ...question(features), planes, wholePermissibleGmm: 6, centreOfMassMm: 40 };
        for (const { steps, predicted } of adviseCorrection(asked).plans) {
          plans += 1;
          const acting = steps.map((step) => {
            const feature = featureOf(asked, step.featureId);
            const unbalance = leftAfter({ gmm: 0, angleDeg: 0 }, [{ feature, step }]);
            return { unbalance, positionMm: feature.positionMm ?? 0, errorGmm: 0 };
          });
          const measured = planes.map(({ unbalance, positionMm }) => ({
            unbalance,
            positionMm: positionMm ?? 0,
            errorGmm: 0,
          }));
          const { planeA, planeB } = moveToPlanes([...measured, ...acting], { planeAMm: 0, planeBMm: 100 });
          const [leftA, leftB] = predicted.map(({ residualGmm, angleDeg }) => ({ gmm: residualGmm, angleDeg }));
          expect(distance(planeA, leftA ?? inA)).toBeLessThan(1e-8);
          expect(distance(planeB, leftB ?? inB)).toBeLessThan(1e-8);
        }
      }),
      { seed: SEED, numRuns: cases },
    );
    expect(plans).toBeGreaterThan(cases / 10);
  });
});
