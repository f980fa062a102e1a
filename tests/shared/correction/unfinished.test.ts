// What a search has not looked at is never told as impossible: a first answer is one in its sentence and its reasons too.
import { describe, expect, test } from 'vitest';
import { adviseCorrection, proveScrews, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import { xyOf } from '../../../shared/correction/direction.ts';
import { isUnfinished } from '../../../shared/correction/unfinished.ts';
import { plane, question, radialHoles, rings, screws } from './features.ts';

const SIXTEEN = Array.from({ length: 16 }, (_, i) => 22.5 * i);
const SIX = [0.51, 0.93, 1.37, 1.71, 2.13, 2.9].map((massG) => ({ massG }));
const many = (gmm: number, permissibleGmm: number): CorrectionQuestion =>
  question([screws({ radiusMm: 25, holesDeg: SIXTEEN, stock: SIX })], {
    unbalance: { gmm, angleDeg: 111.7 },
    permissibleGmm,
  });

describe('screws that were not all looked at', () => {
  test('a first answer that is not enough says so, names no cure, and a proof finds one that is', () => {
    const asked = many(33.3, 0.001);
    const first = adviseCorrection(asked);
    expect(first.sentence).toMatch(
      /^none found so far brings it within; the search is not finished; nearest comes 11 set screws, with/,
    );
    expect(first.refusals[0]?.why).toBe('none found so far brings it within; the search is not finished');
    expect(first.refusals[0]?.wouldNeed).not.toContain('other masses');
    expect(first.plans[0]?.because).toMatch(/^as far as was searched not enough/);
    expect(first.plans[0]).not.toHaveProperty('leastPossibleGmm');
    const proof = proveScrews(asked);
    let step = proof.next();
    while (step.done !== true) step = proof.next();
    expect(step.value.plans[0]?.whole.verdict).toBe('within');
  });

  test('what lies beyond their reach is told as a fact without a search', () => {
    const { sentence, refusals } = adviseCorrection(many(3000, 1));
    expect(sentence).toMatch(/^no method brings it within/);
    expect(refusals[0]?.why).toMatch(/^it takes 3000 g·mm; 2.9 g in every hole on its side gives/);
  });
});

test('all looked at and none of them enough is a fact', () => {
  const asked = question([screws()], { unbalance: { gmm: 12, angleDeg: 301 }, permissibleGmm: 0.0001 });
  const { sentence, refusals } = adviseCorrection(asked);
  expect(sentence).toMatch(/^no method brings it within/);
  expect(refusals[0]?.why).toBe('no choice of the screws at hand brings it within');
});

test('where nothing is demanded nothing is said of being within', () => {
  const light = question([rings({ eachGmm: [0.1, 0.1] })], { permissibleGmm: null }, { wholePermissibleGmm: null });
  expect(adviseCorrection(light).sentence).toBe('nothing was found that takes enough of 12 g·mm away: see why');
});

test('three places and more are never all looked at, unless what is wanted lies beyond their reach', () => {
  const unfinished = (placesMax: number, gmm: number) =>
    isUnfinished(radialHoles({ placesMax }), [], { wanted: xyOf({ gmm, angleDeg: 30 }), errorGmm: 0, limitGmm: 0.1 });
  expect(unfinished(2, 12)).toBe(false);
  expect(unfinished(4, 12)).toBe(true);
  expect(unfinished(4, 1200)).toBe(false);
});

test('one place along the axis leaves a couple, however it is searched: that is a fact', () => {
  const planes = [
    plane({ name: 'A', unbalance: { gmm: 12, angleDeg: 0 }, positionMm: 0 }),
    plane({ name: 'B', unbalance: { gmm: 12, angleDeg: 180 }, positionMm: 100 }),
  ] as const;
  const { sentence, refusals } = adviseCorrection({
    ...question([radialHoles({ positionMm: 20, placesMax: 4 })], {}, { planes }),
    wholePermissibleGmm: 3,
  });
  expect(sentence).toMatch(/^no method brings it within/);
  expect(refusals[0]?.wouldNeed).toBe('a second place along the axis at which it can be corrected');
});
