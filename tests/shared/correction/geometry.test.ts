// What cuts, screws, rings and masses do to an unbalance, against geometry worked out by hand.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  adviseCorrection,
  axialHole,
  chordMm,
  effectOfStep,
  flatCut,
  pointHeightMm,
  radialHole,
  ringAngles,
} from '../../../shared/correction/index.ts';
import { addedMass, axialHoles, flats, question, radialHoles, rings, screws } from './features.ts';

describe('by geometry', () => {
  test('G1: a hole Ø6, 5 mm deep from radius 25 mm, 118°, 7.85 g/cm³ takes 1.243131 g and 27.57693 g·mm', () => {
    const hole = radialHole({ diameterMm: 6, depthMm: 5, pointAngleDeg: 118 }, 25, 7.85);
    expect(hole.massG).toBeCloseTo(1.243131, 6);
    expect(hole.gmm).toBeCloseTo(27.57693, 4);
    // The same by thin slices down to the tip: nothing but areas and their radii.
    const pointMm = pointHeightMm(6, 118);
    let gmm = 0;
    const slices = 200_000;
    for (let i = 0; i < slices; i += 1) {
      const depth = ((i + 0.5) / slices) * (5 + pointMm);
      const radius = depth <= 5 ? 3 : 3 * (1 - (depth - 5) / pointMm);
      gmm += 7.85e-3 * Math.PI * radius ** 2 * ((5 + pointMm) / slices) * (25 - depth);
    }
    expect(hole.gmm).toBeCloseTo(gmm, 5);
  });

  test('the point of a drill is 0.30043, 0.23315, 0.20711 and 0.18199 of its diameter high at 118°, 130°, 135° and 140°', () => {
    for (const [angle, share] of [
      [118, 0.30043],
      [130, 0.23315],
      [135, 0.20711],
      [140, 0.18199],
    ] as const) {
      expect(pointHeightMm(1, angle)).toBeCloseTo(share, 5);
    }
  });

  test('the same hole along the axis on radius 20 mm: 24.863 g·mm', () => {
    expect(axialHole({ diameterMm: 6, depthMm: 5, pointAngleDeg: 118 }, 20, 7.85).gmm).toBeCloseTo(24.863, 3);
  });

  test('G2: a flat 1 mm deep, 10 mm wide on radius 25 mm: 14 mm across, 0.735648 g, 17.95033 g·mm', () => {
    const shape = { radiusMm: 25, depthMm: 1, widthMm: 10 };
    expect(chordMm(shape)).toBe(14);
    expect(flatCut(shape, 7.85).massG).toBeCloseTo(0.735648, 6);
    expect(flatCut(shape, 7.85).gmm).toBeCloseTo(17.95033, 5);
  });

  test('G3: rings of 10 g·mm each that give 12 g·mm at 120° stand at 66.87° and 173.13°', () => {
    const [first, second] = ringAngles([10, 10], { gmm: 12, angleDeg: 120 }) ?? [];
    expect(first).toBeCloseTo(66.8699, 4);
    expect(second).toBeCloseTo(173.1301, 4);
  });

  test('unequal rings reach from their difference to their sum, and nothing else', () => {
    expect(ringAngles([7, 4], { gmm: 11.01, angleDeg: 0 })).toBeNull();
    expect(ringAngles([7, 4], { gmm: 2.99, angleDeg: 0 })).toBeNull();
    expect(ringAngles([0.1, 0.1], { gmm: 1.5e-323, angleDeg: 0 })).toEqual([270, 90]);
    const sizes = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        sizes,
        sizes,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        (u1, u2, share, deg) => {
          const gmm = Math.abs(u1 - u2) + share * (u1 + u2 - Math.abs(u1 - u2));
          const angles = ringAngles([u1, u2], { gmm: Math.min(gmm, u1 + u2), angleDeg: deg }) ?? [0, 0];
          const sum = [u1, u2].map((u, i) => [
            u * Math.cos((angles[i] ?? 0) * (Math.PI / 180)),
            u * Math.sin((angles[i] ?? 0) * (Math.PI / 180)),
          ]);
          const x = (sum[0]?.[0] ?? 0) + (sum[1]?.[0] ?? 0) - gmm * Math.cos((deg * Math.PI) / 180);
          const y = (sum[0]?.[1] ?? 0) + (sum[1]?.[1] ?? 0) - gmm * Math.sin((deg * Math.PI) / 180);
          expect(Math.hypot(x, y)).toBeLessThan(1e-5 * (u1 + u2));
        },
      ),
    );
  });
});

