// The ranked list: what stands first and why, in the words of a person at the machine.
import { describe, expect, test } from 'vitest';
import { Advice } from '../../../shared/advice.ts';
import { adviseCorrection } from '../../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { addedMass, axialHoles, flats, question, radialHoles, rings, screws } from './features.ts';

describe('what stands first', () => {
  test('nothing is advised where it is within already', () => {
    const advice = adviseCorrection(question([rings()], { unbalance: { gmm: 1, angleDeg: 0 }, errorGmm: 0.3 }));
    expect(advice).toMatchObject({ needed: false, plans: [], refusals: [] });
  });

  test('undecided is a reason to correct: the measuring error counts', () => {
    const advice = adviseCorrection(question([rings()], { unbalance: { gmm: 1.3, angleDeg: 0 }, errorGmm: 0.3 }));
    expect(advice.needed).toBe(true);
    expect(advice.plans[0]?.whole.verdict).toBe('within');
  });

  test('what can be taken back before what removes, of that the least removed first', () => {
    const { plans } = adviseCorrection(question([radialHoles(), flats({ placesMax: 1 }), rings()]));
    expect(plans.map(({ planId }) => planId)).toEqual(['rings', 'flats', 'radial-holes']);
    expect(plans.map(({ removedG }) => removedG)).toEqual(
      plans.map(({ removedG }) => removedG).toSorted((a, b) => a - b),
    );
    for (const { because } of plans) expect(because).toContain('predicted within');
  });

  test('a hole within comes before rings that are not', () => {
    const { plans, refusals } = adviseCorrection(question([rings({ eachGmm: [1, 1] }), radialHoles()]));
    expect(plans[0]?.steps[0]).toMatchObject({ kind: 'radial-holes', angleDeg: 300 });
    expect(refusals[0]).toMatchObject({
      method: 'balancing rings',
      why: expect.stringContaining('reach 2 g·mm') as string,
    });
  });

  test('a coarse method brings it into the reach of a fine one, with as little as that takes', () => {
    const asked = question([radialHoles(), rings()], { unbalance: { gmm: 30, angleDeg: 300 }, errorGmm: 0.2 });
    const [first] = adviseCorrection(asked).plans;
    expect(first?.planId).toBe('radial-holes+rings');
    expect(first?.steps.map(({ kind }) => kind)).toEqual(['radial-holes', 'rings', 'rings']);
    // Both rings together reach 20 g·mm: the hole takes 10 and one depth step at most.
    expect(first?.steps[0]?.effect.gmm).toBeGreaterThan(10);
    expect(first?.steps[0]?.effect.gmm).toBeLessThan(11);
    expect(first?.notes).toContain(
      'Measure again after the coarse steps: what is left then tells how to set the fine ones.',
    );
    expect(first?.whole.verdict).toBe('within');
  });

  test('two methods are not combined where one that can be taken back is enough', () => {
    const { plans } = adviseCorrection(question([radialHoles(), rings({ eachGmm: [20, 20] }), screws()]));
    expect(plans.every(({ planId }) => !planId.includes('+'))).toBe(true);
  });

  test('the fewest screws that are within, beside the choice that leaves the least', () => {
    const { plans } = adviseCorrection(
      question([screws()], { unbalance: { gmm: 12, angleDeg: 133.4 }, permissibleGmm: 1 }),
    );
    const [few, least] = plans;
    expect(few?.steps.length).toBeLessThan(least?.steps.length ?? 0);
    expect(least?.whole.residualGmm).toBeLessThan(few?.whole.residualGmm ?? 0);
  });

  test('the words are those of a person at the machine', () => {
    const words = (feature: CorrectionFeature): string | undefined =>
      adviseCorrection(question([feature], { unbalance: { gmm: 27.6, angleDeg: 133 } })).plans[0]?.steps[0]?.words;
    expect(words(radialHoles())).toBe(
      'drill Ø6 radially at 133°, 5 mm deep to the shoulder of the point (6.8 mm to its tip), from the surface at radius 25 mm',
    );
    expect(words(axialHoles({ depthMaxMm: 10 }))).toMatch(
      /^drill Ø6 along the axis at 133° on pitch radius 20 mm, 5\.\d mm deep/,
    );
    expect(words(flats())).toMatch(
      /^cut a flat at 133°, 1\.\d+ mm deep from the surface at radius 25 mm, 10 mm along the axis/,
    );
    expect(words(addedMass())).toBe('fix 0.7 g at 313°, its centre of mass at radius 40 mm');
    expect(words(rings({ eachGmm: [20, 20] }))).toMatch(/^set ring 1 with its heavy side at \d+°$/);
    expect(words(screws({ setNow: [{ holeDeg: 135, massG: 1.38 }], stock: [] }))).toBe(
      'take the 1.38 g screw out of the hole at 135°',
    );
  });

  test('the advice is what its schema says', () => {
    const advice = adviseCorrection(question([radialHoles(), flats(), rings(), screws(), addedMass()]));
    expect(Advice.parse(advice)).toEqual(advice);
  });
});
