// Advice goes by the verdict's rule of acceptance: what is needed and what is predicted is what judging it would say.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { AdvicePlan } from '../../../shared/advice.ts';
import {
  allocateToPlanes,
  judgeResult,
  permissibleResidualGmm,
  type MeasuredResult,
  type UnbalanceVector,
} from '../../../shared/balance/index.ts';
import { adviseCorrection, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import { addedMass, plane, radialHoles, rings, someUnbalance } from './features.ts';
import { SEED, told } from './seed.ts';

const CASES = 400;
const DEMAND = { massKg: 2, serviceSpeedRpm: 9000, gradeMmS: 2.5 };
const LIMIT_GMM = permissibleResidualGmm(DEMAND);
const GEOMETRY = { planeAMm: 20, planeBMm: 120, centreOfMassMm: 60 };
const PLANES = ['A', 'B'] as const;
const POSITIONS_MM = [GEOMETRY.planeAMm, GEOMETRY.planeBMm];

const inPlanes = PLANES.flatMap((name) => [
  radialHoles({ featureId: `rim-${name}`, plane: name, angleStepDeg: 5, placesMax: 2 }),
  rings({ featureId: `rings-${name}`, plane: name, eachGmm: [3, 3], graduationDeg: 5 }),
]);
const inOne = [radialHoles({ angleStepDeg: 5, placesMax: 2 }), addedMass({ massStepG: 0.1, angleStepDeg: 30 })];

const verdictOf = (result: MeasuredResult) =>
  judgeResult({ result, demand: DEMAND, geometry: GEOMETRY, reclampingUm: null });

/** The planes as predicted, as if a bench had read them. */
function predictedResult({ predicted, whole }: AdvicePlan): MeasuredResult {
  const [a, b] = predicted.map(({ residualGmm, angleDeg, errorGmm }) => ({
    unbalance: { gmm: residualGmm, angleDeg },
    errorGmm,
  }));
  if (a === undefined) throw new Error('a plan predicts each plane');
  if (b === undefined) return { kind: 'one-plane', plane: a };
  return { kind: 'two-planes', planeA: a, planeB: b, staticErrorGmm: whole.errorGmm };
}

function planVerdict({ predicted, whole }: AdvicePlan): string {
  const verdicts = [...predicted, whole].map(({ verdict }) => verdict);
  return (['exceeds', 'undecided', 'within'] as const).find((verdict) => verdicts.includes(verdict)) ?? 'none';
}

function expectAgreement(question: CorrectionQuestion, result: MeasuredResult): void {
  const { needed, plans, sentence } = adviseCorrection({ ...question, searchStepsMax: 20_000 });
  expect(needed).toBe(verdictOf(result).kind !== 'within');
  for (const plan of plans) expect(planVerdict(plan)).toBe(verdictOf(predictedResult(plan)).kind);
  const [best] = plans;
  expect(sentence.endsWith('predicted within')).toBe(best !== undefined && planVerdict(best) === 'within');
}

const someError = fc.double({ min: 0, max: 3, noNaN: true });

test('two planes: each by its share and the whole', () => {
  told('advice against the verdict', CASES);
  const { planeAGmm, planeBGmm } = allocateToPlanes(LIMIT_GMM, GEOMETRY);
  fc.assert(
    fc.property(
      fc.tuple(someUnbalance, someUnbalance),
      fc.tuple(someError, someError, someError),
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      (measured, [errorA, errorB, staticErrorGmm], scale) => {
        const [a, b] = measured.map(({ gmm, angleDeg }, i) => ({
          unbalance: { gmm: gmm * scale, angleDeg },
          errorGmm: i === 0 ? errorA : errorB,
        }));
        if (a === undefined || b === undefined) return;
        const planes = [
          plane({ name: 'A', ...a, permissibleGmm: planeAGmm, positionMm: POSITIONS_MM[0] ?? null }),
          plane({ name: 'B', ...b, permissibleGmm: planeBGmm, positionMm: POSITIONS_MM[1] ?? null }),
        ] as const;
        expectAgreement(
          {
            planes,
            wholeErrorGmm: staticErrorGmm,
            wholePermissibleGmm: LIMIT_GMM,
            centreOfMassMm: GEOMETRY.centreOfMassMm,
            features: inPlanes,
          },
          { kind: 'two-planes', planeA: a, planeB: b, staticErrorGmm },
        );
      },
    ),
    { seed: SEED, numRuns: CASES },
  );
});

test('one plane, on the limit to the last bit too', () => {
  const onLimit = (unbalance: UnbalanceVector, errorGmm: number): UnbalanceVector => ({
    ...unbalance,
    gmm: LIMIT_GMM - errorGmm,
  });
  fc.assert(
    fc.property(someUnbalance, fc.oneof(someError, fc.constant(0)), fc.boolean(), (free, errorGmm, limiting) => {
      const unbalance = limiting ? onLimit(free, errorGmm) : free;
      const planes = [plane({ unbalance, errorGmm, permissibleGmm: LIMIT_GMM })] as const;
      expectAgreement(
        {
          planes,
          wholeErrorGmm: errorGmm,
          wholePermissibleGmm: LIMIT_GMM,
          centreOfMassMm: null,
          features: inOne,
        },
        { kind: 'one-plane', plane: { unbalance, errorGmm } },
      );
    }),
    { seed: SEED, numRuns: CASES },
  );
});