describe('the sine rule comes out of the search for two places', () => {
  // Radius 1 mm: grams are g·mm. The heavy spot lies opposite to what is to be added.
  const split = (gmm: number, toward: number, atDeg: number[]) => {
    const feature = addedMass({ radiusMm: 1, massMaxG: 100, massStepG: 0.005, angleStepDeg: 0.05, atDeg });
    const { plans } = adviseCorrection(
      question([feature], { unbalance: { gmm, angleDeg: toward + 180 }, permissibleGmm: 0.2 }),
    );
    return plans[0]?.steps.map(({ massG = 0 }) => massG) ?? [];
  };

  test('G4: 83.5 at 308.87° on 292.5° and 315° is 23.3000 and 61.4962 (common practice, no source)', () => {
    const [first = 0, second = 0] = split(83.5, 308.87, [292.5, 315]);
    expect(first).toBeCloseTo(23.29999, 2);
    expect(second).toBeCloseTo(61.49617, 2);
  });

  test('G5: 10 at 50° on 30° and 90° is 7.42227 and 3.94931 (sine rule)', () => {
    const [first = 0, second = 0] = split(10, 50, [30, 90]);
    expect(first).toBeCloseTo(7.42227, 2);
    expect(second).toBeCloseTo(3.94931, 2);
  });

  test('of eight angles the two neighbours are taken', () => {
    const feature = addedMass({ atDeg: [0, 45, 90, 135, 180, 225, 270, 315], massStepG: 0.001 });
    const { plans } = adviseCorrection(question([feature], { unbalance: { gmm: 20, angleDeg: 245 } }));
    expect(plans[0]?.steps.map(({ angleDeg }) => angleDeg)).toEqual([45, 90]);
  });
});

describe('the effect of a step', () => {
  test('what is removed at an angle acts opposite, what is added acts there', () => {
    const at = { featureId: 'x', angleDeg: 133 };
    expect(effectOfStep(radialHoles(), { ...at, diameterMm: 6, depthMm: 5 })).toMatchObject({ angleDeg: 313 });
    expect(effectOfStep(axialHoles(), { ...at, diameterMm: 6, depthMm: 5 })).toMatchObject({ angleDeg: 313 });
    expect(effectOfStep(flats(), { ...at, depthMm: 1 })).toMatchObject({ angleDeg: 313 });
    expect(effectOfStep(addedMass(), { ...at, massG: 0.3 })).toEqual({ gmm: 12, angleDeg: 133 });
  });

  test('an angle outside of 0 to 360 is the same turned back', () => {
    expect(effectOfStep(addedMass(), { featureId: 'x', angleDeg: -90, massG: 1 })).toEqual({ gmm: 40, angleDeg: 270 });
    expect(effectOfStep(addedMass(), { featureId: 'x', angleDeg: 730, massG: 1 })).toEqual({ gmm: 40, angleDeg: 10 });
  });

  test('a screw counts against what was in its hole, a ring against where it stood', () => {
    const feature = screws({ setNow: [{ holeDeg: 360, massG: 0.5 }] });
    expect(effectOfStep(feature, { featureId: 'x', angleDeg: 0, massG: 0 })).toEqual({ gmm: 10, angleDeg: 180 });
    expect(effectOfStep(feature, { featureId: 'x', angleDeg: 0, massG: 0.8 })).toMatchObject({ angleDeg: 0 });
    const moved = effectOfStep(rings({ standAtDeg: [0, 180] }), { featureId: 'x', ring: 1, angleDeg: 90 });
    expect('gmm' in moved ? moved.gmm : 0).toBeCloseTo(10 * Math.SQRT2, 12);
    expect('gmm' in moved ? moved.angleDeg : 0).toBeCloseTo(135, 12);
  });

  test('a step that says too little has no effect but a reason', () => {
    const at = { featureId: 'x', angleDeg: 0 };
    expect(effectOfStep(radialHoles(), { ...at, depthMm: 5 })).toHaveProperty('reason');
    expect(effectOfStep(radialHoles(), { ...at, depthMm: 40, diameterMm: 6 })).toHaveProperty('reason');
    expect(effectOfStep(flats(), at)).toHaveProperty('reason');
    expect(effectOfStep(screws(), at)).toHaveProperty('reason');
    expect(effectOfStep(addedMass(), at)).toHaveProperty('reason');
    expect(effectOfStep(rings(), at)).toHaveProperty('reason');
    expect(effectOfStep(rings({ eachGmm: [10, 8] }), { ...at, ring: 1 })).toHaveProperty('reason');
  });
});
