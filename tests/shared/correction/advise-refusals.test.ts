// What cannot be corrected is answered in words that say what would help; limits of the holder's maker hold.
import { describe, expect, test } from 'vitest';
import { CORRECTION_WEAKENS } from '../../../shared/cautions.ts';
import { adviseCorrection, effectOfStep } from '../../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { flats, question, radialHoles, rings, screws } from './features.ts';

describe('bad and hopeless questions are answered in words', () => {
  const refused = (features: readonly CorrectionFeature[], gmm = 12, own = {}) =>
    adviseCorrection(question(features, { unbalance: { gmm, angleDeg: 300 }, ...own })).refusals[0];

  test('no places declared', () => {
    expect(refused([])).toMatchObject({ why: 'no place is declared at which it can be corrected' });
  });

  test('no screws in stock; with one that is set there is something to take out', () => {
    expect(refused([screws({ stock: [] })])?.why).toContain('no screw is in stock');
    expect(refused([screws({ stock: [{ massG: 0.5, count: 0 }] })])?.why).toContain('no screw is in stock');
    const set = screws({ stock: [], setNow: [{ holeDeg: 315, massG: 0.6 }] });
    expect(adviseCorrection(question([set], { permissibleGmm: 5 })).plans[0]?.steps).toMatchObject([{ massG: 0 }]);
  });

  test('every angle kept clear, with the reason', () => {
    const keepClear = [{ fromDeg: 0, toDeg: 360, why: 'thin wall' }];
    for (const feature of [
      radialHoles({ keepClear }),
      flats({ keepClear }),
      rings({ keepClear }),
      screws({ keepClear }),
    ]) {
      expect(refused([feature])?.why).toBe('every angle is kept clear (thin wall)');
    }
  });

  test('too deep: how deep it would have to be, or which drill would do', () => {
    const refusal = refused([radialHoles({ diametersMm: [4, 8], depthMaxMm: 3.5, placesMax: 1 })], 40);
    expect(refusal?.why).toMatch(
      /^it takes 40 g·mm at 300°; one place reaches [\d.]+ g·mm within the depth limit of 3\.5 mm, and one is permitted$/,
    );
    expect(refusal?.wouldNeed).toMatch(/one place Ø8 [\d.]+ mm deep, or more places, if the holder's maker permits it/);
    // The depth it names does what it says.
    const depthMm = Number(/Ø8 ([\d.]+) mm/.exec(refusal?.wouldNeed ?? '')?.[1]);
    const effect = effectOfStep(radialHoles(), { featureId: 'rim', angleDeg: 300, diameterMm: 8, depthMm });
    expect('gmm' in effect ? effect.gmm : 0).toBeGreaterThanOrEqual(40);
  });

  test("a limit that is less than the drill's point", () => {
    expect(refused([radialHoles({ depthMaxMm: 1.5 })])?.why).toBe(
      'the point of Ø6 alone is 1.8 mm high; the depth limit is 1.5 mm',
    );
  });

  test('the heavy spot in what is kept clear and too little reach beside it', () => {
    const keepClear = [{ fromDeg: 250, toDeg: 350, why: 'drive slot' }];
    expect(refused([radialHoles({ keepClear, depthMaxMm: 3, placesMax: 2 })], 30)?.why).toBe(
      'the place for it at 300° is kept clear (drive slot)',
    );
  });

  test('rings beyond their sum and below their difference', () => {
    expect(refused([rings()], 25)?.wouldNeed).toContain('rings of 12.5 g·mm each');
    const unequal = rings({ eachGmm: [30, 10], standAtDeg: [300, 120] });
    expect(refused([unequal], 15)?.why).toContain('the rings differ by 20 g·mm');
    expect(refused([rings({ eachGmm: [30, 10] })])?.why).toContain('where they stood');
  });

  test('a measuring error that alone is more than is permitted', () => {
    expect(refused([rings()], 12, { errorGmm: 2 })).toMatchObject({
      why: expect.stringContaining('measuring error') as string,
    });
  });

  test('nothing demanded: plans, but no verdict', () => {
    const advice = adviseCorrection(question([radialHoles()], { permissibleGmm: null }));
    expect(advice.plans[0]?.whole.verdict).toBe('cannot-judge');
    expect(advice.refusals.at(-1)).toMatchObject({ wouldNeed: 'mass, service speed and grade' });
  });

  test('numbers that cannot be are refused', () => {
    expect(() => adviseCorrection(question([rings()], { unbalance: { gmm: -1, angleDeg: 0 } }))).toThrow(RangeError);
    expect(() => adviseCorrection(question([rings()], { errorGmm: Number.NaN }))).toThrow(RangeError);
  });

  test('limits without a source are said to have none, before anything is removed', () => {
    const { source: _left, ...unsourced } = radialHoles();
    const advice = adviseCorrection(question([unsourced]));
    expect(advice.plans[0]?.notes.join(' ')).toContain("ask the holder's maker before anything is removed");
    expect(advice.limitsOf).toEqual([{ featureId: 'rim' }]);
    expect(advice.cautions).toContain(CORRECTION_WEAKENS);
    expect(adviseCorrection(question([rings()])).cautions).not.toContain(CORRECTION_WEAKENS);
  });

  test('no hole reaches into what is kept clear, nor deeper than the limit with its point', () => {
    const keepClear = [{ fromDeg: 290, toDeg: 310, why: 'coolant bore' }];
    const { plans } = adviseCorrection(question([radialHoles({ keepClear, wallMm: 2 })]));
    for (const { steps } of plans) {
      for (const { angleDeg, depthMm = 0 } of steps) {
        // Half the drill and the wall, at the depth of the shoulder.
        const neededDeg = (Math.asin(2 / Math.hypot(25 - depthMm, 3)) + Math.atan2(3, 25 - depthMm)) * (180 / Math.PI);
        expect(Math.abs(angleDeg - 300)).toBeGreaterThanOrEqual(10 + neededDeg - 1e-9);
        expect(depthMm + 3 / Math.tan((59 * Math.PI) / 180)).toBeLessThanOrEqual(8 + 1e-9);
      }
    }
    expect(plans.length).toBeGreaterThan(0);
  });
});
