import { expect, test } from 'vitest';
import {
  buildWords,
  byBuild,
  changeWords,
  historyRows,
  uncheckedCorrection,
} from '../../../dashboard/assembly/history-rows.ts';
import { rawFrame, rawReadings } from '../../../dashboard/assembly/raw-readings.ts';
import { stepWords } from '../../../dashboard/assembly/step-words.ts';
import { inventedAssemblies, inventedAssembly } from '../fixtures/invented-assemblies.ts';
import { FEATURES } from '../fixtures/invented-features.ts';

const row = inventedAssemblies([], 0).find(({ assemblyId }) => assemblyId === 'A-0108')!;
const { measurements, corrections } = inventedAssembly(row, 0);
const [done] = corrections;

test('measurements and corrections stand in one order, newest first', () => {
  expect(historyRows(measurements, corrections).map(({ kind }) => kind)).toEqual([
    'measurement',
    'measurement',
    'correction',
    'measurement',
  ]);
});

test('each build stands by itself, the newest first', () => {
  const [first, ...rest] = measurements;
  const builds = byBuild(historyRows([{ ...first!, buildId: 'B-2' }, ...rest], corrections));
  expect(builds.map(({ buildId, rows }) => [buildId, rows.length])).toEqual([
    ['B-3', 3],
    ['B-2', 1],
  ]);
});

test('a build is labelled by the order of time: what was recorded after the build in force is not called before it', () => {
  const view = inventedAssembly(row, 0);
  const at = (buildId: string, sinceBuilt: number) => ({ ...done!, buildId, at: view.builtAt! + sinceBuilt });
  const builds = byBuild(historyRows(measurements, [at('B-2', -1), at('B-9', 1)]));
  expect(builds.map((build) => [build.buildId, buildWords(build, view, builds)])).toEqual([
    ['B-3', ', in force'],
    ['B-9', ', not in force: recorded since B-3 was built'],
    ['B-2', ', before it'],
  ]);
});

test('a correction of this build that nothing was measured after asks for a measurement', () => {
  const { after: _after, ...unchecked } = done!;
  expect(uncheckedCorrection(corrections, 'B-3')).toBeUndefined();
  expect(uncheckedCorrection([unchecked], 'B-3')).toBe(unchecked);
  expect(uncheckedCorrection([unchecked], 'B-4')).toBeUndefined();
  expect(uncheckedCorrection([unchecked, { ...done!, at: done!.at + 1 }], 'B-3')).toBeUndefined();
});

test('a record that was mistaken asks for nothing and changed nothing: another counts in its place', () => {
  const { after: _after, ...unchecked } = done!;
  const mistaken = { ...unchecked, replacedBy: 4430 };
  expect(uncheckedCorrection([mistaken, { ...done!, at: done!.at - 1 }], 'B-3')).toBeUndefined();
  expect(changeWords(mistaken)).toEqual([]);
});

test('what a correction changed is told beside what it should have changed', () => {
  expect(changeWords(done!)).toEqual(['predicted change 10.9 g·mm at 42°, achieved 9.40 g·mm at 36.5°']);
  const { after: _after, ...unchecked } = done!;
  expect(changeWords(unchecked)[0]).toContain('not measured since');
  expect(changeWords({ planes: [] })).toEqual(['what it should change is not known; not measured since']);
  const [{ predictedGmm: _predicted, ...achieved }] = [done!.planes[0]!];
  expect(changeWords({ planes: [achieved], after: 1 })).toEqual([
    'what it should change is not known, achieved 9.40 g·mm at 36.5°',
  ]);
});

test.each([
  [{ featureId: 'collar', angleDeg: 222, diameterMm: 6, depthMm: 5.2 }, '⌀6 mm, 5.2 mm deep at 222°'],
  [{ featureId: 'rim', angleDeg: 10, depthMm: 0.8 }, 'flat, 0.8 mm deep at 10°'],
  [{ featureId: 'flange', angleDeg: 45, massG: 0 }, 'hole emptied at 45°'],
  [{ featureId: 'flange', angleDeg: 45, massG: 1.1 }, '1.1 g at 45°'],
  [{ featureId: 'flange', plane: 'II', angleDeg: 45, massG: 2 }, '2 g at 45°, plane II'],
  [{ featureId: 'rings', angleDeg: 12.5, ring: 2 }, 'ring 2: heavy side at 12.5°'],
])('%o', (step, words) => {
  const feature = FEATURES['A-0108']!.find(({ featureId }) => featureId === step.featureId);
  expect(stepWords(step, feature)).toBe(words);
});

test('the readings of a message are taken as they came; what is none is left out', () => {
  const planes = [{ amountGmm: 4.3, angleDeg: 302 }];
  const entry = { data: { frame: 'machine', readings: [{ indexDeg: 0, planes }, { indexDeg: 'x' }, null] } };
  expect(rawReadings({ entry })).toEqual([{ indexDeg: 0, planes }]);
  expect(rawFrame({ entry })).toBe('machine');
  for (const told of [undefined, null, 7, { entry: {} }, { entry: { data: { readings: 'none' } } }])
    expect(rawReadings(told)).toEqual([]);
});
