// Two planes: both together, places elsewhere along the axis, and what is left where only one can be corrected.
import { describe, expect, test } from 'vitest';
import { moveToPlanes } from '../../../shared/balance/index.ts';
import { adviseCorrection, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { plane, question, radialHoles, rings, screws } from './features.ts';

describe('two planes', () => {
  const two = (features: readonly CorrectionFeature[], b = {}): CorrectionQuestion => ({
    planes: [
      plane({ unbalance: { gmm: 12, angleDeg: 40 }, errorGmm: 0.2, permissibleGmm: 1.2, positionMm: 20 }),
      plane({
        name: 'B',
        unbalance: { gmm: 18, angleDeg: 210 },
        errorGmm: 0.2,
        permissibleGmm: 1.2,
        positionMm: 120,
        ...b,
      }),
    ],
    wholeErrorGmm: 0.3,
    wholePermissibleGmm: 2.4,
    centreOfMassMm: 70,
    features,
  });

  test('both are corrected together, each in its plane', () => {
    const [first] = adviseCorrection(two([rings({ plane: 'A' }), radialHoles({ plane: 'B' })])).plans;
    expect(first?.predicted.map(({ verdict }) => verdict)).toEqual(['within', 'within']);
    expect(first?.steps.map(({ plane: at }) => at)).toEqual(['A', 'A', 'B']);
    expect(first?.title).toBe('plane A: balancing rings; plane B: 1 radial hole Ø6');
  });

  test('places elsewhere along the axis act on both planes as a lever does', () => {
    const asked = two([
      radialHoles({ featureId: 'near', positionMm: 35 }),
      radialHoles({ featureId: 'far', positionMm: 100 }),
    ]);
    const [first] = adviseCorrection(asked).plans;
    expect(first?.whole.verdict).toBe('within');
    const acting = (first?.steps ?? []).map(({ effect, featureId }) => ({
      unbalance: effect,
      positionMm: featureId === 'near' ? 35 : 100,
      errorGmm: 0,
    }));
    const measured = asked.planes.map(({ unbalance, positionMm }) => ({
      unbalance,
      positionMm: positionMm ?? 0,
      errorGmm: 0,
    }));
    const moved = moveToPlanes([...measured, ...acting], { planeAMm: 20, planeBMm: 120 });
    expect(first?.predicted[0]?.residualGmm).toBeCloseTo(moved.planeA.gmm, 9);
    expect(first?.predicted[1]?.residualGmm).toBeCloseTo(moved.planeB.gmm, 9);
  });

  test('with one place along the axis the static part goes, the couple stays and is told', () => {
    const advice = adviseCorrection(two([radialHoles({ plane: 'B' })]));
    const [first] = advice.plans;
    expect(first?.title).toContain('for the static part');
    expect(first?.whole.verdict).toBe('within');
    expect(first?.notes.join(' ')).toMatch(/a couple of \d+ g·mm² \(12 g·mm in each plane, opposite to each other\)/);
    expect(first?.notes.join(' ')).toContain('both planes keep more than their shares');
    expect(advice.refusals[0]?.wouldNeed).toBe('a second place along the axis at which it can be corrected');
  });

  test('a plane that is within is left alone', () => {
    const asked = two([radialHoles({ featureId: 'near', plane: 'A' }), radialHoles({ featureId: 'far', plane: 'B' })], {
      unbalance: { gmm: 0.6, angleDeg: 250 },
    });
    const { plans, refusals } = adviseCorrection(asked);
    expect(plans.length).toBeGreaterThan(0);
    for (const { steps, whole } of plans) {
      expect(whole.verdict).toBe('within');
      expect(steps.map(({ featureId }) => featureId)).toEqual(['near']);
    }
    expect(plans.map(({ title }) => title).join(' ')).not.toContain('static');
    expect(refusals).toEqual([]);
  });

  test('opposite to each other next to nothing is left of the whole: the sentence tells the planes', () => {
    const opposite = [
      plane({ name: 'A', unbalance: { gmm: 5, angleDeg: 10 }, positionMm: 0 }),
      plane({ name: 'B', unbalance: { gmm: 6, angleDeg: 190 }, positionMm: 100 }),
    ] as const;
    const places = ['A', 'B'].map((name) => radialHoles({ featureId: name, plane: name }));
    const { sentence } = adviseCorrection({
      ...question(places, {}, { planes: opposite }),
      wholePermissibleGmm: 3,
    });
    expect(sentence).toMatch(
      /: 5 g·mm in plane A and 6 g·mm in plane B \(the whole 1 g·mm\) come down to [\d.]+ g·mm ± [\d.]+ g·mm in plane A and .* in plane B \(the whole .*\), predicted within$/,
    );
  });

  test('at the same position they are refused', () => {
    expect(adviseCorrection(two([rings({ plane: 'A' })], { positionMm: 20 }))).toMatchObject({
      plans: [],
      refusals: [{ why: expect.stringContaining('at the same position') as string }],
    });
  });

  test('a place in a plane that was not measured, or nowhere, says what it lacks', () => {
    const { refusals } = adviseCorrection(two([rings({ plane: 'C' }), screws(), radialHoles({ plane: 'A' })]));
    expect(refusals[0]?.why).toContain('plane C, which was not measured');
    expect(refusals[1]?.why).toContain('is not declared');
  });
});
