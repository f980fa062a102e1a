// What a step does in each plane, and what it leaves behind for the next: against levers and cuts drawn by hand.
import { expect, test } from 'vitest';
import { adviseCorrection, effectsInPlanes, keptClearBy } from '../../../shared/correction/index.ts';
import { addedMass, flats, question, radialHoles, rings } from './features.ts';

const PLANES = [
  { name: 'A', positionMm: 20 },
  { name: 'B', positionMm: 120 },
];
const step = { featureId: 'flange', angleDeg: 30, massG: 1 };

test('by the name of its plane all of it counts there', () => {
  expect(effectsInPlanes(PLANES, addedMass({ plane: 'B' }), step)).toEqual([
    { gmm: 0, angleDeg: 0 },
    { gmm: 40, angleDeg: expect.closeTo(30, 9) as number },
  ]);
});

test('a quarter of the way along three quarters count in the nearer plane; beyond both it turns round in the other (mechanics)', () => {
  expect(effectsInPlanes(PLANES, addedMass({ positionMm: 45 }), step)).toMatchObject([{ gmm: 30 }, { gmm: 10 }]);
  const [inA, inB] = [effectsInPlanes(PLANES, addedMass({ positionMm: 170 }), step)].flat();
  expect(inA).toEqual({ gmm: expect.closeTo(20, 9) as number, angleDeg: expect.closeTo(210, 9) as number });
  expect(inB).toEqual({ gmm: expect.closeTo(60, 9) as number, angleDeg: expect.closeTo(30, 9) as number });
});

test('what cannot be placed or reckoned says why', () => {
  expect(effectsInPlanes(PLANES, addedMass(), step)).toHaveProperty('reason');
  expect(effectsInPlanes(PLANES, addedMass({ plane: 'A' }), { ...step, massG: undefined })).toHaveProperty('reason');
});

test('a hole keeps its own width clear at its shoulder, a flat its chord; what is displaced keeps nothing', () => {
  // 3 mm aside at 25 − 5 = 20 mm from the axis.
  const half = (Math.atan2(3, 20) * 180) / Math.PI;
  const hole = keptClearBy(radialHoles(), { featureId: 'rim', angleDeg: 100, diameterMm: 6, depthMm: 5 });
  expect(hole?.fromDeg).toBeCloseTo(100 - half, 9);
  expect(hole?.toDeg).toBeCloseTo(100 + half, 9);
  // A flat 1 mm deep on radius 25 mm is 14 mm across: 7 aside at 24.
  const flat = keptClearBy(flats(), { featureId: 'collar', angleDeg: 0, depthMm: 1 });
  expect(flat?.toDeg).toBeCloseTo((Math.atan2(7, 24) * 180) / Math.PI, 9);
  expect(keptClearBy(rings(), { featureId: 'rings', ring: 1, angleDeg: 0 })).toBeNull();
  expect(keptClearBy(addedMass(), step)).toBeNull();
});

test('the next advice drills beside what was drilled, with the whole wall between', () => {
  const drilled = { featureId: 'rim', angleDeg: 300, diameterMm: 6, depthMm: 5 };
  const sector = keptClearBy(radialHoles(), drilled);
  const feature = radialHoles({ keepClear: sector === null ? [] : [sector] });
  const [first] = adviseCorrection(question([feature])).plans;
  expect(first?.steps.length).toBeGreaterThan(0);
  for (const { angleDeg, depthMm = 0 } of first?.steps ?? []) {
    const own = (Math.atan2(3, 25 - depthMm) * 180) / Math.PI;
    expect(Math.abs(angleDeg - 300)).toBeGreaterThan(own + (Math.atan2(3, 20) * 180) / Math.PI);
  }
});

test('where one hole does not bring it into the reach of the rings several do', () => {
  const feature = radialHoles({ depthMaxMm: 5, diametersMm: [4, 5] });
  const advice = adviseCorrection(
    question([feature, rings()], { unbalance: { gmm: 60, angleDeg: 133 }, errorGmm: 0.3 }),
  );
  const [first] = advice.plans;
  expect(first?.whole.verdict).toBe('within');
  expect(first?.steps.filter(({ kind }) => kind === 'radial-holes').length).toBeGreaterThan(1);
  expect(first?.steps.at(-1)?.kind).toBe('rings');
  expect(first?.search).toBe('first-answer');
});

test('no room between what is kept clear for the smallest cut', () => {
  const keepClear = [{ fromDeg: 10, toDeg: 350, why: 'thin wall' }];
  const { refusals } = adviseCorrection(question([radialHoles({ keepClear, wallMm: 3 })]));
  expect(refusals[0]?.why).toContain('no room for the smallest cut');
});
