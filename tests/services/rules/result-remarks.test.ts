// What a result says that does not agree with its build, with itself, or with what is made of it here. 1.2 kg at
// 18,000 rpm and G 2.5 may keep 1.592 g·mm; 1 g·mm reaches G 1.571 there (ISO 21940-11).
import { expect, test } from 'vitest';
import { BalanceResult, Build } from '../../../shared/messages/index.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import type { Entry } from '../../../shared/entries.ts';

const BUILD = {
  assemblyId: 'A-1',
  buildId: 'b1',
  massKg: 1.2,
  serviceSpeedRpm: 18_000,
  gradeMmS: 2.5,
  parts: [
    { role: 'holder', name: 'H', massKg: 0.8 },
    { role: 'cutter', name: 'C', massKg: 0.4 },
  ],
};

function remarksOn(floor: Floor, kind: 'build' | 'result', data: unknown): readonly string[] {
  const position = floor.position + 1;
  const entry = { kind, device: 'bench-1', id: `m-${position}`, at: position * 60_000, position, data } as Entry;
  const outcomes = decide(floor, entry);
  evolve(floor, entry, outcomes);
  return outcomes.flatMap((outcome) => (outcome.kind === 'remarked' ? [outcome.remark] : []));
}

function remarks(result: object, build: object = {}): readonly string[] {
  const floor = emptyFloor('test');
  remarksOn(floor, 'build', Build.parse({ ...BUILD, ...build }));
  const given = { assemblyId: 'A-1', buildId: 'b1', measuredAtRpm: 1100, planes: [PLANE], error: ERROR, ...result };
  return remarksOn(floor, 'result', BalanceResult.parse(given));
}

const ERROR = { smallestAchievableGmm: 0.01 };
const PLANE = { name: 'A', residualGmm: 1, angleDeg: 30 };
const BARE = { assemblyId: 'A-1', buildId: 'b1', measuredAtRpm: 1100, planes: [PLANE] };

test.each<[string, object, readonly string[]]>([
  ['nothing to say', { claims: { permissibleGmm: 1.6, gradeReachedMmS: 1.57, verdict: 'within' } }, []],
  [
    'a permissible residual by another formula, mass or speed',
    { claims: { permissibleGmm: 2.4 } },
    ['the bench says 2.4 g·mm are permissible; by ISO 21940-11 it is 1.59 g·mm'],
  ],
  [
    'a grade that its own residual does not reach',
    { claims: { gradeReachedMmS: 1 } },
    ['the bench says it reaches G 1; 1 g·mm reach G 1.57'],
  ],
  [
    'within, where the error leaves it undecided',
    { error: { smallestAchievableGmm: 0.8 }, claims: { verdict: 'within' } },
    ['the bench says within; with the measuring error counted it is undecided'],
  ],
  ['another mass', { massKg: 2.4 }, ["the result says 2.4 kg, the build 1.2 kg; the build's is used"]],
  [
    'another speed and grade',
    { serviceSpeedRpm: 12_000, gradeMmS: 6.3 },
    [
      "the result says 12000 rpm, the build 18000 rpm; the build's is used",
      "the result says G 6.3, the build G 2.5; the build's is used",
    ],
  ],
  [
    'an angle outside the circle',
    { planes: [{ ...PLANE, angleDeg: -330 }] },
    ['angles outside 0° to 360° were brought into it: -330°'],
  ],
  [
    'two planes at one place',
    {
      planes: [
        { ...PLANE, residualGmm: 0.3, positionMm: 60 },
        { ...PLANE, name: 'B', residualGmm: 0.3, positionMm: 60 },
      ],
    },
    ['planes A and B are both said to lie at 60 mm; they share half each of what is permissible'],
  ],
  [
    'measured faster than it is to run',
    { measuredAtRpm: 24_000 },
    ["it was measured at 24,000 rpm, above its service speed of 18,000 rpm: is that the bench's speed?"],
  ],
  [
    'measured at a speed that is not said',
    { measuredAtRpm: undefined },
    ['the result does not say at which speed the bench measured'],
  ],
])('%s', (_, result, said) => {
  expect(remarks(result)).toEqual(said);
});

