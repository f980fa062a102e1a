import { expect, test } from 'vitest';
import { faceOf, itemWords } from '../../../dashboard/assembly/face-shape.ts';
import { planeGroups } from '../../../dashboard/assembly/plane-groups.ts';
import { cutsOf, sectionScale } from '../../../dashboard/assembly/section-shape.ts';
import type { AdviceStep } from '../../../shared/advice.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { FEATURES } from '../fixtures/invented-features.ts';

const [RADIAL, SCREWS, FLAT] = FEATURES['A-0108'] as readonly CorrectionFeature[];
const effect = { gmm: 1, angleDeg: 0 };
const drill: AdviceStep = {
  kind: 'radial-holes',
  featureId: 'collar',
  angleDeg: 302,
  diameterMm: 6,
  depthMm: 4.1,
  effect,
  words: 'drill',
};
const screw: AdviceStep = { kind: 'set-screws', featureId: 'flange', angleDeg: 135, massG: 1.1, effect, words: 'set' };
const emptied: AdviceStep = { ...screw, angleDeg: 45, massG: 0 };

test('a hole is drawn where it is drilled: at its surface, as wide and as deep as advised, its point on top', () => {
  const face = faceOf([RADIAL!], [drill]);
  expect(face.outerMm).toBe(31.5);
  expect(face.items[0]).toMatchObject({ angleDeg: 302, step: 1 });
  expect(face.items[0]!.item).toMatchObject({ kind: 'radial-hole', surfaceMm: 31.5, diameterMm: 6, depthMm: 4.1 });
  // A 118° point of a 6 mm drill: 3 mm ÷ tan 59°.
  const { item } = face.items[0]!;
  expect(item.kind === 'radial-hole' ? item.pointMm : undefined).toBeCloseTo(1.803, 3);
  expect(itemWords(face.items[0]!, drill.depthMm)).toBe('1: ⌀6 × 4.1 mm');
});

test('a screw that stays is drawn as staying, one that is taken out as an empty hole, the rest empty', () => {
  const staying = faceOf([SCREWS!], [screw]);
  expect(staying.items.map((item) => itemWords(item, undefined))).toEqual(['1: 1.1 g', 'stays: 0.3 g']);
  expect(staying.emptyHoles).toHaveLength(6);
  const taken = faceOf([SCREWS!], [emptied]);
  expect(taken.items.map((item) => itemWords(item, undefined))).toEqual(['1: empty it']);
  expect(taken.emptyHoles).toHaveLength(7);
});

test('sectors to be kept clear reach to the edge of what they belong to', () => {
  const [slot] = faceOf([RADIAL!, SCREWS!], [drill]).keptClear;
  expect(slot).toMatchObject({ fromDeg: 350, toDeg: 10, outerMm: 31.5, why: 'drive slot' });
});

test('rings alone have no radius: the drawing has a size all the same', () => {
  const face = faceOf(FEATURES['A-0103']!, []);
  expect(face.outerMm).toBeGreaterThan(0);
  expect(face).toMatchObject({ graduationDeg: 2, surfacesMm: [], pitchesMm: [] });
});

test('a step at a place that is no longer declared is left out of the drawing, never an exception', () => {
  expect(faceOf([RADIAL!], [{ ...drill, featureId: 'gone' }]).items).toEqual([]);
  expect(cutsOf([RADIAL!], [{ ...drill, featureId: 'gone' }])).toEqual([]);
});

test('from the side: what takes material away, on one scale that all of it fits on', () => {
  const flat: AdviceStep = { kind: 'flats', featureId: 'rim', angleDeg: 310, depthMm: 0.8, effect, words: 'cut' };
  const cuts = cutsOf([RADIAL!, SCREWS!, FLAT!], [screw, drill, flat]);
  expect(cuts.map(({ number }) => number)).toEqual([2, 3]);
  expect(cuts[1]).toMatchObject({ widthMm: 9, depthMm: 0.8, depthMaxMm: 1.5, pointMm: 0 });
  const pxPerMm = sectionScale(cuts);
  for (const { widthMm, depthMaxMm } of cuts) {
    expect(widthMm * pxPerMm).toBeLessThanOrEqual(90.001);
    expect(depthMaxMm * pxPerMm).toBeLessThanOrEqual(110.001);
  }
});

test('each plane has its own view; the numbers of the steps go through', () => {
  const steps = [
    { ...drill, plane: 'I' },
    { ...screw, plane: 'II' },
    { ...drill, plane: 'I' },
  ];
  const groups = planeGroups(steps, [{ name: 'I' }, { name: 'II' }]);
  expect(groups.map(({ plane, numbers }) => [plane, numbers])).toEqual([
    ['I', [1, 3]],
    ['II', [2]],
  ]);
  expect(planeGroups(steps, [{ name: 'I' }])).toHaveLength(1);
});
