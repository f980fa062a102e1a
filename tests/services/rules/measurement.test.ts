// Results as the rules keep them: raw index readings evaluated, contradictions remarked, and the judgement of each.
import { expect, test } from 'vitest';
import type { EntryOf } from '../../../shared/entries.ts';
import { BalanceResult } from '../../../shared/messages/index.ts';
import type { BuildState } from '../../../services/rules/floor.ts';
import { judge } from '../../../services/rules/judgement.ts';
import { evaluatePlanes, measurementOf } from '../../../services/rules/measurement.ts';

const STAMP = {
  device: 'bench-1',
  measuredAt: 0,
  waited: false,
  time: undefined,
  bootId: undefined,
  sequence: undefined,
};

const BUILD: BuildState = {
  buildId: 'b1',
  position: 1,
  stamp: STAMP,
  declared: true,
  massKg: 2,
  serviceSpeedRpm: 15_000,
  gradeMmS: 2.5,
  interface: undefined,
  reclampingUm: undefined,
  centreOfMassMm: undefined,
  parts: [],
  features: [],
  lowestMarkedRpm: undefined,
  lowestMarkedPart: undefined,
  measuredAfter: 0,
  remarks: [],
};

const resultOf = (data: object): EntryOf<'result'> => ({
  kind: 'result',
  position: 2,
  at: 0,
  id: 'r',
  device: 'bench-1',
  data: BalanceResult.parse({
    assemblyId: 'A-1',
    buildId: 'b1',
    measuredAtRpm: 1100,
    error: { angleErrorDeg: 0 },
    ...data,
  }),
});

/** Index method in the machine's frame: 2.11087∠44.2877° and 7.97146∠206.2530° are assembly 5∠30° and adapter 3∠200° (ISO 21940-14). */
const INDEXED = [
  { indexDeg: 0, planes: [{ amountGmm: 2.11087, angleDeg: 44.2877 }] },
  { indexDeg: 180, planes: [{ amountGmm: 7.97146, angleDeg: 206.253 }] },
];

test('raw index readings give the assembly and the bench apart (ISO 21940-14)', () => {
  const evaluated = evaluatePlanes(resultOf({ readings: INDEXED }).data);
  const [plane] = evaluated?.planes ?? [];
  expect(plane?.residualGmm).toBeCloseTo(5, 3);
  expect(plane?.angleDeg).toBeCloseTo(30, 2);
  expect(plane?.benchGmm).toBeCloseTo(3, 3);
  expect(plane?.benchAngleDeg).toBeCloseTo(200, 2);
});

test('planes that contradict the raw readings are remarked, and the readings are used', () => {
  const entry = resultOf({ readings: INDEXED, planes: [{ name: 'A', residualGmm: 0.2, angleDeg: 30 }] });
  const measurement = measurementOf(entry, STAMP, BUILD);
  expect(measurement?.planes[0]?.residualGmm).toBeCloseTo(5, 3);
  expect(measurement?.remarks).toEqual([
    'plane A: the raw readings give 5 g·mm at 30°, the result says 0.2 g·mm at 30°; the raw readings are used',
  ]);
  const agreeing = resultOf({ readings: INDEXED, planes: [{ name: 'A', residualGmm: 5.05, angleDeg: -330 }] });
  expect(measurementOf(agreeing, STAMP, BUILD)?.remarks).toEqual([
    'angles outside 0° to 360° were brought into it: -330°',
  ]);
});

test('another demand than the build was declared with is remarked; the declaration governs', () => {
  const entry = resultOf({ planes: [{ name: 'A', residualGmm: 1, angleDeg: 0 }], serviceSpeedRpm: 5000 });
  const measurement = measurementOf(entry, STAMP, BUILD);
  expect(measurement?.judgement.serviceSpeedRpm).toBe(15_000);
  expect(measurement?.remarks[0]).toContain('5000 rpm');
});

const judged = (residualGmm: number, build: BuildState = BUILD, error?: EntryOf<'result'>['data']['error']) =>
  judge(
    {
      planes: [
        {
          name: 'A',
          residualGmm,
          angleDeg: 0,
          positionMm: undefined,
          benchGmm: undefined,
          benchAngleDeg: undefined,
          scatterGmm: undefined,
        },
      ],
      error,
      massKg: undefined,
      serviceSpeedRpm: undefined,
      gradeMmS: undefined,
    },
    build,
  );

test('G 2.5, 2 kg, 15,000 rpm permit 3.1831 g·mm (ISO 21940-11)', () => {
  expect(judged(1).permissibleGmm).toBeCloseTo(3.1831, 4);
  expect(judged(3.18).kind).toBe('within');
  expect(judged(3.19).kind).toBe('exceeds');
});

test('ΔU is the root of the sum of squares: 0.3, 0.4 and 0.5 g·mm make 0.70711 (ISO 21940-14)', () => {
  // Scale error 10 % of 4 g·mm is 0.4; reclamping 0.25 µm of 2 kg is 0.5.
  const error = { smallestAchievableGmm: 0.3, scaleErrorPercent: 10, reclampingUm: 0.25 };
  expect(judged(4, BUILD, error).errorGmm).toBeCloseTo(Math.hypot(0.3, 0.4, 0.5), 6);
});

test('the speeds of an answer follow from the grade: within up to 60000/2π·G·m/(U + ΔU)', () => {
  const judgement = judged(1.5, BUILD, { smallestAchievableGmm: 0.5 });
  expect(judgement.shownUpToRpm).toBeCloseTo(((60_000 / (2 * Math.PI)) * 2.5 * 2) / 2, 6);
  expect(judgement.exceedsAboveRpm).toBeCloseTo(((60_000 / (2 * Math.PI)) * 2.5 * 2) / 1, 6);
});

test('2 µm of reclamping at 24,000 rpm is more than G 2.5 permits 1.2 kg: 2.4 against 1.19366 g·mm (ISO 21940-11)', () => {
  const build = { ...BUILD, massKg: 1.2, serviceSpeedRpm: 24_000, reclampingUm: 2 };
  const judgement = judged(0.1, build, { reclampingUm: 0 });
  expect(judgement.permissibleGmm).toBeCloseTo(1.193_66, 4);
  expect(judgement.kind).toBe('cannot-be-shown');
  expect(judgement.errorGmm).toBeCloseTo(2.4, 6);
  expect(judged(5, build).kind).toBe('exceeds');
});

test('without mass, speed or grade nothing is judged', () => {
  expect(judged(1, { ...BUILD, gradeMmS: undefined }).kind).toBe('cannot-judge');
});

test('two planes share by their distances where the geometry is known (ISO 21940-11; bounds from memory)', () => {
  const plane = (name: string, residualGmm: number, positionMm: number) => ({
    name,
    residualGmm,
    angleDeg: 0,
    positionMm,
    benchGmm: undefined,
    benchAngleDeg: undefined,
    scatterGmm: undefined,
  });
  const facts = { error: undefined, massKg: undefined, serviceSpeedRpm: undefined, gradeMmS: undefined };
  const near = judge(
    { planes: [plane('A', 2, 90), plane('B', 0.5, 190)], ...facts },
    { ...BUILD, centreOfMassMm: 120 },
  );
  // Plane A is 30 mm from the centre of mass and takes 0.7 of 3.1831 = 2.2282 g·mm: 2 is within.
  expect(near.kind).toBe('within');
  const half = judge({ planes: [plane('A', 2, 90), plane('B', 0.5, 190)], ...facts }, BUILD);
  expect(half).toMatchObject({ kind: 'exceeds', part: 'plane-a' });
});