test('two planes at one place share half each', () => {
  const floor = emptyFloor('test');
  remarksOn(floor, 'build', Build.parse({ ...BUILD, centreOfMassMm: 40 }));
  const planes = ['A', 'B'].map((name) => ({ name, residualGmm: 0.3, angleDeg: 0, positionMm: 60 }));
  const data = BalanceResult.parse({ assemblyId: 'A-1', buildId: 'b1', measuredAtRpm: 1100, planes });
  remarksOn(floor, 'result', data);
  const judged = floor.assemblies.get('A-1')?.measurements[0]?.judgement.planes ?? [];
  for (const plane of judged) expect(plane.permissibleGmm).toBeCloseTo(1.5915 / 2, 3);
  expect(judged).toHaveLength(2);
});

test('a build that nobody declared and a result without its mass: it is not judged, and said why', () => {
  const floor = emptyFloor('test');
  const data = { ...BARE, error: ERROR, gradeMmS: 2.5 };
  expect(remarksOn(floor, 'result', BalanceResult.parse(data))).toEqual([
    'it cannot be judged: neither the build nor the result says its mass, service speed',
    'build b1 has not been declared',
  ]);
});

test('grams as kilograms in a result whose build nobody declared', () => {
  const data = { assemblyId: 'A-1', buildId: 'b1', measuredAtRpm: 1100, planes: [PLANE], massKg: 2640 };
  expect(remarksOn(emptyFloor('test'), 'result', BalanceResult.parse(data))[0]).toBe(
    '2640 kg is more than is usual (300 kg): grams given as kilograms?',
  );
});

test.each<[number, readonly string[]]>([
  [1.2, []],
  [1200, ['1200 kg for an assembly whose parts weigh 1.2 kg: grams given as kilograms?']],
  [0.0012, ['0.0012 kg for an assembly whose parts weigh 1.2 kg: are the parts in grams, or the assembly in tonnes?']],
  [1, ['1 kg is less than its parts weigh together, 1.2 kg']],
])('a mass of %d kg for parts of 1.2 kg', (massKg, said) => {
  expect(remarksOn(emptyFloor('test'), 'build', Build.parse({ ...BUILD, massKg }))).toEqual(said);
});

const hole = { kind: 'radial-holes', featureId: 'collar', densityGCm3: 7.85, diametersMm: [4], radiusMm: 25 };
const screws = { kind: 'set-screws', featureId: 'screws', radiusMm: 20, stock: [] };

test.each<[string, object, readonly string[]]>([
  [
    'holes to the axis',
    { ...hole, depthMaxMm: 25 },
    ['collar: holes up to 25 mm deep from a radius of 25 mm would reach the axis: is the depth limit meant?'],
  ],
  ['holes that stay off it', { ...hole, depthMaxMm: 8 }, []],
  ['a hole told twice', { ...screws, holesDeg: [0, 120, 360] }, ['screws: told twice as a hole: 360°']],
  ['holes apart', { ...screws, holesDeg: [0, 120, 240] }, []],
])('a build with %s', (_, feature, said) => {
  const floor = emptyFloor('test');
  expect(remarksOn(floor, 'build', Build.parse({ ...BUILD, features: [feature] }))).toEqual(said);
  expect(floor.assemblies.get('A-1')?.builds[0]?.remarks).toEqual(said);
});

test.each<[string, object, object, string]>([
  ['nothing', {}, {}, 'none is counted'],
  ['an empty one', { error: {} }, {}, 'none is counted'],
  ['nothing, through a known interface', {}, { interface: 'HSK-A63' }, 'only reclamping is counted'],
  [
    'nothing, from index readings that scatter',
    {
      readings: [0, 120, 240].map((indexDeg, nth) => ({
        indexDeg,
        planes: [{ amountGmm: 1 + nth / 10, angleDeg: 0 }],
      })),
    },
    { interface: 'HSK-A63' },
    'only scatter of the index readings and reclamping are counted',
  ],
])('a bench that tells %s of its own error', (_, result, build, counted) => {
  const floor = emptyFloor('test');
  remarksOn(floor, 'build', Build.parse({ ...BUILD, ...build }));
  const said = remarksOn(floor, 'result', BalanceResult.parse({ ...BARE, ...result }));
  expect(said.at(-1)).toBe(`the bench told no measuring error: ${counted}`);
});
